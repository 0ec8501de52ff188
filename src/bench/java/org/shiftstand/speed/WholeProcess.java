package org.shiftstand.speed;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.record.RunRecord;

/**
 * Times whole runs of the launcher, from start to exit, wall clock, and prints rows of a table in Markdown: median and
 * spread of several runs, after one run that is not counted.
 */
public final class WholeProcess {
    private static final PrintStream OUT = new PrintStream(System.out, true, StandardCharsets.UTF_8);

    private final Path launcher;
    private final Path work;

    private WholeProcess(Path launcher, Path work) {
        this.launcher = launcher;
        this.work = work;
    }

    /** {@code LAUNCHER WORK-FOLDER CAPTURE RUNS LONG-RECORD LONG-CAPTURE ROWS-OF-LONG-CAPTURE}. */
    public static void main(String[] args) throws IOException, InterruptedException {
        WholeProcess whole = new WholeProcess(Path.of(args[0]), Path.of(args[1]));
        String capture = args[2];
        int runs = Integer.parseInt(args[3]);
        String spec = "specs/passive-capture.spec.yaml";
        OUT.println("| command | median | least to most | runs | promise |");
        OUT.println("|---|---:|---:|---:|---|");
        whole.time("`--help`", "< 0.3 s", runs * 2, "--help");
        whole.time("`measure` of bench-a", "< 1.5 s", runs, "measure", capture);
        whole.time("`judge` of bench-a", "< 1.5 s", runs, "judge", capture, "--spec", spec);
        whole.time(
                "`judge --report` of bench-a", "< 2.5 s", runs, "judge", capture, "--spec", spec, "--report", "{new}");
        whole.time("`judge` of a record of 8 h at 512 Hz", "< 3 s", runs, "judge", args[4], "--spec", spec);
        whole.demo(Math.max(3, runs / 2));
        whole.memory(args[5], Long.parseLong(args[6]));
    }

    /** One row. {@code {new}} among the arguments stands for a folder that does not exist yet. */
    private void time(String what, String promise, int runs, String... arguments)
            throws IOException, InterruptedException {
        run(arguments);
        double[] seconds = new double[runs];
        for (int i = 0; i < runs; i++) {
            seconds[i] = run(arguments).seconds();
        }
        row(what, seconds, promise);
    }

    /** Simulated time over the time that the command took. */
    private void demo(int runs) throws IOException, InterruptedException {
        double[] seconds = new double[runs];
        double simulatedS = 0;
        for (int i = 0; i < runs; i++) {
            Path folder = newFolder();
            seconds[i] = run("demo", "--out", folder.toString()).seconds();
            simulatedS = simulatedS(folder);
        }
        row("`demo`", seconds, "");
        OUT.printf(
                Locale.ROOT,
                "| `demo`, times real time (%.0f s simulated) | %.0f × | | %d | ≥ 300 × |%n",
                simulatedS,
                simulatedS / median(seconds),
                runs);
    }

    private void memory(String capture, long rows) throws IOException, InterruptedException {
        Run run = run(
                "measure",
                capture,
                "--out",
                newFolder().resolveSibling("long.csv").toString());
        OUT.printf(
                Locale.ROOT,
                "| `measure` of a CSV of %.0f million rows, heap 256 MiB | %.1f s | %.1f million rows/s; at most %s resident | 1 | it ends |%n",
                rows / 1e6,
                run.seconds(),
                rows / 1e6 / run.seconds(),
                run.peakKb() == 0 ? "(not known here)" : run.peakKb() / 1024 + " MiB");
    }

    /** How long one run took, and its largest resident memory where the system tells (Linux), else 0. */
    private record Run(double seconds, long peakKb) {}

    private Run run(String... arguments) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(launcher.toString()));
        for (String argument : arguments) {
            command.add(argument.equals("{new}") ? newFolder().toString() : argument);
        }
        Path errors = work.resolve("stderr.txt");
        long start = System.nanoTime();
        Process process = new ProcessBuilder(command)
                .redirectOutput(work.resolve("stdout.txt").toFile())
                .redirectError(errors.toFile())
                .start();
        long peakKb = 0;
        while (!process.waitFor(200, TimeUnit.MILLISECONDS)) {
            peakKb = Math.max(peakKb, peakKb(process.pid()));
        }
        double seconds = (System.nanoTime() - start) / 1e9;
        // pass, fail and no verdict are all answers; anything else is not worth timing
        if (process.exitValue() != 0 && process.exitValue() != 1 && process.exitValue() != 3) {
            throw new IllegalStateException(String.join(" ", command) + " ended with " + process.exitValue() + ":\n"
                    + Files.readString(errors));
        }
        return new Run(seconds, peakKb);
    }

    private static long peakKb(long pid) {
        try (Stream<String> lines = Files.lines(Path.of("/proc/" + pid + "/status"))) {
            return lines.filter(l -> l.startsWith("VmHWM:"))
                    .map(l -> l.replaceAll("\\D", ""))
                    .mapToLong(Long::parseLong)
                    .findFirst()
                    .orElse(0);
        } catch (IOException | java.io.UncheckedIOException e) {
            return 0; // no such file on this system, or the process has just ended
        }
    }

    private static double simulatedS(Path folder) throws IOException {
        double sum = 0;
        SampleBlock block = new SampleBlock(4096);
        List<Path> records;
        try (Stream<Path> files = Files.walk(folder)) {
            records = files.filter(f -> f.toString().endsWith(".run"))
                    .sorted(Comparator.naturalOrder())
                    .toList();
        }
        for (Path file : records) {
            double last = 0;
            try (RunRecord record = RunRecord.open(file);
                    SampleReader reader = record.open()) {
                while (reader.next(block)) {
                    last = block.timeS[block.size() - 1];
                }
            }
            sum += last;
        }
        return sum;
    }

    private Path newFolder() throws IOException {
        return Files.createTempDirectory(work, "run").resolve("out");
    }

    private static void row(String what, double[] seconds, String promise) {
        double[] sorted = seconds.clone();
        Arrays.sort(sorted);
        OUT.printf(
                Locale.ROOT,
                "| %s | %.2f s | %.2f to %.2f s | %d | %s |%n",
                what,
                median(seconds),
                sorted[0],
                sorted[sorted.length - 1],
                sorted.length,
                promise);
    }

    private static double median(double[] seconds) {
        double[] sorted = seconds.clone();
        Arrays.sort(sorted);
        int middle = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
