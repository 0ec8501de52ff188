package org.shiftstand.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * Checks several units at once, each on its own rig and in a process of its own: the crash, the memory or the fault of one
 * never touches another, and no record can be mixed up with another's.
 *
 * <p>What a process prints is printed here line by line, after the unit's id. Ctrl-C and SIGTERM are passed on, and waited for
 * until every supply is cut. When this process is gone without a word, each of the others stops by itself, see
 * {@link ParentWatch}.
 */
final class SeveralChecks {
    /** What a check may take from the wish to stop to its report; {@link SafeStop} allows as much, and some to end. */
    private static final long PATIENCE_S = 75;

    /** From worst to best; any other code is a process that was killed, whose rig cuts by itself. */
    private static final List<Integer> WORST_FIRST = List.of(
            ExitCode.DEFECT,
            ExitCode.RIG,
            ExitCode.BAD_INPUT,
            ExitCode.STOPPED,
            143,
            ExitCode.FAIL,
            ExitCode.NO_VERDICT,
            ExitCode.DONE);

    /**
     * One check.
     *
     * @param arguments of the command line, {@code check} first, for this unit alone
     */
    record Check(String unit, List<String> arguments) {
        Check {
            arguments = List.copyOf(arguments);
        }
    }

    private final PrintWriter out;
    private final PrintWriter err;
    private final Progress line;
    private final Map<String, Process> processes = new LinkedHashMap<>();
    private final Map<String, String> states = new LinkedHashMap<>();
    private final List<Thread> readers = new ArrayList<>();

    private SeveralChecks(PrintWriter out, PrintWriter err, Progress line) {
        this.out = out;
        this.err = err;
        this.line = line;
    }

