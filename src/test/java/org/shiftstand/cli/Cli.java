package org.shiftstand.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/**
 * Runs the program in a Java machine of its own, as a user would: arguments in; exit code, standard output and standard
 * error out. Each setting gives a new one.
 *
 * <pre>{@code
 * Cli.Result result = Cli.in(folder).run("measure", capture.toString());
 * assertThat(result.exitCode()).isZero();
 * }</pre>
 */
public final class Cli {
    private static final Duration USUAL_TIMEOUT = Duration.ofSeconds(120);

    private final Path folder;
    private final Duration timeout;
    private final List<String> javaOptions;
    private final Map<String, String> environment;
    private final List<String> left;
    private final String typed;

    private Cli(
            Path folder,
            Duration timeout,
            List<String> javaOptions,
            Map<String, String> environment,
            List<String> left,
            String typed) {
        this.folder = folder;
        this.timeout = timeout;
        this.javaOptions = List.copyOf(javaOptions);
        this.environment = new LinkedHashMap<>(environment);
        this.left = List.copyOf(left);
        this.typed = typed;
    }

    /** Started in this folder: relative names and {@code ./reports} belong there. Heap 256 MiB, as the launcher gives. */
    public static Cli in(Path folder) {
        return new Cli(
                folder,
                USUAL_TIMEOUT,
                List.of("-Xmx256m", "-XX:+UseSerialGC", "-Dfile.encoding=UTF-8"),
                Map.of(),
                List.of(),
                "");
    }

    /** With options of the Java machine, such as {@code -Duser.language=de} or {@code -Xlog:class+load}. */
    public Cli java(String... options) {
        List<String> all = new ArrayList<>(javaOptions);
        all.addAll(List.of(options));
        return new Cli(folder, timeout, all, environment, left, typed);
    }

    /** With a variable of the environment, such as {@code TZ}. */
    public Cli environment(String name, String value) {
        Map<String, String> all = new LinkedHashMap<>(environment);
        all.put(name, value);
        return new Cli(folder, timeout, javaOptions, all, left, typed);
    }

    /** Killed after so long; a killed run fails the test. */
    public Cli timeout(Duration longest) {
        return new Cli(folder, longest, javaOptions, environment, left, typed);
    }

    /** Without the libraries whose file names begin so, as a command without them on its class path. */
    public Cli without(String... libraries) {
        return new Cli(folder, timeout, javaOptions, environment, List.of(libraries), typed);
    }

    /** With standard input as if this had been typed; else it is empty. */
    public Cli typing(String text) {
        return new Cli(folder, timeout, javaOptions, environment, left, text);
    }

    /** Runs to the end. */
    public Result run(String... arguments) {
        try (Running running = start(arguments)) {
            return running.result();
        }
    }

    /** Starts and gives back a program that runs: to be watched, signalled, killed. */
    public Running start(String... arguments) {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(javaOptions);
        command.add("-cp");
        command.add(classPath());
        command.add("org.shiftstand.cli.Main");
        command.addAll(List.of(arguments));
        try {
            Path out = Files.createTempFile("shiftstand", ".out");
            Path err = Files.createTempFile("shiftstand", ".err");
            ProcessBuilder builder = new ProcessBuilder(command)
                    .directory(folder.toFile())
                    .redirectOutput(out.toFile()) // files: a full pipe would stop a program that nobody reads
                    .redirectError(err.toFile());
            builder.environment().putAll(environment);
            Process process = builder.start();
            try (var in = process.getOutputStream()) {
                in.write(typed.getBytes(StandardCharsets.UTF_8));
            }
            return new Running(process, out, err, timeout, String.join(" ", arguments));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Absolute, since the program is started elsewhere. */
    private String classPath() {
        List<String> entries = new ArrayList<>();
        for (String entry : System.getProperty("java.class.path").split(java.io.File.pathSeparator, -1)) {
            String name = Path.of(entry).getFileName().toString();
            if (left.stream().noneMatch(name::startsWith)) {
                entries.add(Path.of(entry).toAbsolutePath().toString());
            }
        }
        return String.join(java.io.File.pathSeparator, entries);
    }

    /**
     * What came of a run.
     *
     * @param out standard output
     * @param err standard error
     */
    public record Result(int exitCode, String out, String err) {
        /** Lines of standard output. */
        public List<String> lines() {
            return out.lines().toList();
        }
    }

    /** A program that runs. Closing kills it. */
    public static final class Running implements AutoCloseable {
        private final Process process;
        private final Path out;
        private final Path err;
        private final Duration timeout;
        private final String what;

        private Running(Process process, Path out, Path err, Duration timeout, String what) {
            this.process = process;
            this.out = out;
            this.err = err;
            this.timeout = timeout;
            this.what = what;
        }

        public long pid() {
            return process.pid();
        }

        public boolean alive() {
            return process.isAlive();
        }

        /** Standard output so far. */
        public String out() {
            return read(out);
        }

        /** Standard error so far. */
        public String err() {
            return read(err);
        }

        /** SIGTERM: the program may still cut the supply and close its record. */
        public void terminate() {
            process.destroy();
        }

        /** SIGINT, as Ctrl-C sends it. */
        public void interrupt() {
            try {
                new ProcessBuilder("kill", "-INT", Long.toString(process.pid()))
                        .start()
                        .waitFor(5, TimeUnit.SECONDS);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }

        /** SIGKILL: nothing of the program runs any more. */
        public void kill() {
            process.destroyForcibly();
            await();
        }

        /** Waits for the end. */
        public Result result() {
            await();
            return new Result(process.exitValue(), out(), err());
        }

        private void await() {
            try {
                if (!process.waitFor(timeout.toMillis(), TimeUnit.MILLISECONDS)) {
                    process.destroyForcibly().waitFor(10, TimeUnit.SECONDS);
                    throw new AssertionError("still running after %d s: %s%nstandard output:%n%s%nstandard error:%n%s"
                            .formatted(timeout.toSeconds(), what, out(), err()));
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new AssertionError("interrupted while waiting for: " + what, e);
            }
        }

        private static String read(Path file) {
            try {
                return new String(Files.readAllBytes(file), StandardCharsets.UTF_8);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        @Override
        public void close() {
            try {
                process.destroyForcibly().waitFor(10, TimeUnit.SECONDS);
                Files.deleteIfExists(out);
                Files.deleteIfExists(err);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
