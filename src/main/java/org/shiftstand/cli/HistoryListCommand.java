package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.shiftstand.document.Problem;
import org.shiftstand.history.Filter;
import org.shiftstand.history.HistoryEntry;
import org.shiftstand.history.HistoryJson;
import org.shiftstand.history.TrendText;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Lists runs. */
@Command(
        name = "list",
        sortOptions = false,
        description = "Lists runs, newest first.",
        footer = {"", "Example:", "  shiftstand history list --kind tarn-drive --verdict fail --from 2026-11-01"})
final class HistoryListCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Mixin
    private RunsMeant meant = new RunsMeant();

    @Option(
            names = "--limit",
            paramLabel = "N",
            description = "How many at most. Default: ${DEFAULT-VALUE}.",
            defaultValue = "50")
    private int limit;

    @Option(names = "--json", description = "Print as JSON.")
    private boolean json;

    @Mixin
    private HistoryAt at = new HistoryAt();

    @Override
    public Integer call() throws IOException {
        List<Problem> problems = new ArrayList<>();
        if (limit < 1) {
            problems.add(new Problem("--limit " + limit, 0, 0, "is no number of runs; expected 1 or more"));
        }
        PrintWriter out = command.commandLine().getOut();
        Filter filter = meant.filter(problems);
        return at.use(command.commandLine().getErr(), history -> {
            List<HistoryEntry> runs = history.runs(filter, limit);
            int all = history.count(filter);
            if (json) {
                HistoryJson.runs(runs, all, history.names(), out);
            } else {
                TrendText.runs(runs, all, out);
            }
            return ExitCode.DONE;
        });
    }
}
