package org.shiftstand.cli;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.IExecutionStrategy;
import picocli.CommandLine.ParseResult;

/**
 * A terminal that both standard streams may be shown on: a command that takes long and has no progress line of its own gets one,
 * which makes way for whatever is printed. Only for streams on a terminal; in a pipe they stay as they are.
 */
final class Screen implements IExecutionStrategy {
    private static final Duration EVERY = Duration.ofSeconds(1);

    private final PrintStream out;
    private final PrintStream err;
    private final PrintStream bare;
    private volatile @Nullable WorkingLine working;

    Screen(PrintStream out, PrintStream err) {
        this.out = givingWay(out);
        this.err = givingWay(err);
        this.bare = err;
    }

    PrintStream out() {
        return out;
    }

    PrintStream err() {
        return err;
    }

    @Override
    public int execute(ParseResult parsed) {
        ParseResult command = parsed;
        while (command.hasSubcommand()) {
            command = command.subcommand();
        }
        CommandLine.IExecutionStrategy usual = new CommandLine.RunLast();
        if (command.isUsageHelpRequested() || !wanted(command)) {
            return usual.execute(parsed);
        }
        Progress line = new Progress(new PrintWriter(bare, true, StandardCharsets.UTF_8));
        try (WorkingLine shown = new WorkingLine(line, named(command), EVERY)) {
            working = shown;
            return usual.execute(parsed);
        } finally {
            working = null;
        }
    }

    private static boolean wanted(ParseResult command) {
        return command.commandSpec().mixins().values().stream()
                .anyMatch(mixin -> mixin.userObject() instanceof ProgressOption option && option.wantsElapsedTime());
    }

    /** {@code judge capture.csv}: the command and the files that it was given. */
    private static String named(ParseResult command) {
        String files = command.matchedPositionals().stream()
                .flatMap(parameter -> parameter.stringValues().stream())
                .map(file -> String.valueOf(Path.of(file).getFileName()))
                .collect(Collectors.joining(" "));
        return PlainText.of((command.commandSpec().name() + " " + files).strip());
    }

    private PrintStream givingWay(PrintStream stream) {
        OutputStream checked = new FilterOutputStream(stream) {
            @Override
            public void write(int b) throws IOException {
                clear();
                super.write(b);
            }

            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                clear();
                out.write(bytes, from, length);
            }
        };
        return new PrintStream(checked, true, StandardCharsets.UTF_8);
    }

    private void clear() {
        WorkingLine shown = working;
        if (shown != null) {
            shown.clear();
        }
    }
}
