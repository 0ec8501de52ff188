package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A real small disk, where this user may mount one; skipped, and said, where not. */
@Timeout(120)
class FullDiskTest {
    private static final long SEED = 31;

    @TempDir
    Path folder;

    private boolean mounted;

    private Path file() {
        return folder.resolve("unit.run");
    }

    private void mount(int mib) throws IOException, InterruptedException {
        String refused = run("mount", "-t", "tmpfs", "-o", "size=" + mib + "m", "tmpfs", folder.toString());
        Assumptions.assumeTrue(refused.isEmpty(), "no small disk can be mounted here: " + refused);
        mounted = true;
    }

    @AfterEach
    void unmount() throws IOException, InterruptedException {
        if (mounted) {
            assertThat(run("umount", folder.toString())).isEmpty();
        }
    }

    /** @return what it said where it failed, else nothing */
    private static String run(String... command) throws IOException, InterruptedException {
        Process process;
        try {
            process = new ProcessBuilder(command).redirectErrorStream(true).start();
        } catch (IOException e) {
            return String.valueOf(e.getMessage());
        }
        String said = new String(process.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        boolean ended = process.waitFor(20, TimeUnit.SECONDS);
        return ended && process.exitValue() == 0 ? "" : "failed: " + said.strip();
    }

    /** Blocks until the disk is full; @return how many were given, the one that found it full included. */
    private static int fill(RunWriter writer) {
        int number = 0;
        while (true) {
            try {
                Runs.writeBlock(writer, SEED, number++);
            } catch (UncheckedIOException e) {
                assertThat(e.getMessage())
                        .contains("the run record cannot be written: ")
                        .contains("full");
                return number;
            }
        }
    }

    private void assertHolds(RunRecord record, long blocks) {
        List<Runs.Sample> read = Runs.read(record, 64);
        assertThat(read.size()).isEqualTo(blocks * 64);
        for (int i = 0; i < read.size(); i += 7) {
            assertThat(read.get(i).sin()).as("sample %d", i).isEqualTo(Runs.samples(SEED, i / 64)[i % 64 * 4]);
        }
    }

    @Test
    void a_run_is_finished_with_its_reason_and_sealed_and_nothing_of_it_is_lost() throws Exception {
        mount(24);
        SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.header());

        int given = fill(writer);
        assertThatThrownBy(() -> Runs.writeBlock(writer, SEED, given)).isInstanceOf(UncheckedIOException.class);
        writer.event(new RunEvent(1, "supply-off", 0, 0, 0, 0, "", 0, ""));
        writer.finish("the disk is full");

        assertThat(given).isGreaterThan(10_000);
        assertThat(folder.toFile().list()).containsExactly("unit.run");
        try (RunRecord record = RunRecord.open(file())) {
            assertHolds(record, given);
            assertThat(record.events()).extracting(RunEvent::kind).containsExactly("supply-off");
            assertThat(record.end()).contains("the disk is full");
            assertThat(record.notices()).isEmpty();
        }
    }

    @Test
    void another_program_may_be_the_one_that_fills_it_at_any_moment() throws Exception {
        mount(24);
        for (int seed = 1; seed <= 12; seed++) {
            Path file = folder.resolve("unit-" + seed + ".run");
            Path ballast = folder.resolve("ballast");
            SqliteRunWriter writer = SqliteRunWriter.create(file, Runs.header());
            int before = new Random(seed).nextInt(700);
            for (int number = 0; number < before; number++) {
                Runs.writeBlock(writer, SEED, number);
            }
            assertThat(catchThrowable(() -> Files.write(ballast, new byte[32 << 20])))
                    .isInstanceOf(IOException.class);
            int given = before;
            UncheckedIOException told = null;
            while (told == null) {
                try {
                    Runs.writeBlock(writer, SEED, given++);
                } catch (UncheckedIOException e) {
                    told = e;
                }
            }
            writer.finish("the disk is full");

            assertThat(folder.toFile().list())
                    .containsExactlyInAnyOrder(file.getFileName().toString(), "ballast");
            try (RunRecord record = RunRecord.open(file)) {
                assertThat(record.end()).as("seed %d", seed).contains("the disk is full");
                assertThat(record.notices()).as("seed %d", seed).isEmpty();
                assertHolds(record, given);
            }
            Files.delete(ballast);
            Files.delete(file);
        }
    }

    @Test
    void behind_a_queue_every_sample_is_in_the_record_or_counted() throws Exception {
        mount(24);
        QueuedRunWriter writer = new QueuedRunWriter(SqliteRunWriter.create(file(), Runs.simulated()));

        int given = fill(writer); // the last one was not taken
        writer.finish("the disk is full");

        try (RunRecord record = RunRecord.open(file())) {
            assertThat(record.notices()).isEmpty();
            assertThat(record.end()).contains("the disk is full");
            long counted = record.gaps().stream().mapToLong(g -> g.samples()).sum();
            assertThat(record.samples() + counted).isEqualTo(given * 64L);
            assertThat(counted).isEqualTo(writer.droppedSamples());
            assertHolds(record, record.samples() / 64);
        }
    }

    @Test
    void a_run_is_not_begun_where_there_is_no_room_for_its_end() throws Exception {
        mount(4);

        assertThatThrownBy(() -> SqliteRunWriter.create(file(), Runs.header()))
                .isInstanceOf(UncheckedIOException.class)
                .hasMessageContaining("no room for the 8 MiB that the end of a run may need")
                .hasMessageEndingWith("Make room, or record to another disk.");

        assertThat(folder).isEmptyDirectory();
    }

    @Test
    void a_record_is_not_continued_in_a_copy_where_there_is_no_room_for_it() throws Exception {
        mount(24);
        SqliteRunWriter writer = SqliteRunWriter.create(file(), Runs.simulated());
        fill(writer);
        writer.finish("the disk is full");

        assertThatThrownBy(() -> SqliteRunWriter.continueFrom(file(), folder.resolve("next.run")))
                .isInstanceOf(UncheckedIOException.class)
                .hasMessageContaining("next.run: the run record cannot be written: ");

        assertThat(folder.toFile().list()).containsExactly("unit.run");
    }
}
