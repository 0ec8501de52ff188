package org.shiftstand.history;

import java.io.PrintWriter;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** A trend in words, for a terminal and for the head of its page. */
public final class TrendText {
    private static final double ONE_SIDED = 0.975;

    private TrendText() {}

    /** Prints it. */
    public static void print(Trend trend, String selection, PrintWriter out) {
        out.println(selection);
        out.println(lead(trend));
        notes(trend).forEach(out::println);
        out.println();
        out.printf(
                Locale.ROOT,
                "%-22s %6s %7s %10s %8s  %s%n",
                "yield",
                "units",
                "passed",
                "no verdict",
                "yield",
                "95 % interval");
        share("first pass", trend.firstPass(), out);
        share("last runs", trend.last(), out);
        trend.byWeek().forEach((week, share) -> share(week, share, out));
        trend.byFirmware().forEach((firmware, share) -> share("firmware " + firmware, share, out));
        out.println();
        out.printf(
                Locale.ROOT,
                "%-44s %7s %7s %10s%n",
                "clauses that decide against units",
                "failed",
                "share",
                "no verdict");
        trend.worst()
                .forEach(w -> out.printf(
                        Locale.ROOT,
                        "%-44s %7d %7s %10d%n",
                        plain(w.id()),
                        w.failing(),
                        percent((double) w.failing() / w.runs()),
                        w.undecided()));
        trend.clauses().forEach(clause -> clause(clause, out));
    }

    private static void share(String name, Share share, PrintWriter out) {
        out.printf(
                Locale.ROOT,
                "%-22s %6d %7d %10d %8s  %s%n",
                plain(name),
                share.trials() + share.undecided(),
                share.passes(),
                share.undecided(),
                percent(share.value()),
                interval(share));
    }

    private static void clause(ClauseTrend clause, PrintWriter out) {
        out.println();
        out.println(plain(clause.id()) + ": " + course(clause));
        if (!clause.weeks().isEmpty()) {
            out.printf(
                    Locale.ROOT,
                    "%-10s %6s %10s %10s %8s  %-18s %s%n",
                    "week",
                    "runs",
                    "mean",
                    "sd",
                    "Cpk",
                    "95 % interval",
                    "");
        }
        clause.weeks()
                .forEach(week -> out.printf(
                        Locale.ROOT,
                        "%-10s %6d %10s %10s %8s  %-18s %s%n",
                        week.week(),
                        week.n(),
                        figure(week.mean()),
                        week.sd().isPresent() ? figure(week.sd().getAsDouble()) : "-",
                        week.capability().map(c -> figure(c.cpk())).orElse("-"),
                        week.capability()
                                .map(c -> figure(c.ofCpk(ONE_SIDED).low()) + " to "
                                        + figure(c.ofCpk(ONE_SIDED).high()))
                                .orElse("-"),
                        week.why()));
    }

    /** What it comes to. */
    static String lead(Trend trend) {
        if (trend.runs() == 0) {
            return "No run is meant: the history is empty, or nothing in it fits.";
        }
        Share first = trend.firstPass();
        return trend.runs() + (trend.runs() == 1 ? " run" : " runs") + (trend.simulated() ? ", all simulated," : "")
                + " of " + trend.units() + (trend.units() == 1 ? " unit. " : " units. ") + first.passes() + " of "
                + first.trials() + " passed at once"
                + (first.trials() == 0
                        ? "."
                        : ": a first-pass yield of " + percent(first.value()) + " (" + interval(first) + ").");
    }

    /** What a reader must know beside it. */
    static List<String> notes(Trend trend) {
        List<String> notes = new ArrayList<>();
        if (trend.simulatedLeftOut() > 0) {
            notes.add(
                    trend.simulatedLeftOut() == 1
                            ? "1 simulated run is left out; --simulated shows only such runs."
                            : trend.simulatedLeftOut() + " simulated runs are left out; --simulated shows only those.");
        }
        if (trend.undated() > 0) {
            notes.add(runs(
                    trend.undated(),
                    "has no known date: it stands before all others, and in no week.",
                    "have no known date: they stand before all others, and in no week."));
        }
        if (trend.firstPass().undecided() > 0) {
            notes.add(
                    trend.firstPass().undecided() == 1
                            ? "1 first run had no verdict; a yield leaves it out."
                            : trend.firstPass().undecided() + " first runs had no verdict; a yield leaves them out.");
        }
        return notes;
    }

    /** {@code 1 run has …}, {@code 2 runs have …}. */
    static String runs(int n, String one, String many) {
        return n == 1 ? "1 run " + one : n + " runs " + many;
    }

