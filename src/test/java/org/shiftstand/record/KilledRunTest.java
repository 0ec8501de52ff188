package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

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

    /** @return number of the last block that the program said it had written */
    private long killAfter(int blocks) throws IOException, InterruptedException {
        Process child = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xmx64m",
                        "-cp",
                        System.getProperty("java.class.path"),
                        KilledRun.class.getName(),
                        file().toString())
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        try (BufferedReader out = child.inputReader(StandardCharsets.US_ASCII)) {
            long last = -1;
            while (last < blocks - 1) {
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
