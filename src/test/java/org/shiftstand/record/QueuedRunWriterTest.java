package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(60)
class QueuedRunWriterTest {
    /** Of one block of 2 samples in memory: 16 bytes and the row's own 128. */
    private static final int BLOCK_BYTES = 144;

    @TempDir
    Path folder;

    private final SlowWriter disk = new SlowWriter();

    /** Two samples, 100 us apart; block n begins at 200 n. */
    private static void block(RunWriter writer, int number) {
        writer.block(number, number * 200L, 100_000, new short[] {(short) number, 0, 0, 0, 0, 0, 0, 0});
    }

    private static RunEvent event(String kind) {
        return new RunEvent(0, kind, 0, 0, 0, 0, "", 0, "");
    }

    @Nested
    class A_disk_that_takes_its_time {
        @Test
        void never_keeps_the_caller_waiting_and_gets_all_rows_in_their_order() {
            QueuedRunWriter writer = new QueuedRunWriter(disk);

            block(writer, 0); // the disk writes nothing until it is let: a call that waited for it would never return
            writer.event(event("request"));
            writer.place(7, 1);
            writer.counter("frames", 3);
            writer.anchor(5, 6);
            writer.gap(1, 2, 3, "overrun");
            writer.session(400, 1, 2, "away");
            block(writer, 2);
            assertThat(disk.rows).isEmpty();
            assertThat(writer.waiting().rows()).isEqualTo(8);
            disk.leave.release(100);
            writer.finish("done");

            assertThat(disk.rows)
                    .containsExactly(
                            "block 0 0 2 0",
                            "event request",
                            "place 7",
                            "counter frames 3",
                            "anchor 5",
                            "gap 1 2 3 overrun",
                            "session 400 1 away",
                            "block 2 400 2 2",
                            "finish done");
            assertThat(writer.waiting()).isEqualTo(new QueuedRunWriter.Waiting(0, 0));
        }

        @Test
        void gets_samples_as_they_were_when_they_were_given() {
            QueuedRunWriter writer = new QueuedRunWriter(disk);
            short[] samples = {1, 2, 3, 4};

            writer.block(0, 0, 1, samples);
            samples[0] = 99;
            disk.leave.release(100);
            writer.close();

            assertThat(disk.rows).containsExactly("block 0 0 1 1", "closed");
        }

        @Test
        void loses_whole_blocks_once_the_buffer_is_full_and_one_gap_says_how_many_samples() {
            QueuedRunWriter writer = new QueuedRunWriter(disk, 4 * BLOCK_BYTES);
            block(writer, 0);
            await().until(disk.leave::hasQueuedThreads); // the disk has it, and nothing else
            for (int number = 1; number < 10; number++) {
                block(writer, number); // 0 to 3 fit
            }
            assertThat(writer.droppedSamples()).isEqualTo(12);
            disk.leave.release(100);
            await().until(() -> writer.waiting().rows() == 0);
            block(writer, 10);
            writer.finish("");

            assertThat(disk.rows)
                    .containsExactly(
                            "block 0 0 2 0",
                            "block 1 200 2 1",
                            "block 2 400 2 2",
                            "block 3 600 2 3",
                            "gap 700 2000 12 host buffer full", // last sample before, first after
                            "block 10 2000 2 10",
                            "finish ");
        }

        @Test
        void loses_nothing_else() {
            QueuedRunWriter writer = new QueuedRunWriter(disk, BLOCK_BYTES);
            block(writer, 0);
            await().until(disk.leave::hasQueuedThreads); // the disk has it, and nothing else
            for (int i = 1; i <= 500; i++) {
                writer.event(event("event-" + i));
                block(writer, i);
            }
            writer.session(200_000, 0, 0, "away");
            block(writer, 1001);
            disk.leave.release(10_000);
            writer.finish("");

            assertThat(disk.rows.stream().filter(r -> r.startsWith("event"))).hasSize(500);
            assertThat(disk.rows.stream().filter(r -> r.startsWith("gap")))
                    .containsExactly("gap 100 100200 1000 host buffer full", "gap 200100 200400 2 host buffer full");
            assertThat(disk.rows.indexOf("session 200000 0 away"))
                    .isBetween(
                            disk.rows.indexOf("gap 100 100200 1000 host buffer full"),
                            disk.rows.indexOf("gap 200100 200400 2 host buffer full"));
        }
    }

    @Nested
    class A_disk_that_fails {
        private final UncheckedIOException full = new UncheckedIOException("full", new IOException("full"));

        @Test
        void is_told_by_the_next_call_and_by_each_after_it() {
            disk.failsAtRow = 1;
            disk.failure = full;
            QueuedRunWriter writer = new QueuedRunWriter(disk);
            disk.leave.release(100);
            block(writer, 0);
            block(writer, 1);
            await().until(() -> writer.waiting().rows() == 0);

            assertThatThrownBy(() -> writer.event(event("request"))).isSameAs(full);
            assertThatThrownBy(() -> block(writer, 2)).isSameAs(full);
            writer.finish("the disk is full");

            assertThat(disk.rows)
                    .containsExactly(
                            "block 0 0 2 0",
                            "event request",
                            "gap 300 600 2 could not be written",
                            "gap 100 400 2 could not be written",
                            "finish the disk is full");
        }