    /**
     * Units and rigs in pairs, in the order given.
     *
     * @param descriptions of the rigs: none, one for all, or one for each
     * @param others every other argument, the same for all
     * @throws BadInput where they do not go together: all problems at once
     */
    static List<Check> pairs(List<String> units, List<String> rigs, List<String> descriptions, List<String> others) {
        var problems = new ArrayList<Problem>();
        if (units.size() != rigs.size()) {
            problems.add(problem(
                    "--unit",
                    "is given " + times(units.size()) + " and --rig " + times(rigs.size())
                            + "; expected as many of each, in pairs"));
        }
        if (descriptions.size() > 1 && descriptions.size() != rigs.size()) {
            problems.add(problem(
                    "--rig-description",
                    "is given " + times(descriptions.size()) + " for " + rigs.size()
                            + " rigs; expected one for all, or one for each in the order of --rig"));
        }
        twice(units)
                .forEach(unit -> problems.add(problem(
                        "--unit " + unit, "is given twice; a unit is on one rig at a time. Give each unit once")));
        twice(rigs.stream().filter(rig -> rig.startsWith("serial:")).toList())
                .forEach(rig -> problems.add(
                        problem("--rig " + rig, "is given twice; a rig holds one unit at a time. Give each rig once")));
        if (others.contains("--json")) {
            problems.add(problem("--json", "is for one unit; of several, each run's folder holds its result.json"));
        }
        if (others.contains(JUnitOption.NAME)) {
            problems.add(
                    problem(
                            JUnitOption.NAME,
                            "is for one unit; of several, 'shiftstand judge FOLDER --junit FILE' writes one file from their records"));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        var checks = new ArrayList<Check>();
        for (int i = 0; i < units.size(); i++) {
            var arguments = new ArrayList<String>(List.of("check", "--unit", units.get(i), "--rig", rigs.get(i)));
            if (!descriptions.isEmpty()) {
                arguments.add("--rig-description");
                arguments.add(descriptions.get(descriptions.size() == 1 ? 0 : i));
            }
            arguments.addAll(others);
            checks.add(new Check(units.get(i), arguments));
        }
        return checks;
    }

    private static List<String> twice(List<String> words) {
        return words.stream()
                .filter(word -> words.indexOf(word) != words.lastIndexOf(word))
                .distinct()
                .toList();
    }

    private static Problem problem(String where, String text) {
        return new Problem(where, 0, 0, text);
    }

    private static String times(int n) {
        return n == 0 ? "not at all" : n == 1 ? "once" : n + " times";
    }

    /**
     * Runs all at once and waits for the last.
     *
     * @return the worst exit code: a defect (70) before rig, link or guard (4), bad input (2), stopped (130, 143), fail (1), no
     *     verdict (3) and pass (0); a process that was killed counts as 4
     */
    static int run(List<Check> checks, PrintWriter out, PrintWriter err, Progress line) {
        return new SeveralChecks(out, err, line).run(checks);
    }

    private int run(List<Check> checks) {
        Thread hook = new Thread(this::stopAll, "stop-all");
        Runtime.getRuntime().addShutdownHook(hook);
        try {
            for (Check check : checks) {
                start(check);
            }
            return waitForAll();
        } catch (IOException e) {
            stopAll();
            throw new UncheckedIOException(e);
        } finally {
            synchronized (this) {
                line.clear();
            }
            unhook(hook);
        }
    }

    private static void unhook(Thread hook) {
        try {
            Runtime.getRuntime().removeShutdownHook(hook);
        } catch (IllegalStateException ending) {
            // it runs, finds nothing alive, and lets this process end
            Thread.onSpinWait();
        }
    }

    private void start(Check check) throws IOException {
        Process process =
                new ProcessBuilder(command(check)).start(); // its standard input stays open as long as we live
        synchronized (this) {
            processes.put(check.unit(), process);
        }
        readers.add(reads(check.unit(), process.getInputStream(), out));
        readers.add(reads(check.unit(), process.getErrorStream(), err));
    }

    private static List<String> command(Check check) {
        var command = new ArrayList<String>();
        command.add(ProcessHandle.current()
                .info()
                .command()
                .orElse(Path.of(System.getProperty("java.home"), "bin", "java").toString()));
        for (String option : ManagementFactory.getRuntimeMXBean().getInputArguments()) {
            boolean aPersonsPlace =
                    option.startsWith("-Dshiftstand.terminal") || option.startsWith("-Dshiftstand.keyboard");
            if (!aPersonsPlace && !option.startsWith("-agentlib:")) {
                command.add(option);
            }
        }
        command.add("-D" + ParentWatch.ASKED + "=true");
        command.add("-Dshiftstand.progress-to-parent=true");
        command.add("-cp");
        command.add(System.getProperty("java.class.path"));
        command.add(Main.class.getName());
        command.addAll(check.arguments());
        return command;
    }

    private Thread reads(String unit, InputStream from, PrintWriter to) {
        Thread thread = new Thread(() -> pass(unit, from, to), "output-of-" + unit);
        thread.setDaemon(true);
        thread.start();
        return thread;
    }

    private void pass(String unit, InputStream from, PrintWriter to) {
        try (BufferedReader lines = new BufferedReader(new InputStreamReader(from, StandardCharsets.UTF_8))) {
            for (String text = lines.readLine(); text != null; text = lines.readLine()) {
                print(unit, text, to);
            }
        } catch (IOException e) {
            print(unit, "what it says can no longer be read: " + Output.cause(e), err);
        }
    }

    private synchronized void print(String unit, String text, PrintWriter to) {
        if (text.startsWith(Progress.TO_PARENT)) {
            states.put(unit, text.substring(1));
            line.show(states.values().stream().map(SeveralChecks::head).collect(Collectors.joining(" | ")));
            return;
        }
        line.clear();
        String own = text.startsWith(unit + ": ") ? text.substring(unit.length() + 2) : text; // said once is enough
        to.println(own.isEmpty() ? "" : unit + "  " + own);
        to.flush();
    }

    /** Of a state the part that several fit beside each other: up to the shift. */
    private static String head(String state) {
        int end = state.indexOf(", cycle");
        return end < 0 ? state : state.substring(0, end);
    }

    private int waitForAll() {
        var codes = new LinkedHashMap<String, Integer>();
        boolean interrupted = false;
        for (Map.Entry<String, Process> entry : processes.entrySet()) {
            while (!codes.containsKey(entry.getKey())) {
                try {
                    codes.put(entry.getKey(), entry.getValue().waitFor());
                } catch (InterruptedException e) {
                    interrupted = true; // nobody interrupts us; a check is never left behind
                }
            }
        }
        joinReaders();
        synchronized (this) {
            line.clear();
            codes.forEach((unit, code) -> out.println(unit + "  " + words(code)));
            out.flush();
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
        return worst(codes.values().stream().toList());
    }

    private void joinReaders() {
        for (Thread reader : readers) {
            try {
                reader.join(TimeUnit.SECONDS.toMillis(2)); // a grandchild may still hold the pipe
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            }
        }
    }

    /** The worst of them. */
    static int worst(List<Integer> codes) {
        return codes.stream()
                .map(code -> WORST_FIRST.contains(code) ? code : ExitCode.RIG)
                .min(java.util.Comparator.comparingInt(WORST_FIRST::indexOf))
                .orElse(ExitCode.DONE);
    }

    private static String words(int code) {
        return switch (code) {
            case ExitCode.DONE -> "done: pass";
            case ExitCode.FAIL -> "done: fail";
            case ExitCode.NO_VERDICT -> "done: no verdict";
            case ExitCode.BAD_INPUT -> "not started (exit 2)";
            case ExitCode.RIG -> "ended by rig, link, guard or emergency stop (exit 4)";
            case ExitCode.DEFECT -> "ended by a defect of the program (exit 70)";
            case ExitCode.STOPPED, 143 -> "stopped (exit " + code + ")";
            default ->
                "its process was killed (exit " + code + "); the rig cuts by itself when it hears no heartbeat for 1 s";
        };
    }

    /** Passes the wish to stop on, and waits for the cuts; the machine waits for this thread before it ends. */
    private void stopAll() {
        List<Process> all;
        synchronized (this) {
            all = List.copyOf(processes.values());
        }
        // SIGTERM; one that had Ctrl-C from the terminal is stopping already. By its handle: Process.destroy closes the
        // streams
        all.forEach(process -> process.toHandle().destroy());
        long until = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_S);
        for (Process process : all) {
            try {
                if (!process.waitFor(Math.max(0, until - System.nanoTime()), TimeUnit.NANOSECONDS)) {
                    err.println("a check did not end within " + PATIENCE_S + " s: process " + process.pid());
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            }
        }
        joinReaders();
    }
}
