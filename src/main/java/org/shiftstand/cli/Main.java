package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;

/**
 * Entry point of the {@code shiftstand} command.
 *
 * <p>Knows the command line first and Spring only on demand: {@code --help} starts no context.
 */
public final class Main {
    private Main() {}

    public static void main(String[] args) {
        ParentWatch.startWhereAskedFor();
        int code = run(args);
        // where nothing else runs the end of this thread will do: from Java 21 on exit() looks for a logger, 20 ms of a
        // start
        if (code != ExitCode.DONE || Thread.activeCount() > 1) {
            System.exit(code);
        }
    }

    /** One command, on this process's own streams; how it ended. */
    static int run(String... args) {
        @Nullable Screen screen = null;
        if (Progress.onTerminal()) {
            screen = new Screen(System.out, System.err);
            System.setOut(screen.out());
            System.setErr(screen.err());
        }
        PrintWriter out = new PrintWriter(System.out, false, StandardCharsets.UTF_8);
        PrintWriter err = new PrintWriter(System.err, true, StandardCharsets.UTF_8);
        try (LazyContext context = new LazyContext()) {
            CommandLine line = new CommandTree(context, out, err).forArguments(args);
            if (screen != null) {
                line.setExecutionStrategy(screen);
            }
            return execute(line, err, args);
        } finally {
            out.flush();
            err.flush();
        }
    }

    /** Never throws: a thread that dies of an error ends the process with 1, which means that a unit failed. */
    static int execute(CommandLine line, PrintWriter err, String... args) {
        try {
            return line.execute(helpFirst(args));
        } catch (RuntimeException | Error e) {
            return Failures.defect(e, err);
        }
    }

    /** {@code help judge} is what some type for {@code judge --help}. */
    private static String[] helpFirst(String... args) {
        if (args.length == 0 || !args[0].equals("help")) {
            return args;
        }
        String[] moved = Arrays.copyOfRange(args, 1, args.length + 1);
        moved[args.length - 1] = "--help";
        return moved;
    }
}
