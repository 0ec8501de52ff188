package org.shiftstand.cli;

import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.history.Filter;
import org.shiftstand.history.HistoryJson;
import org.shiftstand.history.Trend;
import org.shiftstand.history.TrendPage;
import org.shiftstand.history.TrendText;
import org.shiftstand.report.ReportOptions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Tells how units did over time. */
@Command(
        name = "trend",
        sortOptions = false,
        description = {
            "Tells how units did: yield with its confidence interval, the clauses that decide against units, and of a "
                    + "clause its values from run to run with their moving average and capability by week.",
            "",
            "A yield counts first runs of units, passed among passed and failed. Simulated runs are left out where there "
                    + "are real ones."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand history trend --kind tarn-drive --from 2026-10-01",
            "  shiftstand history trend --clause landing-spread --html trend.html"
        })
final class HistoryTrendCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Mixin
    private RunsMeant meant = new RunsMeant();

    @Option(
            names = "--clause",
            paramLabel = "ID",
            description = "Clause to follow. May be repeated. Default: the one that failed most.")
    private List<String> clauses = List.of();

    @Option(names = "--html", paramLabel = "FILE", description = "Write a page with drawings.")
    private @Nullable Path html;

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Option(names = "--force", description = "Overwrite these files.")
    private boolean force;

    @Option(names = "--json", description = "Print as JSON.")
    private boolean json;

    @Mixin
    private HistoryAt at = new HistoryAt();

    @Override
    public Integer call() throws IOException {
        PrintWriter out = command.commandLine().getOut();
        Filter filter = meant.filter();
        pdf.ready(html, force);
        return at.use(command.commandLine().getErr(), history -> {
            Trend trend = Trend.of(history, filter, clauses);
            Path page = html;
            if (page != null) {
                Output.writeWhole(page, force, to -> {
                    Writer text = new OutputStreamWriter(to, StandardCharsets.UTF_8);
                    TrendPage.write(
                            trend,
                            meant.said(),
                            new ReportOptions(Clock.systemUTC().instant(), Version.number()),
                            text);
                    text.flush();
                });
                pdf.write(page, force);
            }
            if (json) {
                HistoryJson.trend(trend, out);
            } else {
                TrendText.print(trend, meant.said(), out);
                if (page != null) {
                    out.println();
                    out.println("Page: " + page);
                }
            }
            return ExitCode.DONE;
        });
    }
}
