package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.shiftstand.record.RunRecord;

/** A disk that fills while a run goes on, or has no room to begin with: a small file system of its own in memory. */
final class FullDisk {
    private static final Duration ENDS = Duration.ofSeconds(120);

    private FullDisk() {}

    /** Whether one can be mounted here: only root can. */
    static boolean possible() {
        try {
            Path at = Files.createTempDirectory("shiftstand-disk");
            boolean mounted = run("mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", at.toString());
            if (mounted) {
                run("umount", at.toString());
            }
            Files.delete(at);
            return mounted;
        } catch (IOException e) {
            return false;
        }
    }

    /** Filled by somebody else at a random moment, over a pseudo-terminal: the supply goes off, what is there stays. */
    static Seen filled(long seed, Path folder) throws Exception {
        Random random = new Random(seed);
        Path disk = Files.createDirectories(folder.resolve("disk"));
        mount(disk, "160m"); // a run asks for 72 MiB before it starts
        try (Rig rig = Rig.start(folder, "rig", "seed=" + seed)) {
            Path procedure = Files.writeString(folder.resolve("short.yaml"), Check.SHORT);
            try (Child child = Child.start(
                    folder,
                    "check",
                    "check",
                    "--rig",
                    rig.address(),
                    "--procedure",
                    procedure.toString(),
                    "--spec",
                    "tarn-drive-end-of-line",
                    "--unit",
                    "TD-" + seed,
                    "--attended",
                    "--out",
                    disk.resolve("out").toString())) {
                Check check = new Check(child, disk.resolve("out"));
                Left left = check.left();
                Wait.pause(Duration.ofMillis(1000 + random.nextInt(6000)));
                long at = System.nanoTime();
                fill(disk.resolve("somebody-elses.file"));
                // a run with a page or two of room left may need some blocks to fill them
                SupplyLog.Change off = rig.log().awaitOffAfter(at, Duration.ofSeconds(20));
                int code = child.exit(ENDS);
                assertThat(code).as(child.said()).isNotIn(0, 70);
                assertThat(child.err() + child.out()).doesNotContain("\tat ", "Exception");
                assertThat((child.err() + child.out()).toLowerCase(java.util.Locale.ROOT))
                        .as("what it says")
                        .containsAnyOf("full", "no room", "no space");
                Left copy = left.copiedTo(folder.resolve("copy"));
                try (RunRecord record = RunRecord.open(copy.file())) {
                    assertThat(record.samples()).isPositive();
                    assertThat(record.notices()).noneMatch(notice -> notice.contains("changed or damaged"));
                }
                copy.judged();
                assertThat(off.cause()).as("by the host, not by the watchdog").isNotEqualTo("watchdog");
                return Seen.survived();
            }
        } finally {
            run("umount", disk.toString());
        }
    }

    /** Not enough for the run that is asked for: nothing is started. */
    static Seen tooSmall(long seed, Path folder) throws Exception {
        Path disk = Files.createDirectories(folder.resolve("disk"));
        mount(disk, "2m");
        try (Child child = Child.start(
                folder,
                "check",
                "check",
                "--rig",
                "sim:seed=" + seed,
                "--procedure",
                "long-run",
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "TD-" + seed,
                "--out",
                disk.resolve("out").toString())) {
            int code = child.exit(ENDS);
            assertThat(code).as(child.said()).isEqualTo(2);
            assertThat(child.err() + child.out()).doesNotContain("\tat ", "Exception");
            assertThat(Left.in(disk.resolve("out"))).as("no record").isEmpty();
            return Seen.survived();
        } finally {
            run("umount", disk.toString());
        }
    }

    private static void mount(Path disk, String size) throws IOException {
        if (!run("mount", "-t", "tmpfs", "-o", "size=" + size, "tmpfs", disk.toString())) {
            throw new IOException("no tmpfs could be mounted at " + disk);
        }
    }

    private static void fill(Path file) {
        try (OutputStream out = Files.newOutputStream(file)) {
            byte[] some = new byte[4096];
            while (true) {
                out.write(some);
            }
        } catch (IOException full) {
            // as wanted
        }
    }

    private static boolean run(String... command) {
        try {
            Process process = new ProcessBuilder(command)
                    .redirectErrorStream(true)
                    .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                    .start();
            return process.waitFor(20, TimeUnit.SECONDS) && process.exitValue() == 0;
        } catch (IOException e) {
            return false;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }
}
