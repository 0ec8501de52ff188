package org.shiftstand.cli;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Map;
import java.util.concurrent.Callable;
import org.shiftstand.history.Filter;
import org.shiftstand.history.History;
import org.shiftstand.history.HistoryCsv;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Writes runs and their clauses as a table. */
@Command(
        name = "export",
        sortOptions = false,
        description = {
            "Writes runs and their clauses as a CSV table, a line a clause.",
            "",
            "For samples and shifts, and for many units, 'shiftstand export --parquet' is the better way."
        },
        footer = {"", "Example:", "  shiftstand history export --csv runs.csv --kind tarn-drive"})
final class HistoryExportCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Option(names = "--csv", required = true, paramLabel = "FILE", description = "The file to write.")
    private Path csv;

    @Option(names = "--force", description = "Overwrite that file.")
    private boolean force;

    @Mixin
    private RunsMeant meant = new RunsMeant();

    @Mixin
    private HistoryAt at = new HistoryAt();

    @Override
    public Integer call() throws IOException {
        Filter filter = meant.filter();
        return at.use(command.commandLine().getErr(), history -> {
            int[] runs = {0};
            Output.writeWhole(csv, force, to -> {
                Writer text = new BufferedWriter(new OutputStreamWriter(to, StandardCharsets.UTF_8), 1 << 16);
                runs[0] = write(history, filter, text);
                text.flush();
            });
            command.commandLine().getOut().println(runs[0] + " runs in " + csv);
            return ExitCode.DONE;
        });
    }

    private static int write(History history, Filter filter, Writer out) throws IOException {
        try {
            Map<String, String> names = history.names();
            HistoryCsv.header(out);
            return history.each(filter, run -> HistoryCsv.run(run, names, out));
        } catch (SQLException e) {
            throw History.broken(history.database(), e);
        }
    }
}
