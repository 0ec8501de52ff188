package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.record.RunRecord;

/** A check that is killed with SIGKILL in the middle of its run. */
class KilledCheckTest {
    private static final int SOME_BLOCKS_BYTES = 3_000_000; // mostly log: a commit takes one or two pages

    @TempDir
    Path folder;

    @Test
    void leaves_a_record_that_opens_and_can_be_judged() {
        try (Cli.Running check = Cli.in(folder)
                .start(
                        "check",
                        "--rig",
                        "sim:seed=7",
                        "--procedure",
                        "long-run",
                        "--spec",
                        "tarn-drive-end-of-line",
                        "--unit",
                        "TD-0107",
                        "--out",
                        folder.resolve("out").toString())) {
            await().atMost(Duration.ofSeconds(60))
                    .pollInterval(Duration.ofMillis(20))
                    .until(() -> !check.alive() || recorded() > SOME_BLOCKS_BYTES);
            assertThat(check.alive()).as("it ended by itself: %s", check.err()).isTrue();
            check.kill();
        }

        Path record = record().orElseThrow();
        try (RunRecord left = RunRecord.open(record)) {
            assertThat(left.end()).isEmpty();
            assertThat(left.header().unit()).isEqualTo("TD-0107");
            assertThat(left.texts()).containsKeys("procedure", "spec", "profile");
            assertThat(left.requests()).isNotEmpty();
            assertThat(read(left)).isEqualTo(left.samples()).isGreaterThan(10_000);
        }
        Cli.Result judged =
                Cli.in(folder).run("judge", record.toString(), "--spec", "tarn-drive-end-of-line", "--json");
        assertThat(judged.exitCode()).as(judged.err()).isIn(1, 3); // a part of a run never passes for the whole
        assertThat(judged.out()).contains("\"format\"");
        assertThat(reports()).as("no report that looks finished").isEmpty();
    }

    private static long read(RunRecord record) {
        SampleBlock block = new SampleBlock(1000);
        long samples = 0;
        try (SampleReader reader = record.open()) {
            while (reader.next(block)) {
                samples += block.size();
            }
        }
        return samples;
    }

    private long recorded() {
        return files().stream()
                .filter(f -> f.toString().endsWith(".run") || f.toString().endsWith(".run-wal"))
                .mapToLong(f -> f.toFile().length())
                .sum();
    }

    private Optional<Path> record() {
        return files().stream().filter(f -> f.toString().endsWith(".run")).findFirst();
    }

    private List<Path> reports() {
        return files().stream().filter(f -> f.toString().endsWith(".html")).toList();
    }

    private List<Path> files() {
        Path out = folder.resolve("out");
        if (Files.notExists(out)) {
            return List.of();
        }
        try (Stream<Path> files = Files.walk(out)) {
            return files.filter(Files::isRegularFile)
                    .sorted(Comparator.naturalOrder())
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (UncheckedIOException e) {
            return List.of(); // a file of the log was renamed or removed while it was listed
        }
    }
}
