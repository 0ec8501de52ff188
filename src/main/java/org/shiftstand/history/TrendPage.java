package org.shiftstand.history;

import java.io.IOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;
import org.shiftstand.report.CourseDrawing;
import org.shiftstand.report.ManyRunsPage;
import org.shiftstand.report.ManyRunsPage.Cell;
import org.shiftstand.report.ManyRunsPage.Content;
import org.shiftstand.report.ManyRunsPage.Fact;
import org.shiftstand.report.ManyRunsPage.Part;
import org.shiftstand.report.ReportOptions;

/** A trend as one HTML page. */
public final class TrendPage {
    private static final double ONE_SIDED = 0.975;
    private static final String CPK =
            "Cpk: how far the mean is inside its nearer bound, counted in three standard deviations. Below 0 the"
                    + " mean itself is outside. At 1 the bound is three standard deviations away: of a normal distribution 0.135 %,"
                    + " one run in 741, lies farther out on that side.";

    private TrendPage() {}

    /**
     * Writes it in characters that the caller encodes as UTF-8.
     *
     * @param selection which runs are meant, in words
     */
    public static void write(Trend trend, String selection, ReportOptions options, Writer out) throws IOException {
        List<Part> parts = new ArrayList<>();
        parts.add(worst(trend));
        for (int i = 0; i < trend.clauses().size(); i++) {
            parts.add(course(trend.clauses().get(i), "course-" + i));
            parts.add(weeks(trend.clauses().get(i)));
        }
        parts.add(shares(
                "Yield by week",
                "Week",
                trend.byWeek(),
                "First runs of units whose date is known, by ISO week (UTC)."));
        parts.add(shares("Yield by firmware", "Firmware", trend.byFirmware(), "First runs of units."));
        ManyRunsPage.write(
                new Content(
                        "How the units did",
                        selection,
                        together(TrendText.lead(trend)),
                        facts(trend),
                        TrendText.notes(trend),
                        parts.stream()
                                .filter(p -> !p.rows().isEmpty() || !p.texts().isEmpty())
                                .toList()),
                options,
                out);
    }

    private static List<Fact> facts(Trend trend) {
        return List.of(
                new Fact("runs", Integer.toString(trend.runs())),
                new Fact("units", Integer.toString(trend.units())),
                new Fact(
                        "first-pass yield, " + together(TrendText.interval(trend.firstPass())),
                        together(TrendText.percent(trend.firstPass().value()))),
                new Fact(
                        "yield of last runs, " + together(TrendText.interval(trend.last())),
                        together(TrendText.percent(trend.last().value()))));
    }

    /** With the percent sign on the line of its number. */
    private static String together(String text) {
        return text.replace(" %", "\u00a0%");
    }

    /** A true minus sign: a page is no terminal. */
    private static String figure(double value) {
        return TrendText.figure(value).replace('-', '\u2212');
    }

    private static Part worst(Trend trend) {
        return new Part(
                "Clauses that decide against units",
                trend.worst().isEmpty()
                        ? List.of("None: no clause failed or was without a verdict in any of these runs.")
                        : List.of(),
                "",
                List.of(),
                List.of(
                        Cell.words("Clause"),
                        Cell.number("Runs it failed"),
                        Cell.number("Share of runs"),
                        Cell.number("Without verdict")),
                trend.worst().stream()
                        .map(w -> List.of(
                                Cell.name(w.id()),
                                Cell.number(Integer.toString(w.failing())),
                                Cell.number(TrendText.percent((double) w.failing() / w.runs())),
                                Cell.number(Integer.toString(w.undecided()))))
                        .toList());
    }

    private static Part course(ClauseTrend clause, String id) {
        double[] values =
                clause.points().stream().mapToDouble(History.Point::value).toArray();
        List<String> notes = new ArrayList<>();
        notes.add(
                "Each mark is a run: the value of its worst group. A dot passes, a cross fails, a diamond has no verdict.");
        clause.chart()
                .ifPresent(chart -> notes.add(String.format(
                        Locale.ROOT,
                        "The line is the moving average (weight %.1f), dashed its limits (%.0f standard deviations of it) about"
                                + " the mean of the first %d runs.",
                        ClauseTrend.WEIGHT,
                        ClauseTrend.WIDTH,
                        ClauseTrend.BASELINE)));
        if (clause.notMeasured() > 0) {
            notes.add(TrendText.runs(
                    clause.notMeasured(), "has no value and is not drawn.", "have no value and are not drawn."));
        }
        String drawing = values.length == 0 ? "" : CourseDrawing.of(id, drawn(clause, values));
        return new Part(
                clause.id() + ", run by run", List.of(TrendText.course(clause)), drawing, notes, List.of(), List.of());
    }

    private static CourseDrawing.Course drawn(ClauseTrend clause, double[] values) {
        return new CourseDrawing.Course(
                values,
                IntStream.range(0, values.length)
                        .mapToObj(i -> clause.points().get(i).verdict())
                        .toList(),
                clause.chart().map(ClauseTrend.Chart::means).orElse(new double[0]),
                clause.chart().map(ClauseTrend.Chart::target).orElse(Double.NaN),
                clause.chart().map(ClauseTrend.Chart::reach).orElse(Double.NaN),
                clause.atLeast(),
                clause.atMost(),
                clause.unit());
    }

    private static Part weeks(ClauseTrend clause) {
        return new Part(
                clause.id() + ", week by week",
                clause.weeks().isEmpty() ? List.of() : List.of(CPK),
                "",
                List.of(),
                List.of(
                        Cell.words("Week"),
                        Cell.number("Runs"),
                        Cell.number("Mean"),
                        Cell.number("Standard deviation"),
                        Cell.number("Cpk"),
                        Cell.number("95 % interval"),
                        Cell.words("Note")),
                clause.weeks().stream().map(TrendPage::row).toList());
    }

    private static List<Cell> row(ClauseTrend.Week week) {
        return List.of(
                Cell.name(week.week()),
                Cell.number(Integer.toString(week.n())),
                Cell.number(figure(week.mean())),
                Cell.number(week.sd().isPresent() ? figure(week.sd().getAsDouble()) : "–"),
                Cell.number(week.capability().map(c -> figure(c.cpk())).orElse("–")),
                Cell.number(week.capability()
                        .map(c -> figure(c.ofCpk(ONE_SIDED).low()) + " to "
                                + figure(c.ofCpk(ONE_SIDED).high()))
                        .orElse("–")),
                Cell.words(week.why()));
    }

    private static Part shares(String heading, String key, Map<String, Share> shares, String text) {
        return new Part(
                heading,
                shares.isEmpty() ? List.of() : List.of(text),
                "",
                List.of(),
                List.of(
                        Cell.words(key),
                        Cell.number("Units"),
                        Cell.number("Passed"),
                        Cell.number("No verdict"),
                        Cell.number("Yield"),
                        Cell.number("95 % interval")),
                shares.entrySet().stream()
                        .map(e -> List.of(
                                Cell.name(e.getKey().isEmpty() ? "not said" : e.getKey()),
                                Cell.number(Integer.toString(
                                        e.getValue().trials() + e.getValue().undecided())),
                                Cell.number(Integer.toString(e.getValue().passes())),
                                Cell.number(Integer.toString(e.getValue().undecided())),
                                Cell.number(TrendText.percent(e.getValue().value())),
                                Cell.number(TrendText.interval(e.getValue()))))
                        .toList());
    }
}