    /** How the values of a clause go. */
    static String course(ClauseTrend clause) {
        int n = clause.points().size();
        if (n == 0) {
            return "no run has a value.";
        }
        return clause.chart()
                .map(chart -> n + (n == 1 ? " value" : " values") + ". The moving average "
                        + (chart.firstOutside().isPresent()
                                ? "left its limits first at run "
                                        + (chart.firstOutside().getAsInt() + 1) + ", unit "
                                        + plain(clause.firstOutside())
                                        + ": the process is no longer what the first " + ClauseTrend.BASELINE
                                        + " runs were."
                                : "stays within its limits, " + figure(chart.target()) + " plus or minus "
                                        + figure(chart.reach()) + " " + plain(clause.unit()) + "."))
                .orElse(n + (n == 1 ? " value" : " values") + "; no moving average: " + clause.whyNoChart() + ".");
    }

    static String percent(double share) {
        return Double.isNaN(share) ? "-" : String.format(Locale.ROOT, "%.1f %%", 100 * share);
    }

    static String interval(Share share) {
        return share.trials() == 0
                ? "-"
                : String.format(Locale.ROOT, "%.1f to %.1f %%", 100 * share.low(), 100 * share.high());
    }

    /** Four digits. */
    static String figure(double value) {
        return Double.isFinite(value)
                ? new BigDecimal(value)
                        .round(new MathContext(4))
                        .stripTrailingZeros()
                        .toPlainString()
                : "-";
    }

    /** Text out of a file on a terminal: no control characters. */
    static String plain(String text) {
        return text.replaceAll("\\p{Cntrl}", "?");
    }

    /** Runs as a table, newest first. */
    public static void runs(List<HistoryEntry> runs, int all, PrintWriter out) {
        if (runs.isEmpty()) {
            out.println("No run is meant: the history is empty, or nothing in it fits.");
            return;
        }
        out.printf(
                Locale.ROOT,
                "%-10s %-20s %-16s %-10s %-20s %s%n",
                "key",
                "started",
                "unit",
                "verdict",
                "spec",
                "landed");
        for (HistoryEntry run : runs) {
            out.printf(
                    Locale.ROOT,
                    "%-10s %-20s %-16s %-10s %-20s %d of %d%s%n",
                    run.key().substring(0, 10),
                    HistoryEntry.utc(run.startedMicros()).orElse("not known"),
                    cut(run.unit(), 16),
                    run.verdict().replace('-', ' '),
                    cut(run.spec(), 20),
                    run.landed(),
                    run.shifts(),
                    run.simulated() ? ", simulated" : "");
        }
        if (all > runs.size()) {
            out.println(all - runs.size() + " more; --limit shows more of them");
        }
    }

    private static String cut(String text, int most) {
        String plain = plain(text);
        return plain.length() <= most ? plain : plain.substring(0, most - 1) + "…";
    }

    /** One run with its clauses. */
    public static void run(HistoryEntry run, Map<String, String> names, PrintWriter out) {
        out.println("Run " + run.key());
        fact("unit", run.unit(), out);
        fact("verdict", run.verdict().replace('-', ' ') + ". " + run.reason(), out);
        fact("spec", run.spec() + " version " + run.specVersion(), out);
        fact("started", HistoryEntry.utc(run.startedMicros()).orElse("not known"), out);
        fact("kind", run.kind(), out);
        fact("firmware", run.firmware(), out);
        fact("bench", run.bench(), out);
        fact("operator", names.getOrDefault(run.operator(), run.operator()), out);
        fact("shifts", run.landed() + " of " + run.shifts() + " landed" + (run.simulated() ? ", simulated" : ""), out);
        fact("by", run.software(), out);
        fact("place", run.place(), out);
        out.println();
        out.printf(Locale.ROOT, "  %-36s %-10s %10s %10s  %s%n", "clause", "verdict", "value", "margin", "worst group");
        for (HistoryEntry.Clause clause : run.clauses()) {
            out.printf(
                    Locale.ROOT,
                    "  %-36s %-10s %10s %10s  %s%n",
                    cut(clause.id(), 36),
                    clause.verdict().replace('-', ' '),
                    clause.value().isPresent() ? figure(clause.value().getAsDouble()) : "-",
                    clause.margin().isPresent() ? figure(clause.margin().getAsDouble()) : "-",
                    plain(clause.worst()));
        }
    }

    private static void fact(String name, String value, PrintWriter out) {
        if (!value.isEmpty()) {
            out.printf(Locale.ROOT, "  %-10s %s%n", name, plain(value));
        }
    }
}
