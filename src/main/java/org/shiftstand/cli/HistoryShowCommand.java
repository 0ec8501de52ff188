package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.history.HistoryEntry;
import org.shiftstand.history.HistoryJson;
import org.shiftstand.history.TrendText;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows the runs of a unit. */
@Command(
        name = "show",
        sortOptions = false,
        description = "Shows the runs of a unit, or one run, with every clause.",
        footer = {"", "Examples:", "  shiftstand history show TD-0107", "  shiftstand history show 3f29c1ab"})
final class HistoryShowCommand implements Callable<Integer> {
    private static final int MOST = 100;

    @Spec
    private CommandSpec command;

    @Parameters(paramLabel = "UNIT|KEY", description = "Id of a unit, or the first 8 or more digits of a run's key.")
    private String which;

    @Option(names = "--json", description = "Print as JSON.")
    private boolean json;

    @Mixin
    private HistoryAt at = new HistoryAt();

    @Override
    public Integer call() throws IOException {
        PrintWriter out = command.commandLine().getOut();
        return at.use(command.commandLine().getErr(), history -> {
            List<HistoryEntry> runs = history.show(which, MOST);
            Map<String, String> names = history.names();
            if (runs.isEmpty()) {
                throw new BadInput(new Problem(
                        which,
                        0,
                        0,
                        "is no unit and no key of a run in this history; 'history list' shows what there is"));
            }
            if (json) {
                HistoryJson.runs(runs, runs.size(), names, out);
            } else {
                runs.forEach(run -> TrendText.run(run, names, out));
            }
            return ExitCode.DONE;
        });
    }
}
