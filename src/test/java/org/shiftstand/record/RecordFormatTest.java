package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource.Break;
import org.shiftstand.capture.SampleSource.Gap;

/** The format on disk against its page and against the files that were written in the past. */
class RecordFormatTest {
    private static final Path V1 = Path.of("src/test/resources/record/v1.run");

    @TempDir
    Path folder;

    @Test
    void the_page_states_every_table_as_it_is_made() throws IOException {
        String page = Files.readString(Path.of("rig/RECORD.md"));

        for (String statement : RecordSchema.statements(RecordSchema.VERSION).values()) {
            assertThat(page).contains(statement.indent(4));
        }
        assertThat(page).contains("| " + RecordSchema.APPLICATION_ID + " = 0x53685374");
    }

    @Test
    void the_order_of_the_digest_is_that_of_the_page() throws IOException {
        String order = String.join(
                " ",
                RecordSchema.tables(2).stream().map(RecordSchema.Table::name).toList());

        assertThat(Files.readString(Path.of("rig/RECORD.md")))
                .contains("tables = \"" + order + "\".split()")
                .contains("tables.remove(\"session\")");
        assertThat(RecordSchema.tables(1))
                .extracting(RecordSchema.Table::name)
                .containsExactly(
                        "run",
                        "identity",
                        "text",
                        "calibration",
                        "block",
                        "event",
                        "gap",
                        "anchor",
                        "place",
                        "counter",
                        "finish");
    }

    @Test
    void a_record_of_version_1_opens() {
        try (RunRecord record = RunRecord.open(V1)) {
            assertThat(record.header()).isEqualTo(Runs.simulated());
            assertThat(record.end()).contains("");
            assertThat(record.notices()).isEmpty();
            assertThat(record.samples()).isEqualTo(39 * 64);
            assertThat(record.requests())
                    .extracting(Request::timeS, r -> r.from().getAsInt(), r -> r.to().getAsInt())
                    .containsExactly(
                            tuple(0.126234, 1, 2), tuple(1.376234, 2, 3), tuple(2.626234, 3, 4), tuple(3.876234, 4, 5));
            assertThat(record.gaps())
                    .containsExactly(
                            new Gap((17 * 64 - 1) * 1_953_125L / 1e9, 18 * 0.125, 64, "damaged frame: check sum"));
            assertThat(record.supplyCuts()).containsExactly(5.0);
            assertThat(record.counters()).isEqualTo(Map.of("damaged frames", 1L, "frames", 58L));
            assertThat(record.place()).contains(new RunRecord.Place(4, 8_875_000));
            assertThat(record.sessions()).containsExactly(new Session(1, 0, 0, 1_790_000_000_000_000L, ""));
            assertThat(record.breaks()).isEmpty();
            assertThat(record.lastMicros()).isEqualTo(9_998_046); // 5 s + 2559 intervals, whole microseconds
            assertThat(record.anchors()).containsExactly(new RunRecord.Anchor(5_000_000, 1_790_000_000_000_000L));
            List<Runs.Sample> read = Runs.read(record, 1000);
            for (int i = 0; i < read.size(); i++) {
                int number = i / 64 < Kept.LOST ? i / 64 : i / 64 + 1;
                assertThat(read.get(i).sin()).as("sample %d", i).isEqualTo(Runs.samples(Kept.SEED, number)[i % 64 * 4]);
                double t = read.get(i).timeS();
                assertThat(read.get(i).powered())
                        .as("powered at %s s", t)
                        .isEqualTo((t + 1.25 - 0.127) % 1.25 < 0.972 && t >= 0.127);
            }
        }
    }

    /** Computed with the Python program in {@code rig/RECORD.md}, Python 3 and its own sqlite3. */
    @Test
    void its_digest_is_the_one_that_another_program_computes() {
        try (RunRecord record = RunRecord.open(V1)) {
            assertThat(record.identity().sha256())
                    .isEqualTo("e84260b17cc16ca604589736438ea458c499a9407e74f2774864df0831b545f2");
            assertThat(record.identity().kind()).isEqualTo("record");
            assertThat(record.identity().name()).isEqualTo("v1.run");
        }
    }

