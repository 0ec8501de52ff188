package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.shiftstand.learn.compare.Aspect;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.ComparedRun;
import org.shiftstand.learn.compare.Comparison;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Bound;

/** Lays out a comparison for its page. */
final class ComparisonSheetMaker {
    /** Groups that are drawn by themselves. */
    private static final int MOST_SHOWN = 8;

    private final Comparison comparison;

    ComparisonSheetMaker(Comparison comparison) {
        this.comparison = comparison;
    }

    ComparisonSheet make(ReportOptions options) {
        List<Compared> notable = notable();
        return new ComparisonSheet(
                head(),
                what(),
                runs(),
                shown(notable),
                notable.size() > MOST_SHOWN
                        ? "The first " + MOST_SHOWN + " of " + notable.size() + " are drawn; the tables have them all."
                        : "",
                parts(),
                comparison.told().stream().map(row -> row(row, true)).toList(),
                toldIntro(),
                claims(),
                comparison.notices(),
                Cautions.read(),
                options.toolVersion(),
                options.made());
    }

    private ComparisonSheet.Head head() {
        List<ComparisonSheet.Fact> facts = List.of(
                fact("equivalent", comparison.count(Change.EQUIVALENT)),
                fact("different", comparison.count(Change.DIFFERENT)),
                fact("not decided", comparison.count(Change.NOT_DECIDED)),
                fact("told, not judged", comparison.told().size()),
                new ComparisonSheet.Fact(
                        "chance to show all equivalent where nothing changed, about",
                        Math.round(comparison.power() * 100) + Figures.NO_BREAK + "%"));
        return new ComparisonSheet.Head(
                ChangeMark.symbol(comparison.change(), 84),
                comparison.change().word(),
                ChangeMark.tone(comparison.change()),
                "Unit " + comparison.sides().base().get(0).setUp().getOrDefault(Aspect.UNIT, "not known"),
                comparison.spec().map(s -> s.name() + " version " + s.version()).orElse("margins of the command line"),
                ComparisonWords.unbroken(comparison.reason()),
                comparison.firmwareBefore(),
                comparison.firmwareAfter(),
                facts);
    }

    private static ComparisonSheet.Fact fact(String label, long n) {
        return new ComparisonSheet.Fact(label, Long.toString(n));
    }

    private List<ComparisonSheet.Fact> what() {
        List<ComparisonSheet.Fact> facts = new ArrayList<>();
        ComparedRun first = comparison.sides().base().get(0);
        first.setUp().forEach((aspect, value) -> facts.add(new ComparisonSheet.Fact(aspect.phrase(), value)));
        comparison.unlike().forEach(unlike -> facts.add(new ComparisonSheet.Fact("unlike, allowed", unlike.words())));
        return facts;
    }

    private List<ComparisonSheet.RunRow> runs() {
        return Stream.concat(
                        comparison.sides().base().stream().map(run -> run("base", run)),
                        comparison.sides().candidate().stream().map(run -> run("candidate", run)))
                .toList();
    }

    private static ComparisonSheet.RunRow run(String side, ComparedRun run) {
        return new ComparisonSheet.RunRow(
                side,
                run.name(),
                run.firmware().orElse("not known"),
                run.began().map(Figures::utc).orElse("not known"),
                Integer.toString(run.table().shifts().size()),
                run.measurement().source().sha256());
    }

    /** Different first, then not decided, then those that moved inside their margin. */
    private List<Compared> notable() {
        List<Compared> notable = new ArrayList<>();
        for (Change change : List.of(Change.DIFFERENT, Change.NOT_DECIDED)) {
            comparison.judged().stream().filter(row -> row.change() == change).forEach(notable::add);
        }
        comparison.judged().stream()
                .filter(row -> row.notTheSame(comparison.alpha()))
                .forEach(notable::add);
        return notable;
    }

    private List<ComparisonSheet.Shown> shown(List<Compared> notable) {
        List<ComparisonSheet.Shown> shown = new ArrayList<>();
        for (int i = 0; i < Math.min(MOST_SHOWN, notable.size()); i++) {
            Compared row = notable.get(i);
            String id = "shown-" + (i + 1);
            shown.add(new ComparisonSheet.Shown(
                    ChangeMark.symbol(row.change(), 22),
                    word(row),
                    ChangeMark.tone(row.change()),
                    id,
                    ComparisonWords.named(row),
                    ComparisonWords.unbroken(row.reason()),
                    values(row, id + "-v"),
                    OverlayDrawing.draw(
                            id + "-o",
                            row,
                            comparison.sides().base().get(0),
                            comparison.sides().candidate().get(0))));
        }
        return shown;
    }

