package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;

class KilledRunTest {
    @TempDir
    Path folder;

    private Path file() {
        return folder.resolve("killed.run");
    }

    /** SIGKILL after so many blocks; 1500 blocks are past the first checkpoint of the write-ahead log. */
    @ParameterizedTest
    @ValueSource(ints = {1, 40, 1500})
    void a_killed_program_leaves_every_block_that_it_had_written(int blocks) throws Exception {
        long last = killAfter(blocks);

        try (RunRecord record = RunRecord.open(file())) {
            List<Runs.Sample> read = Runs.read(record, 1000);
            assertThat(record.end()).isEmpty();
            assertThat(record.notices()).containsExactly("the run was not finished: the record ends where it stopped");
            assertThat(record.gaps()).isEmpty();
            assertThat(read.size() % Runs.BLOCK).isZero();
            assertThat((long) read.size() / Runs.BLOCK).isGreaterThan(last);
            for (int i = 0; i < read.size(); i++) {
                short[] wrote = Runs.samples(KilledRun.SEED, i / Runs.BLOCK);
                assertThat(read.get(i).sin()).as("sample %d", i).isEqualTo(wrote[i % Runs.BLOCK * 4]);
            }
        }
    }

    @Test
    void opening_changes_neither_the_file_nor_its_log() throws Exception {
        killAfter(20);
        byte[] before = Files.readAllBytes(file());
        byte[] log = Files.readAllBytes(RecordFile.beside(file(), "-wal"));

        String sha256;
        try (RunRecord record = RunRecord.open(file())) {
            sha256 = record.identity().sha256();
        }

        assertThat(file()).hasBinaryContent(before);
        assertThat(RecordFile.beside(file(), "-wal")).hasBinaryContent(log);
        try (RunRecord record = RunRecord.open(file())) {
            assertThat(record.identity().sha256()).isEqualTo(sha256);
        }
    }

    @Test
    void without_its_log_the_record_opens_and_says_what_may_be_missing() throws Exception {
        killAfter(20);
        Path alone = Files.copy(file(), folder.resolve("alone.run"));

        try (RunRecord record = RunRecord.open(alone)) {
            assertThat(record.header()).isEqualTo(Runs.header());
            assertThat(record.notices())
                    .containsExactly(
                            "the record was not closed and its file alone.run-wal is not beside it: what was recorded last"
                                    + " may be missing. Copy both files, or neither.",
                            "the run was not finished: the record ends where it stopped");
        }
    }