    /** Digest as above; the file and its -wal were left by a killed program. */
    @Test
    void a_crashed_record_of_version_1_opens() throws IOException {
        Path crashed = Files.copy(
                Path.of("src/test/resources/record/v1-crashed.run"),
                folder.resolve("v1-crashed.run")); // SQLite makes a -shm
        Files.copy(Path.of("src/test/resources/record/v1-crashed.run-wal"), folder.resolve("v1-crashed.run-wal"));

        try (RunRecord record = RunRecord.open(crashed)) {
            assertThat(record.identity().sha256())
                    .isEqualTo("3b97386a78fbcaf377aafe4f1accf5c4be8bc6524007e7e98d1a7789b87501bf");
            assertThat(record.header()).isEqualTo(Runs.header());
            assertThat(record.end()).isEmpty();
            assertThat(record.notices()).containsExactly("the run was not finished: the record ends where it stopped");
            assertThat(record.sessions()).containsExactly(new Session(1, 0, 0, 1_790_000_000_000_000L, ""));
            assertThat(record.gaps()).isEmpty();
            assertThat(record.requests()).extracting(Request::timeS).containsExactly(0.126234, 1.126234);
            assertThat(record.place()).contains(new RunRecord.Place(2, 6_125_000));
            List<Runs.Sample> read = Runs.read(record, 1000);
            assertThat(read).hasSize(16 * 64);
            for (int i = 0; i < read.size(); i++) {
                assertThat(read.get(i).sin()).as("sample %d", i).isEqualTo(Runs.samples(Kept.SEED, i / 64)[i % 64 * 4]);
            }
        }
    }

    /** Digest as above. */
    @Test
    void a_record_of_version_2_opens() {
        try (RunRecord record = RunRecord.open(Path.of("src/test/resources/record/v2.run"))) {
            assertThat(record.identity().sha256())
                    .isEqualTo("25e9db9323f3543109f0fa9e040b87661f96c98ffa91667ef6f8f3f30e3ce384");
            assertThat(record.notices()).isEmpty();
            assertThat(record.sessions())
                    .containsExactly(
                            new Session(1, 0, 0, 1_790_000_000_000_000L, ""),
                            new Session(25, 15_124_999, 15_125_000, 1_790_000_020_000_000L, "the program was gone"));
            assertThat(record.breaks())
                    .containsExactly(new Break(3.125 - 1_953_125 / 1e9, 3.125 + 7, "the program was gone"));
            assertThat(record.gaps())
                    .containsExactly(
                            new Gap((17 * 64 - 1) * 1_953_125L / 1e9, 18 * 0.125, 64, "damaged frame: check sum"));
            assertThat(record.lastMicros()).isEqualTo(16_998_046);
            List<Runs.Sample> read = Runs.read(record, 1000);
            assertThat(read).hasSize(39 * 64);
            for (int i = 0; i < read.size(); i++) {
                int number = i / 64 < Kept.LOST ? i / 64 : i / 64 + 1;
                assertThat(read.get(i).sin()).as("sample %d", i).isEqualTo(Runs.samples(Kept.SEED, number)[i % 64 * 4]);
                double t = i < 24 * 64 ? read.get(i).timeS() : read.get(i).timeS() - 7;
                assertThat(read.get(i).powered())
                        .as("powered at %s s", t)
                        .isEqualTo((t + 1.25 - 0.127) % 1.25 < 0.972 && t >= 0.127);
            }
        }
    }

    @Test
    void a_file_is_told_to_be_a_record_by_its_name_or_its_first_bytes() throws IOException {
        Path renamed = Files.copy(V1, folder.resolve("renamed.csv"));
        Path capture = Files.writeString(folder.resolve("capture.csv"), "time_s,hall_sin,hall_cos\r\n0,1,2\r\n");

        assertThat(RecordFile.isOne(V1)).isTrue();
        assertThat(RecordFile.isOne(renamed)).isTrue();
        assertThat(RecordFile.isOne(folder.resolve("missing.run"))).isTrue();
        assertThat(RecordFile.isOne(capture)).isFalse();
        assertThat(RecordFile.isOne(folder)).isFalse();
        assertThat(RecordFile.isOne(folder.resolve("missing.csv"))).isFalse();
    }
}