    /** Each shift a dot, run by run. */
    private static Optional<Plate> values(Compared row, String id) {
        if (row.base().runs().isEmpty()
                || row.candidate().runs().isEmpty()
                || row.base().n() + row.candidate().n() == 0) {
            return Optional.empty();
        }
        Optional<Bound> allowed = allowed(row);
        OptionalDouble before =
                row.ratio() ? OptionalDouble.empty() : row.base().value();
        List<StripPlot.Row> rows = new ArrayList<>();
        add(rows, "base", row.base(), Optional.empty(), before);
        add(rows, "candidate", row.candidate(), allowed, before);
        StripPlot plot = new StripPlot(
                new StripPlot.Frame(
                        id,
                        "Values before and after: " + ComparisonWords.named(row),
                        "One dot for each shift, base above, candidate below.",
                        Words.spaced(row.measure()),
                        "run",
                        row.unit(),
                        OptionalDouble.empty(),
                        false,
                        true),
                rows);
        String svg = plot.draw();
        List<String> notes = new ArrayList<>();
        notes.add("One dot for each shift, time downwards; the strokes at a row's edges mark its mean.");
        if (allowed.isPresent()) {
            notes.add("Triangle: mean of the base. Brackets: where the candidate's mean may be.");
        }
        plot.beyond().ifPresent(notes::add);
        return Optional.of(new Plate(svg, notes));
    }

    private static void add(
            List<StripPlot.Row> rows, String side, Compared.Side of, Optional<Bound> bound, OptionalDouble nominal) {
        int i = 0;
        for (Compared.Values run : of.runs()) {
            double[] values = run.values();
            i++;
            String label = of.runs().size() == 1 ? "" : "run " + i;
            rows.add(new StripPlot.Row(i == 1 ? side : "", label, values, new boolean[values.length], bound, nominal));
        }
    }

    private static Optional<Bound> allowed(Compared row) {
        if (row.ratio() || row.margin().isEmpty() || row.base().value().isEmpty()) {
            return Optional.empty();
        }
        double centre = row.base().value().getAsDouble();
        double margin = row.margin().getAsDouble();
        return Optional.of(
                new Bound(OptionalDouble.of(centre - margin), OptionalDouble.of(centre + margin), row.unit()));
    }

    private List<ComparisonSheet.Part> parts() {
        Map<String, List<Compared>> clauses = new LinkedHashMap<>();
        for (Compared row : comparison.judged()) {
            // how often an overtravel came is told beside its mean, but on a scale of its own
            String part = row.clause().orElse("") + (row.margin().isEmpty() ? ", how often" : "");
            clauses.computeIfAbsent(part, c -> new ArrayList<>()).add(row);
        }
        List<ComparisonSheet.Part> parts = new ArrayList<>();
        clauses.forEach((name, rows) -> parts.add(part(name, rows, parts.size() + 1)));
        return parts;
    }

    private ComparisonSheet.Part part(String name, List<Compared> rows, int number) {
        String anchor = "clause-" + number;
        boolean firstDrawn = number == 1;
        Change worst = rows.stream()
                .map(Compared::change)
                .max((a, b) -> Integer.compare(rank(a), rank(b)))
                .orElseThrow();
        Compared first = rows.get(0);
        String subject = ComparisonWords.subject(first)
                + (first.margin().isPresent()
                        ? ", allowed " + allowedWords(first)
                        : ", no margin says how often it may miss");
        Plate plate = first.margin().isPresent()
                ? new Plate(
                        new DifferencePlot(anchor + "-d", "Differences: " + name, rows).draw(),
                        firstDrawn ? key() : List.of())
                : new Plate("", List.of());
        return new ComparisonSheet.Part(
                ChangeMark.symbol(worst, 22),
                anchor,
                name,
                subject,
                first.because(),
                counts(rows),
                plate,
                rows.stream().map(row -> row(row, false)).toList());
    }

    private List<String> key() {
        return List.of(
                "Each row is one group. Bar: "
                        + Figures.asWritten(Math.rint((2 * comparison.confidence() - 1) * 1e4) / 1e2) + Figures.NO_BREAK
                        + "% interval of the change. Ground: what is allowed.",
                "Dot: equivalent. Diamond: different. Open square: not decided.",
                "Before and after are means, of spreads standard deviations, of shares per cent; n is the smaller number of"
                        + " shifts of both sides.");
    }

