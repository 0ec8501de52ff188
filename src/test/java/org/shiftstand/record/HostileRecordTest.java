package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.SampleSource.Gap;
import org.shiftstand.document.BadInput;

class HostileRecordTest {
    @TempDir
    Path folder;

    private Path file() {
        return folder.resolve("unit.run");
    }

    private void assertRefused(String because) {
        assertThatThrownBy(() -> RunRecord.open(file()).close())
                .isInstanceOf(BadInput.class)
                .hasMessageStartingWith(file() + ": ")
                .hasMessageContaining(because);
    }

    /** Runs statements on a record as another program could. */
    private static void change(Path file, String... statements) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement sql = connection.createStatement()) {
            for (String statement : statements) {
                sql.execute(statement);
            }
        }
    }

    @Nested
    class No_record {
        @Test
        void no_file() {
            assertRefused("no such file; expected a run record");
        }

        @Test
        void a_folder() throws IOException {
            Files.createDirectory(file());

            assertRefused("is a folder; expected a run record, such as TD-0107.run");
        }

        @Test
        void an_empty_file() throws IOException {
            Files.createFile(file());

            assertRefused("is empty; expected a run record");
        }

        @Test
        void a_text() throws IOException {
            Files.writeString(file(), "time_s,hall_sin,hall_cos\r\n".repeat(100));

            assertRefused("is no run record: it does not begin as an SQLite file");
        }

        @Test
        void a_database_of_another_application() throws SQLException {
            change(file(), "CREATE TABLE block (seq INTEGER PRIMARY KEY)", "PRAGMA application_id = 77");

            assertRefused("is an SQLite file of another application (application_id 77); expected a run record");
        }

        @Test
        void a_record_of_a_later_version() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(file(), "PRAGMA user_version = 3");

            assertRefused("is a run record of version 3; this program knows versions up to 2. Use a newer program.");
        }

        @Test
        void a_record_without_a_table() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(file(), "DROP TABLE event", "DROP TABLE gap");

            assertThatThrownBy(() -> RunRecord.open(file()).close())
                    .hasMessage(
                            "%1$s: it lacks the table 'event' of version 2 of the run record; it was changed or damaged\n%1$s: it lacks the table 'gap' of version 2 of the run record; it was changed or damaged"
                                    .formatted(file()));
        }

        @Test
        void a_view_in_the_place_of_a_table() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(
                    file(),
                    "DROP TABLE block",
                    "CREATE VIEW block AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n)"
                            + " SELECT i AS seq, i AS number, i AS first_micros, 1 AS interval_nanos, 1 AS count,"
                            + " 0 AS crc32c, zeroblob(8) AS samples FROM n");

            assertRefused("it lacks the table 'block'");
        }
    }

    @Nested
    class Values_that_cannot_be {
        @ParameterizedTest
        @CsvSource(
                delimiterString = "=>",
                value = {
                    "sample_interval_nanos = 0 => sampling interval of 0 ns cannot be",
                    "sample_interval_nanos = -1953125 => sampling interval of -1953125 ns cannot be",
                    "current_a_per_count = 9e999 => scale of the current channel of Infinity A a count cannot be",
                    "supply_v_per_count = -0.1 => scale of the supply channel of -0.1 V a count cannot be",
                    "unit = '../../etc/passwd' => unit id '../../etc/passwd' cannot be",
                    "unit = 'a' || char(10) || 'b' => unit id 'a?b' cannot be",
                    "unit = '' => unit id '' cannot be",
                    "channels = 'hall_sin' => channels 'hall_sin'; expected",
                })
        void in_the_header(String set, String because) throws SQLException {
            Runs.finished(file(), 1, 1);
            change(file(), "UPDATE run SET " + set);

            assertRefused(because);
        }

        @Test
        void two_headers_or_none() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(file(), "INSERT INTO run SELECT * FROM run");
            assertRefused("table run, row 2: a second row; expected one");

            change(file(), "DELETE FROM run");
            assertRefused("table run is empty; expected one row");
        }

        @Test
        void text_where_a_number_belongs() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(
                    file(),
                    "PRAGMA writable_schema = ON",
                    "UPDATE sqlite_schema SET sql = replace(sql, ') STRICT', ')') WHERE name = 'run'",
                    "PRAGMA writable_schema = RESET",
                    "UPDATE run SET current_a_per_count = 'NaN'",
                    "PRAGMA writable_schema = ON",
                    "UPDATE sqlite_schema SET sql = sql || ' STRICT' WHERE name = 'run'");

            assertRefused("table run, row 1: current_a_per_count holds String; expected a real number");
        }

        @Test
        void a_block_with_a_right_check_sum_and_a_negative_interval() throws SQLException {
            Runs.finished(file(), 1, 2);
            setBlock(2, 1, 6_000_000, -5, 64, new byte[512]);

            assertRefused("table block, row 2: sampling interval of -5 ns; expected 1 ns to 10 s");
        }

        @Test
        void a_block_with_a_right_check_sum_and_a_huge_count() throws SQLException {
            Runs.finished(file(), 1, 2);
            setBlock(2, 1, 6_000_000, 1_953_125, Long.MAX_VALUE, new byte[512]);

            assertRefused("table block, row 2: says 9223372036854775807 samples and holds 512 bytes");
        }

        @Test
        void a_block_with_a_right_check_sum_and_too_few_bytes() throws SQLException {
            Runs.finished(file(), 1, 2);
            setBlock(2, 1, 6_000_000, 1_953_125, 64, new byte[511]);

            assertRefused("table block, row 2: says 64 samples and holds 511 bytes");
        }

        @ParameterizedTest
        @ValueSource(longs = {Long.MIN_VALUE, 0, 5_000_000, 5_100_000, Long.MAX_VALUE})
        void a_block_with_a_right_check_sum_and_an_impossible_time(long firstMicros) throws SQLException {
            Runs.finished(file(), 1, 2);
            setBlock(2, 1, firstMicros, 1_953_125, 64, new byte[512]);

            assertRefused("table block, row 2: ");
        }

        @Test
        void a_block_of_a_gigabyte() throws SQLException {
            Runs.finished(file(), 1, 2);
            change(file(), "UPDATE block SET samples = zeroblob(100000000) WHERE seq = 2");

            assertRefused("cannot be read as a run record: ");
        }

        @Test
        void an_event_whose_value_does_not_fit() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(file(), "INSERT INTO event VALUES (1, 0, 'request', 4294967297, 1, 2, 1, '', 0, '')");

            assertRefused("table event, row 1: value is out of range: 4294967297");
        }

        @Test
        void thousands_of_texts() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(
                    file(),
                    "WITH RECURSIVE n(i) AS (SELECT 10 UNION ALL SELECT i + 1 FROM n WHERE i < 5000)"
                            + " INSERT INTO text SELECT i, 'role' || i, '', '', '' FROM n");

            assertRefused("more than 64 rows");
        }

        @Test
        void times_of_events_at_the_end_of_all_numbers_do_no_harm() throws SQLException {
            Runs.finished(file(), 1, 1);
            change(
                    file(),
                    "INSERT INTO event VALUES (1, -9223372036854775808, 'hall-on', 0, 0, 0, 0, '', 0, '')",
                    "INSERT INTO event VALUES (2, 9223372036854775807, 'hall-off', 0, 0, 0, 0, '', 0, '')",
                    "INSERT INTO event VALUES (3, 9223372036854775807, 'request', 1, 0, 0, 0, '', 0, '')");

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(Runs.read(record, 64)).hasSize(64);
                assertThat(record.requests()).hasSize(1);
            }
        }

        private void setBlock(long seq, long number, long firstMicros, long interval, long count, byte[] samples)
                throws SQLException {
            try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                    PreparedStatement update = connection.prepareStatement(
                            "UPDATE block SET number = ?, first_micros = ?, interval_nanos = ?, count = ?, crc32c = ?,"
                                    + " samples = ? WHERE seq = ?")) {
                update.setLong(1, number);
                update.setLong(2, firstMicros);
                update.setLong(3, interval);
                update.setLong(4, count);
                update.setLong(5, new BlockBytes().crc32c(number, firstMicros, interval, count, samples));
                update.setBytes(6, samples);
                update.setLong(7, seq);
                assertThat(update.executeUpdate()).isEqualTo(1);
            }
        }
    }

    @Nested
    class Damage {
        @Test
        void one_flipped_byte_in_a_block_is_one_gap_and_the_seal_is_broken() throws Exception {
            Runs.finished(file(), 4, 5);
            byte[] bytes = Files.readAllBytes(file());
            byte[] block = BlockBytes.bytes(Runs.samples(4, 2));
            bytes[find(bytes, Arrays.copyOf(block, 64)) + 30] ^= 0x10;
            Files.write(file(), bytes);

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.gaps())
                        .containsExactly(new Gap(127 * 1_953_125L / 1e9, 192 * 1_953_125L / 1e9, 64, "damaged block"));
                assertThat(Runs.read(record, 64))
                        .hasSize(4 * 64)
                        .noneMatch(s -> s.timeS() > 0.2481 && s.timeS() < 0.3749);
                assertThat(record.notices())
                        .containsExactly(
                                "the record was changed or damaged after it was finished: its content does not match its seal");
            }
        }

        @Test
        void the_first_and_the_last_block_damaged_are_gaps_at_both_ends() throws Exception {
            Runs.finished(file(), 4, 3);
            change(file(), "UPDATE block SET interval_nanos = -1 WHERE seq IN (1, 3)");

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(Runs.read(record, 64)).hasSize(64);
                assertThat(record.gaps())
                        .containsExactly(
                                new Gap(-0.125, 0, 64, "damaged block"),
                                new Gap(63 * 1_953_125L / 1e9, 0.25, 64, "damaged block"));
            }
        }

        @Test
        void a_changed_text_is_told() throws Exception {
            Runs.finished(file(), 4, 1);
            change(file(), "UPDATE text SET content = 'spec: easier' WHERE role = 'spec'");

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.notices())
                        .contains(
                                "the text of the spec in the record does not match its digest: it was changed or damaged");
            }
        }

        @Test
        void a_record_cut_short_is_refused() throws Exception {
            byte[] whole = Files.readAllBytes(Runs.finished(folder.resolve("whole.run"), 2, 60));
            for (int length :
                    new int[] {1, 15, 16, 99, 100, 512, 4095, 4096, 5000, 20_480, whole.length - 4096, whole.length - 1
                    }) {
                Files.write(file(), Arrays.copyOf(whole, length));

                assertThat(catchThrowable(() -> RunRecord.open(file()).close()))
                        .as("first %d bytes", length)
                        .isInstanceOf(BadInput.class);
            }
            assertRefused("is cut short: it has %d bytes and should have %d".formatted(whole.length - 1, whole.length));
        }

        @Test
        void random_bytes_are_refused_with_a_message() throws Exception {
            byte[] magic = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);
            for (int seed = 0; seed < 100; seed++) {
                byte[] bytes = new byte[8192];
                new Random(seed).nextBytes(bytes);
                if (seed % 2 == 1) {
                    System.arraycopy(magic, 0, bytes, 0, magic.length);
                }
                Files.write(file(), bytes);

                assertThat(catchThrowable(() -> RunRecord.open(file()).close()))
                        .as("seed %d", seed)
                        .isInstanceOf(BadInput.class)
                        .hasMessageStartingWith(file() + ": ");
            }
        }

        /** Whatever byte is flipped: refused, or said, or of no effect; and no sample is read that was not written. */
        @Test
        void no_flipped_byte_goes_unseen() throws Exception {
            int blocks = 8;
            Path good = folder.resolve("good.run");
            try (SqliteRunWriter writer = SqliteRunWriter.create(good, Runs.simulated())) {
                for (int number = 0; number < blocks; number++) {
                    Runs.writeBlock(writer, 9, number);
                    writer.event(new RunEvent(number, "request", 1, number, number + 1, 1, "sweep-1", 8200, ""));
                }
                writer.finish("");
            }
            byte[] whole = Files.readAllBytes(good);
            String sha256;
            try (RunRecord record = RunRecord.open(good)) {
                sha256 = record.identity().sha256();
            }
            Random random = new Random(5);
            for (int i = 0; i < 400; i++) {
                byte[] flipped = whole.clone();
                int at = random.nextInt(flipped.length);
                flipped[at] ^= (byte) (1 << random.nextInt(8));
                Files.write(file(), flipped);
                String flip = "flip " + i + " at " + at;
                try (RunRecord record = RunRecord.open(file())) {
                    if (record.notices().isEmpty()) {
                        assertThat(record.identity().sha256()).as(flip).isEqualTo(sha256);
                    }
                    assertWritten(Runs.read(record, Runs.BLOCK), blocks, flip);
                } catch (BadInput e) {
                    assertThat(e).as(flip).hasMessageStartingWith(file() + ": ");
                }
            }
        }

        private static void assertWritten(List<Runs.Sample> read, int blocks, String flip) {
            assertThat(read.size() % Runs.BLOCK).as(flip).isZero();
            int number = 0;
            for (int from = 0; from < read.size(); from += Runs.BLOCK) {
                while (number < blocks && !same(read, from, Runs.samples(9, number))) {
                    number++;
                }
                assertThat(number)
                        .as("%s: a block that was never written", flip)
                        .isLessThan(blocks);
                number++;
            }
        }

        private static boolean same(List<Runs.Sample> read, int from, short[] wrote) {
            for (int i = 0; i < Runs.BLOCK; i++) {
                if (read.get(from + i).sin() != wrote[i * 4]
                        || read.get(from + i).cos() != wrote[i * 4 + 1]) {
                    return false;
                }
            }
            return true;
        }

        private static int find(byte[] in, byte[] what) {
            for (int at = 0; at <= in.length - what.length; at++) {
                if (Arrays.equals(in, at, at + what.length, what, 0, what.length)) {
                    return at;
                }
            }
            throw new AssertionError("not in the file");
        }
    }
}
