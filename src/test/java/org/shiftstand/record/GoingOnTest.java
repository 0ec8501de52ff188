package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.SampleSource.Break;
import org.shiftstand.capture.SampleSource.Gap;
import org.shiftstand.document.BadInput;

class GoingOnTest {
    private static final long SEED = 21;
    private static final long AWAY_MICROS = 3_600_000_000L;

    @TempDir
    Path folder;

    private Path file() {
        return folder.resolve("TD-0107.run");
    }

    /** Blocks 0 to 9, a request, a place, and no end. */
    private Path stopped() {
        try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated())) {
            writeTen(writer);
        }
        return file();
    }

    private Path endedEarly(String reason) {
        try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated())) {
            writeTen(writer);
            writer.finish(reason);
        }
        return file();
    }

    private static void writeTen(SqliteRunWriter writer) {
        writer.anchor(Runs.ORIGIN_MICROS, 1_790_000_000_000_000L);
        writer.place(3, Runs.ORIGIN_MICROS);
        writer.event(new RunEvent(Runs.ORIGIN_MICROS, "request", 1, 1, 2, 1, "sweep-1", 8200, ""));
        writer.gap(1, 1, 0, "lost event");
        for (int number = 0; number < 10; number++) {
            Runs.writeBlock(writer, SEED, number);
        }
    }

    private static long later(int block) {
        return Runs.ORIGIN_MICROS + (10 + block) * Runs.BLOCK_MICROS + AWAY_MICROS;
    }

    private static void begin(SqliteRunWriter writer) {
        writer.session(later(0) - 500, later(0), 1_790_003_601_250_000L, "the program was gone");
    }

    /** So many blocks of a session whose numbers begin with 0. */
    private static void goOn(SqliteRunWriter writer, int blocks) {
        begin(writer);
        for (int number = 0; number < blocks; number++) {
            writer.block(number, later(number), Runs.INTERVAL_NANOS, Runs.samples(SEED, 10 + number));
        }
    }

    private static void assertTwoSessions(RunRecord record) {
        assertThat(record.sessions())
                .containsExactly(
                        new Session(1, 0, 0, 1_790_000_000_000_000L, ""),
                        new Session(11, later(0) - 500, later(0), 1_790_003_601_250_000L, "the program was gone"));
        assertThat(record.breaks())
                .containsExactly(new Break(639 * 1_953_125L / 1e9, 1.25 + 3600, "the program was gone"));
        assertThat(record.gaps()).isEmpty();
        List<Runs.Sample> read = Runs.read(record, 100);
        assertThat(read).hasSize(15 * 64);
        for (int i = 0; i < read.size(); i++) {
            assertThat(read.get(i).sin()).as("sample %d", i).isEqualTo(Runs.samples(SEED, i / 64)[i % 64 * 4]);
            assertThat(read.get(i).timeS())
                    .as("sample %d", i)
                    .isEqualTo((i * 1_953_125L + (i < 640 ? 0 : AWAY_MICROS * 1000)) / 1e9);
        }
    }

    @Nested
    class A_record_that_was_not_finished {
        @Test
        void is_gone_on_with_after_one_break() {
            stopped();

            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                goOn(writer, 5);
                writer.place(4, later(1));
                writer.event(new RunEvent(later(1), "request", -1, 2, 1, 1, "sweep-1", 8200, ""));
                writer.anchor(later(0), 1_790_003_601_250_000L);
                writer.gap(later(5), later(6), 64, "rig overrun");
                writer.finish("");
            }

            assertThat(folder.toFile().list()).containsExactly("TD-0107.run");
            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.notices()).isEmpty();
                assertThat(record.end()).contains("");
                assertThat(record.gaps()).extracting(Gap::cause).containsExactly("rig overrun");
                assertThat(record.events()).extracting(RunEvent::value).containsExactly(1, -1);
                assertThat(record.place()).contains(new RunRecord.Place(4, later(1)));
                assertThat(record.anchors()).hasSize(2);
                assertThat(record.lastMicros()).isEqualTo(later(5) - 1954);
            }
        }

        @Test
        void has_its_samples_of_both_sessions_and_no_lost_block_between_them() {
            stopped();

            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                goOn(writer, 5);
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertTwoSessions(record);
                assertThat(record.end()).isEmpty();
            }
        }

        @Test
        void keeps_the_lost_blocks_of_each_session() {
            stopped();
            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                begin(writer);
                for (int number : new int[] {12, 13, 15}) {
                    writer.block(number, later(number), Runs.INTERVAL_NANOS, Runs.samples(SEED, 10 + number));
                }
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.breaks()).hasSize(1);
                assertThat(record.gaps())
                        .extracting(Gap::samples, Gap::cause)
                        .containsExactly(tuple(64L, "lost block"));
            }
        }

        @Test
        void begins_again_with_a_session_and_with_nothing_else() {
            stopped();

            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                assertThatThrownBy(() -> Runs.writeBlock(writer, SEED, 10))
                        .isInstanceOf(IllegalStateException.class)
                        .hasMessage("what a run goes on with begins with a session: file=" + file());
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.samples()).isEqualTo(640);
            }
        }

        @Test
        void takes_no_session_and_no_block_of_a_time_that_is_over() {
            stopped();

            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                assertThatThrownBy(() -> writer.session(Runs.ORIGIN_MICROS, 0, 0, ""))
                        .isInstanceOf(IllegalArgumentException.class)
                        .hasMessage("a session begins before the last sample: atMicros=5000000, lastMicros=6248046");
                begin(writer);
                assertThatThrownBy(() -> Runs.writeBlock(writer, SEED, 9))
                        .isInstanceOf(IllegalArgumentException.class)
                        .hasMessageStartingWith("time goes back: firstMicros=6125000, lastMicros=6248046");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.samples()).isEqualTo(640);
            }
        }

        @Test
        void may_be_broken_off_before_a_sample_came_and_is_then_one_break() {
            stopped();
            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                writer.session(Runs.ORIGIN_MICROS + 2_000_000, 1, 2, "the line was away");
            }
            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                goOn(writer, 5);
            }
            try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
                writer.session(later(9), 1, 2, "never came back");
                writer.finish("no rig");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.sessions()).extracting(Session::firstBlock).containsExactly(1L, 11L, 11L, 16L);
                assertThat(record.breaks())
                        .containsExactly(new Break(
                                639 * 1_953_125L / 1e9, 1.25 + 3600, "the line was away; the program was gone"));
                assertThat(record.notices()).isEmpty();
            }
        }

        @Test
        void says_nothing_of_sensor_power_over_the_break() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated())) {
                Runs.writeBlock(writer, SEED, 0);
                writer.event(new RunEvent(Runs.ORIGIN_MICROS + 60_000, "hall-on", 0, 0, 0, 0, "", 0, ""));
                Runs.writeBlock(writer, SEED, 1);
                begin(writer);
                writer.block(0, later(0), Runs.INTERVAL_NANOS, Runs.samples(SEED, 2));
                writer.event(new RunEvent(later(0) + 60_000, "hall-on", 0, 0, 0, 0, "", 0, ""));
                writer.session(later(9), 0, 0, "again");
                writer.block(0, later(9), Runs.INTERVAL_NANOS, Runs.samples(SEED, 3));
            }

            try (RunRecord record = RunRecord.open(file())) {
                List<Runs.Sample> read = Runs.read(record, 10);
                assertThat(read.subList(0, 31)).noneMatch(Runs.Sample::powered);
                assertThat(read.subList(31, 128)).allMatch(Runs.Sample::powered);
                assertThat(read.subList(128, 128 + 31)).noneMatch(Runs.Sample::powered); // the opposite of what comes
                assertThat(read.subList(128 + 31, 192)).allMatch(Runs.Sample::powered);
                assertThat(read.subList(192, 256)).noneMatch(Runs.Sample::powered);
            }
        }

        @Test
        void is_refused_while_it_is_written() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated())) {
                Runs.writeBlock(writer, SEED, 0);

                assertRefused("is being written by this program; wait until that run is over, or end it first.");

                Runs.writeBlock(writer, SEED, 1);
            }
            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.samples()).isEqualTo(128);
            }
        }

        @Test
        void is_refused_without_its_log() throws Exception {
            SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated());
            Runs.writeBlock(writer, SEED, 0);
            Path alone = Files.copy(file(), folder.resolve("alone.run"));
            writer.close();

            assertThatThrownBy(() -> SqliteRunWriter.resume(alone))
                    .isInstanceOf(BadInput.class)
                    .hasMessageContaining("its file alone.run-wal is not beside it");
        }

        @Test
        void is_refused_where_a_block_is_damaged() throws SQLException {
            stopped();
            change("UPDATE block SET count = 63 WHERE seq = 4");

            assertRefused("is damaged (blocks whose check sum does not hold: 1), so that nothing is added to it.");
        }

        @Test
        void is_refused_where_it_cannot_be_read() throws IOException {
            stopped();
            byte[] bytes = Files.readAllBytes(file());
            Files.write(file(), java.util.Arrays.copyOf(bytes, bytes.length - 1000));

            assertRefused("is cut short");
        }

        @Test
        void of_version_1_is_refused_and_left_as_it_is() throws IOException {
            Path crashed = crashedV1();
            byte[] before = Files.readAllBytes(crashed);

            assertThatThrownBy(() -> SqliteRunWriter.resume(crashed))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(crashed
                            + ": is a run record of version 1, which cannot hold a break; older records are never changed."
                            + " It is judged as far as it goes; go on in a new record that continues it.");

            assertThat(crashed).hasBinaryContent(before);
        }
    }

    @Nested
    class A_record_that_is_finished {
        @Test
        void is_never_written_on() throws IOException {
            endedEarly("stopped by the user");
            byte[] before = Files.readAllBytes(file());

            assertRefused(
                    "is finished: stopped by the user. A sealed record is never changed; go on in a new record that"
                            + " continues it.");

            assertThat(file()).hasBinaryContent(before);
            assertThat(folder.toFile().list()).containsExactly("TD-0107.run");
        }

        @Test
        void is_continued_in_a_new_one() throws IOException {
            endedEarly("stopped by the user");
            byte[] before = Files.readAllBytes(file());
            String sha256;
            try (RunRecord old = RunRecord.open(file())) {
                sha256 = old.identity().sha256();
            }
            Path next = folder.resolve("next.run");

            try (SqliteRunWriter writer = SqliteRunWriter.continueFrom(file(), next)) {
                goOn(writer, 5);
                writer.finish("");
            }

            assertThat(file()).hasBinaryContent(before);
            assertThat(folder.toFile().list()).containsExactlyInAnyOrder("TD-0107.run", "next.run");
            try (RunRecord record = RunRecord.open(next)) {
                assertTwoSessions(record);
                assertThat(record.header().identity())
                        .containsEntry("continues", sha256)
                        .containsAllEntriesOf(Runs.simulated().identity());
                assertThat(record.texts()).isEqualTo(Runs.simulated().texts());
                assertThat(record.end()).contains("");
                assertThat(record.notices()).isEmpty();
                assertThat(record.place()).contains(new RunRecord.Place(3, Runs.ORIGIN_MICROS));
            }
        }

        @Test
        void may_be_continued_by_a_record_that_is_continued_in_turn() {
            endedEarly("stopped");
            Path second = folder.resolve("second.run");
            Path third = folder.resolve("third.run");
            try (SqliteRunWriter writer = SqliteRunWriter.continueFrom(file(), second)) {
                begin(writer);
                writer.finish("stopped again");
            }
            try (SqliteRunWriter writer = SqliteRunWriter.continueFrom(second, third)) {
                writer.session(later(1), later(1), 0, "again");
                writer.finish("");
            }

            try (RunRecord two = RunRecord.open(second);
                    RunRecord three = RunRecord.open(third)) {
                assertThat(three.header().identity())
                        .containsEntry("continues", two.identity().sha256());
                assertThat(three.header().identity().keySet()).last().isEqualTo("continues");
                assertThat(three.sessions()).hasSize(3);
            }
        }

        @Test
        void is_not_continued_where_its_script_was_done() {
            endedEarly("");

            assertThatThrownBy(() -> SqliteRunWriter.continueFrom(file(), folder.resolve("next.run")))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(
                            file() + ": is finished, its script was done: there is nothing to go on with. Judge it, or"
                                    + " start a new run.");

            assertThat(folder.toFile().list()).containsExactly("TD-0107.run");
        }

        @Test
        void is_not_continued_where_it_was_changed() throws SQLException {
            endedEarly("stopped");
            change("UPDATE event SET cycle = 2");

            assertThatThrownBy(() -> SqliteRunWriter.continueFrom(file(), folder.resolve("next.run")))
                    .isInstanceOf(BadInput.class)
                    .hasMessageContaining("is damaged (its content does not match its seal)");
        }

        @Test
        void is_not_continued_over_another() throws IOException {
            endedEarly("stopped");
            Path next = Files.writeString(folder.resolve("next.run"), "somebody's");

            assertThatThrownBy(() -> SqliteRunWriter.continueFrom(file(), next))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(next + ": exists; a run record is never overwritten. Choose another folder or name.");

            assertThat(next).hasContent("somebody's");
        }

        @ParameterizedTest
        @ValueSource(booleans = {false, true})
        void may_be_of_version_1(boolean crashed) throws IOException, SQLException {
            Path old;
            if (crashed) {
                old = crashedV1();
            } else {
                old = Files.copy(Path.of("src/test/resources/record/v1.run"), file());
                change("UPDATE finish SET reason = 'stopped'", "DELETE FROM seal");
            }
            Path next = folder.resolve("next.run");

            try (SqliteRunWriter writer = SqliteRunWriter.continueFrom(old, next)) {
                goOn(writer, 1);
                writer.finish("");
            }

            try (RunRecord before = RunRecord.open(old);
                    RunRecord record = RunRecord.open(next)) {
                assertThat(record.header().identity())
                        .containsEntry("continues", before.identity().sha256());
                assertThat(record.samples()).isEqualTo(before.samples() + 64);
                assertThat(record.breaks()).hasSize(1);
                assertThat(record.gaps()).isEqualTo(before.gaps());
                assertThat(record.notices()).isEmpty();
                assertThat(record.sessions().get(0)).isEqualTo(new Session(1, 0, 0, 1_790_000_000_000_000L, ""));
            }
        }
    }

    private void assertRefused(String because) {
        assertThatThrownBy(() -> SqliteRunWriter.resume(file()))
                .isInstanceOf(BadInput.class)
                .hasMessageStartingWith(file() + ": ")
                .hasMessageContaining(because);
    }

    private Path crashedV1() throws IOException {
        Path from = Path.of("src/test/resources/record/v1-crashed.run");
        Files.copy(RecordFile.beside(from, "-wal"), folder.resolve("v1-crashed.run-wal"));
        return Files.copy(from, folder.resolve("v1-crashed.run"));
    }

    /** Runs statements on a record as another program could. */
    private void change(String... statements) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement sql = connection.createStatement()) {
            for (String statement : statements) {
                sql.execute(statement);
            }
        }
    }
}