    private static int rank(Change change) {
        return switch (change) {
            case NO_MARGIN -> 0;
            case EQUIVALENT -> 1;
            case NOT_DECIDED -> 2;
            case DIFFERENT -> 3;
        };
    }

    private static String counts(List<Compared> rows) {
        return Arrays.stream(Change.values())
                .map(change -> Map.entry(
                        change,
                        rows.stream().filter(row -> row.change() == change).count()))
                .filter(entry -> entry.getValue() > 0)
                .map(entry -> entry.getValue() + " " + entry.getKey().word())
                .collect(java.util.stream.Collectors.joining(", "));
    }

    private static String allowedWords(Compared row) {
        double margin = row.margin().orElseThrow();
        return row.ratio()
                ? "a ratio of " + Figures.asWritten(margin) + " either way"
                : "± " + Figures.asWritten(margin, row.unit());
    }

    private ComparisonSheet.Row row(Compared row, boolean named) {
        Unit of = row.ratio() ? Unit.ONE : row.unit();
        double width =
                row.high().isPresent() ? (row.high().getAsDouble() - row.low().orElseThrow()) / 2 : 0;
        int decimals = Math.max(0, Figures.decimals(of, width));
        int own = Figures.decimals(row.unit());
        return new ComparisonSheet.Row(
                ChangeMark.symbol(row.change(), 16),
                word(row),
                ChangeMark.tone(row.change()),
                named ? ComparisonWords.named(row) : row.words(),
                row.base().n() == row.candidate().n()
                        ? Integer.toString(row.base().n())
                        : row.base().n() + ", " + row.candidate().n(),
                value(row.base().value(), row.unit(), own),
                value(row.candidate().value(), row.unit(), own),
                row.difference().isPresent()
                        ? (row.ratio() || row.difference().getAsDouble() <= 0 ? "" : "+")
                                + Figures.of(row.difference().getAsDouble(), of, decimals)
                        : Figures.NONE,
                row.low().isPresent()
                        ? Figures.bare(row.low().getAsDouble(), decimals) + " to "
                                + Figures.bare(row.high().orElseThrow(), decimals)
                        : Figures.NONE,
                row.margin().isPresent() ? allowedWords(row) : Figures.NONE,
                row.pHolm().isPresent() ? probability(row.pHolm().getAsDouble()) : Figures.NONE,
                row.change() == Change.EQUIVALENT && !row.notTheSame(comparison.alpha())
                        ? ""
                        : ComparisonWords.unbroken(row.reason()));
    }

    private static String value(OptionalDouble value, Unit unit, int decimals) {
        return value.isPresent() ? Figures.of(value.getAsDouble(), unit, decimals) : Figures.NONE;
    }

    private static String probability(double p) {
        return p < 0.001 ? "< 0.001" : Figures.bare(p, 3);
    }

    private String word(Compared row) {
        return row.notTheSame(comparison.alpha())
                ? "equivalent, though not the same"
                : row.change().word();
    }

    private String toldIntro() {
        return comparison.told().isEmpty()
                ? ""
                : "These have no margin: nobody said how much would be too much. The last column holds tests of no"
                        + " difference together by Holm, among these alone.";
    }

    private List<String> claims() {
        String alpha = Figures.asWritten(Math.rint(comparison.alpha() * 1e6) / 1e4) + Figures.NO_BREAK + "%";
        return List.of(
                "Equivalent: both limits of the interval lie inside the margin (two one-sided tests, each at " + alpha
                        + "). Of a change exactly at the margin this is wrongly said in at most " + alpha
                        + " of comparisons. For everything together it is said only where each group is; that holds "
                        + alpha + " without any correction, since already one wrong group in a set is that rare.",
                "Different: a change is shown to be there, and is not shown to lie inside the margin. The tests are held"
                        + " together by Holm over all judged groups, so that of two firmwares that are the same any group"
                        + " is called different in at most " + alpha + " of comparisons.",
                "Not decided: neither is shown. That is no proof of sameness: too few shifts, or a change near the margin.",
                "Spreads by Brown and Forsythe's test, their ratio with Bonett's interval; shares exactly (Fisher; Clopper"
                        + " and Pearson). Where shifts follow each other over the cycles they count for as many as they are"
                        + " worth.",
                comparison.sides().base().size() > 1
                                && comparison.sides().candidate().size() > 1
                        ? "With several runs a side the run is the block: the wider of two intervals counts, that from the"
                                + " scatter within runs and that from the scatter of the runs' means."
                        : "What differs from run to run (mounting, temperature) cannot be told from the firmware's doing"
                                + " with a single run on a side.");
    }
}
