package org.shiftstand.faults;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;

/**
 * The program in a process of its own, to be signalled. What it says is kept in files {@code NAME.out} and {@code
 * NAME.err} of its folder. Its standard
 * input is empty, or what is typed where it is told that there is a keyboard.
 *
 * <p>Started as users do with {@code -Dfaults.launcher=./shiftstand}; else from this machine's class path. Closing kills it.
 */
final class Child implements AutoCloseable {
    /** Tells a program that somebody is there to answer, as the launcher does on a terminal; with {@link #TERMINAL}. */
    static final String KEYBOARD = "-Dshiftstand.keyboard=true";

    /** First compiler tier only: many start at once, and each lives for seconds. A later option goes before it. */
    private static final String SHORT_RUN = "-XX:TieredStopAtLevel=1";

    /** All tiers, as a run of hours has them. */
    static final String LONG_RUN = "-XX:TieredStopAtLevel=4";

    static final String TERMINAL = "-Dshiftstand.terminal=true";

    private final Process process;
    private final Path out;
    private final Path err;
    private final String what;

    private Child(Process process, Path out, Path err, String what) {
        this.process = process;
        this.out = out;
        this.err = err;
        this.what = what;
    }

    /** Starts {@code shiftstand ARGUMENTS} in a folder. */
    static Child start(Path folder, String name, String... arguments) {
        return start(folder, name, List.of(), arguments);
    }

    /** Starts it with options of the Java machine. */
    static Child start(Path folder, String name, List<String> javaOptions, String... arguments) {
        return start(folder, name, List.of(), javaOptions, arguments);
    }

    /**
     * Starts a rig: a real one's processor is its own, so that its simulation goes before everything else on this machine
     * where the system allows it (root); else it runs like others.
     */
    static Child startRig(Path folder, String name, String... arguments) {
        return start(folder, name, List.of("nice", "-n", "-10"), List.of(), arguments);
    }

    private static Child start(
            Path folder, String name, List<String> by, List<String> javaOptions, String... arguments) {
        Path out = folder.resolve(name + ".out");
        Path err = folder.resolve(name + ".err");
        try {
            ProcessBuilder builder = new ProcessBuilder(command(by, javaOptions, arguments))
                    .directory(folder.toFile())
                    .redirectOutput(out.toFile()) // files: a full pipe would stop a program that nobody reads
                    .redirectError(err.toFile());
            builder.environment().put("SHIFTSTAND_JAVA_OPTS", SHORT_RUN + " " + String.join(" ", javaOptions));
            Process process = builder.start();
            if (!javaOptions.contains(KEYBOARD)) {
                process.getOutputStream().close();
            }
            return new Child(process, out, err, name + ": " + String.join(" ", arguments));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<String> command(List<String> by, List<String> javaOptions, String... arguments) {
        List<String> command = new ArrayList<>(by);
        String launcher = System.getProperty("faults.launcher", "");
        if (!launcher.isEmpty()) {
            command.add(Path.of(launcher).toAbsolutePath().toString());
        } else {
            command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
            command.addAll(List.of("-Xmx256m", "-XX:+UseSerialGC", SHORT_RUN, "-Xshare:auto", "-Dfile.encoding=UTF-8"));
            command.addAll(javaOptions);
            command.addAll(List.of("-cp", classPath(), "org.shiftstand.cli.Main"));
        }
        command.addAll(List.of(arguments));
        return command;
    }

    /** Absolute, since the program is started elsewhere. */
    private static String classPath() {
        return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator, -1))
                .map(entry -> Path.of(entry).toAbsolutePath().toString())
                .collect(Collectors.joining(File.pathSeparator));
    }

    long pid() {
        return process.pid();
    }

    boolean alive() {
        return process.isAlive();
    }

    /** Sends a signal by its name, such as {@code KILL}; returns once it is sent. */
    void signal(String name) {
        try {
            Process kill = new ProcessBuilder("kill", "-" + name, Long.toString(process.pid())).start();
            if (!kill.waitFor(10, TimeUnit.SECONDS) || kill.exitValue() != 0) {
                throw new IllegalStateException("signal " + name + " could not be sent to " + what);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }

    /** SIGKILL, at once and without a helping process; waits for the end. */
    void kill() {
        process.toHandle().destroyForcibly();
        exit(Duration.ofSeconds(20));
    }

    /** Waits for the end; a program that does not end is killed, and an error. */
    int exit(Duration longest) {
        try {
            if (!process.waitFor(longest.toMillis(), TimeUnit.MILLISECONDS)) {
                process.destroyForcibly().waitFor(10, TimeUnit.SECONDS);
                throw new AssertionError("still running after " + longest.toSeconds() + " s: " + said());
            }
            return process.exitValue();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted while waiting for " + what, e);
        }
    }

    /** Types a line. */
    void type(String line) {
        try {
            process.getOutputStream().write((line + "\n").getBytes(StandardCharsets.UTF_8));
            process.getOutputStream().flush();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Standard output so far. */
    String out() {
        return read(out);
    }

    /** Standard error so far. */
    String err() {
        return read(err);
    }

    /** Everything it said, for messages of tests. */
    String said() {
        return what + System.lineSeparator() + "standard output: " + out() + System.lineSeparator() + "standard error: "
                + err();
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
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