    /** SIGKILL three times at moments that the seed gives, 0 to 2 checkpoints of the log away from each other. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4})
    void a_run_killed_again_and_again_goes_on_each_time_and_loses_nothing(int seed) throws Exception {
        Random random = new Random(seed);
        boolean queued = seed % 2 == 0;
        List<Long> firstBlocks = new ArrayList<>(List.of(1L));
        for (int kill = 1; kill <= 3; kill++) {
            long last = killAfter(1 + random.nextInt(1200), queued);
            Path copy = folder.resolve("copy-" + kill + ".run");
            Files.copy(file(), copy);
            Files.copy(RecordFile.beside(file(), "-wal"), RecordFile.beside(copy, "-wal"));
            long blocks = blocksIn(copy, "seed " + seed + ", kill " + kill);
            if (!queued) {
                assertThat(blocks).as("seed %d, kill %d", seed, kill).isGreaterThan(last);
            }
            firstBlocks.add(blocks + 1);
        }

        try (SqliteRunWriter writer = SqliteRunWriter.resume(file())) {
            long at;
            try (RunRecord record = RunRecord.open(file())) {
                at = record.lastMicros() + KilledRun.AWAY_MICROS;
            }
            writer.session(at, at, 0, "the last");
            KilledRun.write(writer, firstBlocks.get(3) - 1, 0, at);
            writer.finish("");
        }

        assertThat(blocksIn(file(), "seed " + seed)).isEqualTo(firstBlocks.get(3));
        try (RunRecord record = RunRecord.open(file())) {
            assertThat(record.sessions())
                    .extracting(Session::firstBlock)
                    .as("seed %d", seed)
                    .isEqualTo(firstBlocks);
            long withSamplesBefore =
                    firstBlocks.stream().filter(first -> first > 1).distinct().count();
            assertThat(record.breaks()).as("seed %d", seed).hasSize((int) withSamplesBefore);
            assertThat(record.notices()).as("seed %d", seed).isEmpty();
            assertThat(record.end()).contains("");
        }
    }

    @Test
    void a_record_that_another_program_writes_is_not_gone_on_with() throws Exception {
        Process child = start(false);
        try (BufferedReader out = child.inputReader(StandardCharsets.US_ASCII)) {
            assertThat(out.readLine()).isEqualTo("0");

            assertThatThrownBy(() -> SqliteRunWriter.resume(file()))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(file() + ": is being written by process " + child.pid()
                            + "; wait until that run is over, or end it first.");

            child.toHandle().destroyForcibly();
            assertThat(child.waitFor(20, TimeUnit.SECONDS)).isTrue();
        } finally {
            child.destroyForcibly();
        }
        SqliteRunWriter.resume(file()).close();
    }

    /** How many blocks a record holds; each is what was written, none is missing, and every tenth has its event and place. */
    private static long blocksIn(Path file, String as) {
        try (RunRecord record = RunRecord.open(file)) {
            List<Runs.Sample> read = Runs.read(record, 1000);
            assertThat(read.size() % Runs.BLOCK).as(as).isZero();
            assertThat(record.gaps()).as(as).isEmpty();
            for (int i = 0; i < read.size(); i++) {
                short[] wrote = Runs.samples(KilledRun.SEED, i / Runs.BLOCK);
                assertThat(read.get(i).sin()).as("%s, sample %d", as, i).isEqualTo(wrote[i % Runs.BLOCK * 4]);
            }
            long blocks = read.size() / Runs.BLOCK;
            List<Integer> tenths =
                    record.events().stream().map(RunEvent::cycle).distinct().toList();
            assertThat(tenths).as(as).hasSizeBetween((int) ((blocks + 9) / 10), (int) (blocks / 10 + 1));
            // event and place come before their block: it may have been killed in between
            record.place()
                    .ifPresentOrElse(
                            place -> assertThat(place.action()).as(as).isIn((int) ((blocks - 1) / 10 * 10), (int)
                                    (blocks / 10 * 10)),
                            () -> assertThat(blocks).as(as).isZero());
            return blocks;
        }
    }

    private long killAfter(int blocks) throws IOException, InterruptedException {
        return killAfter(blocks, false);
    }

    private Process start(boolean queued) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx64m",
                "-cp",
                System.getProperty("java.class.path"),
                KilledRun.class.getName(),
                file().toString()));
        if (queued) {
            command.add("queued");
        }
        return new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
    }

    /** @return number of the last block that the program said it had written */
    private long killAfter(int blocks, boolean queued) throws IOException, InterruptedException {
        Process child = start(queued);
        try (BufferedReader out = child.inputReader(StandardCharsets.US_ASCII)) {
            long last = -1;
            for (int i = 0; i < blocks; i++) {
                String line = out.readLine();
                assertThat(line).as("the program ended before it was killed").isNotNull();
                last = Long.parseLong(line);
            }
            child.toHandle().destroyForcibly(); // SIGKILL; the process's own method would close what it printed
            assertThat(child.waitFor(20, TimeUnit.SECONDS)).isTrue();
            // what it acknowledged between our decision and its end
            for (String line = out.readLine(); line != null; line = out.readLine()) {
                if (line.matches("\\d+") && Long.parseLong(line) == last + 1) {
                    last++;
                }
            }
            return last;
        } finally {
            child.destroyForcibly();
        }
    }
}