        @Test
        void ends_the_record_with_its_reason_where_no_call_came_after() {
            disk.failsAtRow = 0;
            disk.failure = full;
            QueuedRunWriter writer = new QueuedRunWriter(disk);
            block(writer, 0);
            block(writer, 1);
            disk.leave.release(100);

            assertThatThrownBy(() -> writer.finish("")).isSameAs(full);

            assertThat(disk.rows)
                    .containsExactly(
                            "gap -100 400 4 could not be written", "finish the record could not be written: full");
        }

        @Test
        void is_told_by_closing_where_no_call_came_after() {
            disk.failsAtRow = 0;
            disk.failure = full;
            QueuedRunWriter writer = new QueuedRunWriter(disk);
            writer.event(event("request"));
            disk.leave.release(100);

            assertThatThrownBy(writer::close).isSameAs(full);

            assertThat(disk.rows).containsExactly("closed");
        }
    }

    @Nested
    class A_run_record_below {
        @Test
        void is_the_same_as_one_that_was_written_directly() {
            Path direct = folder.resolve("direct.run");
            Path queued = folder.resolve("queued.run");
            String[] digests = new String[2];
            Path[] files = {direct, queued};
            for (int i = 0; i < 2; i++) {
                SqliteRunWriter file = SqliteRunWriter.create(files[i], Runs.simulated());
                try (RunWriter writer = i == 0 ? file : new QueuedRunWriter(file)) {
                    for (int number = 0; number < 300; number++) {
                        if (number % 7 == 0) {
                            writer.event(event("request"));
                            writer.place(number, number);
                        }
                        Runs.writeBlock(writer, 3, number);
                    }
                    writer.finish("");
                }
                try (RunRecord record = RunRecord.open(files[i])) {
                    digests[i] = record.identity().sha256();
                    assertThat(record.end()).contains("");
                    assertThat(record.samples()).isEqualTo(300 * 64);
                }
            }

            assertThat(digests[1]).isEqualTo(digests[0]);
        }

        @Test
        void refuses_a_block_of_a_time_that_is_over_and_keeps_the_rest() {
            Path file = folder.resolve("back.run");
            QueuedRunWriter writer = new QueuedRunWriter(SqliteRunWriter.create(file, Runs.simulated()));
            for (int number : new int[] {0, 1, 0}) {
                Runs.writeBlock(writer, 3, number);
            }

            assertThatThrownBy(() -> writer.finish(""))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageStartingWith("time goes back");

            try (RunRecord record = RunRecord.open(file)) {
                assertThat(record.samples()).isEqualTo(128);
                assertThat(record.gaps()).extracting(g -> g.samples()).containsExactly(64L);
                assertThat(record.end().orElseThrow()).startsWith("the record could not be written: time goes back");
                assertThat(record.notices()).isEmpty();
            }
        }
    }

    /** Random rows, a disk of random delays, buffers of random size: each sample is written or counted, in order. */
    @Test
    void every_sample_is_either_written_or_counted() {
        for (int seed = 1; seed <= 40; seed++) {
            Random random = new Random(seed);
            Random delays = new Random(-seed);
            int slow = random.nextInt(3);
            SlowWriter below = new SlowWriter(
                    row -> delays.nextInt(20) == 0 ? delays.nextInt(2000) : slow == 0 ? 0 : delays.nextInt(slow * 40));
            QueuedRunWriter writer = new QueuedRunWriter(below, (1 + random.nextInt(30)) * (long) BLOCK_BYTES);
            List<String> given = new ArrayList<>();
            long samples = 0;
            int blocks = 800;
            for (int number = 0; number < blocks; number++) {
                if (random.nextInt(10) == 0) {
                    writer.event(event("event-" + number));
                    given.add("event event-" + number);
                }
                if (random.nextInt(200) == 0) {
                    writer.session(number * 200L, number, 0, "away");
                    given.add("session " + number * 200L + " " + number + " away");
                }
                block(writer, number);
                given.add("block " + number + " " + number * 200L + " 2 " + (short) number);
                samples += 2;
                if (random.nextInt(30) == 0) {
                    java.util.concurrent.locks.LockSupport.parkNanos(random.nextInt(300_000));
                }
            }
            writer.finish("");

            assertAccounted(seed, given, samples, below.rows, writer.droppedSamples());
        }
    }

    private static void assertAccounted(
            int seed, List<String> given, long samples, List<String> written, long dropped) {
        long inBlocks = 0;
        long inGaps = 0;
        int at = 0;
        for (String row : written.subList(0, written.size() - 1)) {
            String[] words = row.split(" ");
            if (words[0].equals("gap")) {
                inGaps += Long.parseLong(words[3]);
                assertThat(Long.parseLong(words[2]) - Long.parseLong(words[1]))
                        .as("seed %d: %s spans its samples", seed, row)
                        .isEqualTo((Long.parseLong(words[3]) + 1) * 100);
                continue;
            }
            // in the order of giving, with nothing but blocks left out in between
            while (at < given.size() && !given.get(at).equals(row)) {
                assertThat(given.get(at)).as("seed %d: left out", seed).startsWith("block ");
                at++;
            }
            assertThat(at).as("seed %d: %s was given", seed, row).isLessThan(given.size());
            at++;
            inBlocks += words[0].equals("block") ? Long.parseLong(words[3]) : 0;
        }
        assertThat(inBlocks + inGaps).as("seed %d: samples", seed).isEqualTo(samples);
        assertThat(dropped).as("seed %d: dropped", seed).isEqualTo(inGaps);
    }
}
