package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource.Gap;
import org.shiftstand.document.BadInput;
import org.shiftstand.quantity.Direction;

class RunRecordTest {
    @TempDir
    Path folder;

    private Path file() {
        return folder.resolve("TD-0107.run");
    }

    private static RunEvent event(long afterMicros, String kind, int value) {
        return new RunEvent(Runs.ORIGIN_MICROS + afterMicros, kind, value, 0, 0, 0, "", 0, "");
    }

    @Nested
    class A_run_that_was_written {
        @Test
        void reads_back_sample_by_sample() {
            for (long seed = 1; seed <= 5; seed++) {
                Path file = folder.resolve("seed-" + seed + ".run");
                int blocks = new Random(seed).nextInt(1, 40);
                Runs.finished(file, seed, blocks);

                try (RunRecord record = RunRecord.open(file)) {
                    List<Runs.Sample> read = Runs.read(record, 100);

                    assertThat(read).as("seed " + seed).hasSize(blocks * Runs.BLOCK);
                    assertThat(record.samples()).isEqualTo(read.size());
                    for (int i = 0; i < read.size(); i++) {
                        short[] wrote = Runs.samples(seed, i / Runs.BLOCK);
                        int at = i % Runs.BLOCK * 4;
                        assertThat(read.get(i))
                                .as("seed %d, sample %d", seed, i)
                                .isEqualTo(new Runs.Sample(
                                        i * 1_953_125L / 1e9,
                                        wrote[at],
                                        wrote[at + 1],
                                        wrote[at + 2] * 0.0012,
                                        wrote[at + 3] * 0.005,
                                        true));
                    }
                }
            }
        }

        @Test
        void gives_the_same_samples_whatever_the_size_of_the_readers_block() {
            Runs.finished(file(), 7, 20);

            try (RunRecord record = RunRecord.open(file())) {
                List<Runs.Sample> whole = Runs.read(record, 4096);

                assertThat(Runs.read(record, 1)).isEqualTo(whole);
                assertThat(Runs.read(record, 63)).isEqualTo(whole);
                assertThat(Runs.read(record, 64)).isEqualTo(whole);
                assertThat(Runs.read(record, 1000)).isEqualTo(whole);
            }
        }

        @Test
        void can_be_read_from_a_later_sample_on() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated())) {
                for (int number = 0; number < 1100; number++) {
                    if (number != 600) {
                        Runs.writeBlock(writer, 6, number);
                    }
                    if (number % 100 == 0) {
                        writer.event(event(number * Runs.BLOCK_MICROS, number % 200 == 0 ? "hall-on" : "hall-off", 0));
                    }
                }
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                List<Runs.Sample> whole = Runs.read(record, 1000);
                assertThat(whole).hasSize(1099 * 64);
                for (int from :
                        new int[] {0, 1, 63, 64, 512 * 64 - 1, 512 * 64, 512 * 64 + 1, 38_400, 70_335, 70_336, 99_999
                        }) {
                    assertThat(Runs.read(record.open(from), 1000))
                            .as("from sample %d", from)
                            .isEqualTo(whole.subList(Math.min(from, whole.size()), whole.size()));
                }
            }
        }

        @Test
        void gives_the_same_samples_whatever_the_size_of_the_blocks_on_the_wire() {
            short[] all = Runs.samples(3, 0);
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                writer.block(0, 0, Runs.INTERVAL_NANOS, all);
                writer.finish("");
            }
            Path small = folder.resolve("small.run");
            try (SqliteRunWriter writer = SqliteRunWriter.create(small, Runs.header())) {
                for (int i = 0; i < 8; i++) { // 8 samples are 15 625 us
                    writer.block(
                            i,
                            i * 15_625L,
                            Runs.INTERVAL_NANOS,
                            java.util.Arrays.copyOfRange(all, i * 32, i * 32 + 32));
                }
                writer.finish("");
            }

            try (RunRecord one = RunRecord.open(file());
                    RunRecord eight = RunRecord.open(small)) {
                assertThat(Runs.read(eight, 10)).isEqualTo(Runs.read(one, 10));
            }
        }

        @Test
        void keeps_its_header_and_texts_to_the_character() {
            String injection = "'); DROP TABLE block; --\u0000\n\"\\%s ☂ \uD83D\uDEB2";
            RunHeader wrote = new RunHeader(
                    "TD-0107",
                    Map.of(injection, injection),
                    Map.of("spec", injection, injection, "spec: x\r\n"),
                    Map.of("spec", injection, injection, injection),
                    Runs.INTERVAL_NANOS,
                    0.0012,
                    0.005,
                    -1,
                    true);
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), wrote)) {
                Runs.writeBlock(writer, 1, 0);
                writer.event(new RunEvent(1, injection, -1, 2, 3, 4, injection, 5, injection));
                writer.gap(1, 2, 3, injection);
                writer.counter(injection, Long.MIN_VALUE);
                writer.finish(injection);
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.header()).isEqualTo(wrote);
                assertThat(record.texts()).isEqualTo(wrote.texts());
                assertThat(record.events())
                        .containsExactly(new RunEvent(1, injection, -1, 2, 3, 4, injection, 5, injection));
                assertThat(record.gaps()).extracting(Gap::cause).containsExactly(injection);
                assertThat(record.counters()).containsExactly(Map.entry(injection, Long.MIN_VALUE));
                assertThat(record.end()).contains(injection);
                assertThat(record.samples()).isEqualTo(Runs.BLOCK);
                assertThat(record.notices()).isEmpty();
            }
        }

        @Test
        void keeps_facts_in_reading_order() {
            Runs.finished(file(), 1, 1);

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.header().identity().keySet())
                        .containsExactly("unit firmware", "rig", "operator", "station");
            }
        }

        @Test
        void keeps_events_anchors_counters_and_the_last_place() {
            RunEvent home = new RunEvent(5_000_100, "home", 0, 0, 1, 0, "home-1", 8200, "");
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                writer.anchor(5_000_000, 1_790_000_000_000_000L);
                writer.anchor(9_000_000, 1_790_000_004_000_001L);
                writer.place(0, 5_000_000);
                writer.place(17, 9_000_000);
                writer.counter("frames", 3);
                writer.counter("frames", 4);
                writer.counter("damaged frames", 1);
                writer.event(home);
                writer.finish("stopped by the user");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.anchors())
                        .containsExactly(
                                new RunRecord.Anchor(5_000_000, 1_790_000_000_000_000L),
                                new RunRecord.Anchor(9_000_000, 1_790_000_004_000_001L));
                assertThat(record.place()).contains(new RunRecord.Place(17, 9_000_000));
                assertThat(record.counters()).containsExactly(Map.entry("damaged frames", 1L), Map.entry("frames", 4L));
                assertThat(record.events()).containsExactly(home);
                assertThat(record.end()).contains("stopped by the user");
            }
        }

        @Test
        void has_requests_as_the_rig_stamped_them() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                writer.event(new RunEvent(Runs.ORIGIN_MICROS + 250_001, "request", 1, 2, 3, 4, "sweep-3", 8200, ""));
                writer.event(new RunEvent(Runs.ORIGIN_MICROS + 100, "request", -1, 0, 1, 0, "", 0, ""));
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.requests())
                        .containsExactly(
                                new Request(
                                        0.0001,
                                        Optional.of(Direction.OUTBOARD),
                                        OptionalInt.empty(),
                                        OptionalInt.of(1),
                                        OptionalInt.of(0),
                                        Optional.empty(),
                                        OptionalDouble.empty(),
                                        true),
                                new Request(
                                        0.250001,
                                        Optional.of(Direction.INBOARD),
                                        OptionalInt.of(2),
                                        OptionalInt.of(3),
                                        OptionalInt.of(4),
                                        Optional.of("sweep-3"),
                                        OptionalDouble.of(8.2),
                                        true));
            }
        }

        @Test
        void has_samples_powered_from_hall_on_to_hall_off() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                writer.event(event(10_000, "hall-on", 0));
                writer.event(event(20_000, "hall-off", 0));
                Runs.writeBlock(writer, 1, 0);
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.channels().hallPower()).isTrue();
                assertThat(Runs.read(record, 7))
                        .allSatisfy(s -> assertThat(s.powered()).isEqualTo(s.timeS() >= 0.010 && s.timeS() < 0.020));
            }
        }

        @Test
        void lists_each_supply_cut() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                writer.event(event(90_000, "supply-off", 2));
                writer.event(event(50_000, "over-current", 0));
                writer.finish("over-current");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.supplyCuts()).containsExactly(0.09);
            }
        }

        @Test
        void has_no_current_where_the_rig_does_not_measure_it() {
            RunHeader h = Runs.header();
            RunHeader without = new RunHeader(
                    h.unit(), h.identity(), h.texts(), h.textNames(), h.sampleIntervalNanos(), 0, 0.005, 0, false);
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), without)) {
                Runs.writeBlock(writer, 1, 0);
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.channels().current()).isFalse();
                assertThat(Runs.read(record, 64))
                        .allSatisfy(s -> assertThat(s.currentA()).isNaN());
            }
        }
    }

    @Nested
    class What_is_missing {
        @Test
        void a_lost_block_is_one_gap() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                Runs.writeBlock(writer, 1, 2);
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.gaps())
                        .containsExactly(new Gap(63 * 1_953_125L / 1e9, 128 * 1_953_125L / 1e9, 64, "lost block"));
                assertThat(Runs.read(record, 50)).hasSize(128);
            }
        }

        @Test
        void a_gap_row_for_the_same_loss_only_gives_the_cause() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                Runs.writeBlock(writer, 1, 2);
                writer.gap(
                        Runs.ORIGIN_MICROS + Runs.BLOCK_MICROS,
                        Runs.ORIGIN_MICROS + 2 * Runs.BLOCK_MICROS,
                        64,
                        "damaged frame: check sum");
                writer.gap(Runs.ORIGIN_MICROS + 9_000_000, Runs.ORIGIN_MICROS + 9_500_000, 256, "rig overrun");
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.gaps())
                        .extracting(Gap::cause, Gap::samples)
                        .containsExactly(
                                org.assertj.core.groups.Tuple.tuple("damaged frame: check sum", 64L),
                                org.assertj.core.groups.Tuple.tuple("rig overrun", 256L));
            }
        }

        @Test
        void a_lost_event_beside_a_lost_block_stays_a_doubt_of_its_own() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                writer.gap(Runs.ORIGIN_MICROS + 123_046, Runs.ORIGIN_MICROS + 250_000, 64, "lost block");
                writer.gap(Runs.ORIGIN_MICROS + 123_046, Runs.ORIGIN_MICROS + 373_046, 0, "lost event");
                Runs.writeBlock(writer, 1, 2);
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.gaps())
                        .containsExactlyInAnyOrder(
                                new Gap(63 * 1_953_125L / 1e9, 0.25, 64, "lost block"),
                                new Gap(0.123046, 0.373046, 0, "lost event"));
            }
        }

        @Test
        void block_numbers_start_anew_after_the_rig_was_armed_again() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                writer.block(7, 0, Runs.INTERVAL_NANOS, Runs.samples(1, 0));
                writer.block(0, Runs.BLOCK_MICROS, Runs.INTERVAL_NANOS, Runs.samples(1, 1));
                writer.finish("");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.gaps()).isEmpty();
                assertThat(record.samples()).isEqualTo(128);
            }
        }
    }

    @Nested
    class The_file {
        @Test
        void is_never_overwritten() throws Exception {
            Files.writeString(file(), "somebody's");

            assertThatThrownBy(() -> SqliteRunWriter.create(file(), Runs.header()))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(file() + ": exists; a run record is never overwritten. Choose another folder or name.");

            assertThat(file()).hasContent("somebody's");
        }

        @Test
        void stands_alone_once_finished() {
            Runs.finished(file(), 1, 3);

            assertThat(folder).isDirectoryContaining(f -> f.equals(file()));
            assertThat(folder.toFile().list()).containsExactly("TD-0107.run");
        }

        @Test
        void can_be_read_while_it_is_written_and_the_reader_sees_one_state() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                try (RunRecord record = RunRecord.open(file())) {
                    Runs.writeBlock(writer, 1, 1);

                    assertThat(record.end()).isEmpty();
                    assertThat(record.notices())
                            .containsExactly("the run was not finished: the record ends where it stopped");
                    assertThat(Runs.read(record, 64)).hasSize(64);
                }
                try (RunRecord record = RunRecord.open(file())) {
                    assertThat(Runs.read(record, 64)).hasSize(128);
                }
            }
        }

        @Test
        void can_be_finished_while_somebody_reads_it() {
            SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header());
            Runs.writeBlock(writer, 1, 0);
            try (RunRecord early = RunRecord.open(file())) {
                writer.finish("");
                assertThat(early.end()).isEmpty();
                assertThat(Runs.read(early, 64)).hasSize(64);
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(record.end()).contains("");
                assertThat(record.notices()).isEmpty();
            }
        }

        @Test
        void has_one_digest_running_closed_and_in_another_place() throws Exception {
            String running;
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                Runs.writeBlock(writer, 1, 0);
                try (RunRecord record = RunRecord.open(file())) {
                    running = record.identity().sha256();
                }
            }
            Path copy = Files.copy(file(), folder.resolve("copy.run"));

            try (RunRecord record = RunRecord.open(file());
                    RunRecord other = RunRecord.open(copy)) {
                assertThat(record.end()).isEmpty();
                assertThat(record.identity().sha256()).isEqualTo(running);
                assertThat(other.identity().sha256()).isEqualTo(running);
                assertThat(other.identity().name()).isEqualTo("copy.run");
            }
        }

        @Test
        void may_have_a_name_that_means_something_to_an_address() {
            Path odd = folder.resolve("50% a?mode=rwc#b ü.run");
            Runs.finished(odd, 1, 1);

            try (RunRecord record = RunRecord.open(odd)) {
                assertThat(record.samples()).isEqualTo(64);
            }
        }

        @Test
        void may_be_empty_of_samples() {
            try (SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header())) {
                writer.finish("the rig did not answer");
            }

            try (RunRecord record = RunRecord.open(file())) {
                assertThat(Runs.read(record, 64)).isEmpty();
                assertThat(record.requests()).isEmpty();
                assertThat(record.gaps()).isEmpty();
                assertThat(record.intervalS()).isCloseTo(1 / 512.0, within(1e-15));
            }
        }

        @Test
        void refuses_a_header_that_cannot_be() {
            assertThatThrownBy(() -> SqliteRunWriter.create(file(), Runs.unit("../etc")))
                    .isInstanceOf(BadInput.class)
                    .hasMessageContaining("unit id '../etc' cannot be");

            assertThat(file()).doesNotExist();
        }
    }
}
