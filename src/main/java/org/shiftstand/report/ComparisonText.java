package org.shiftstand.report;

import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.ComparedRun;
import org.shiftstand.learn.compare.Comparison;

/** A comparison for a terminal: the verdict, what decided, a line a clause, what to know. */
public final class ComparisonText {
    private static final int LISTED = 12;
    private final Comparison comparison;
    private final PrintWriter out;

    private ComparisonText(Comparison comparison, PrintWriter out) {
        this.comparison = comparison;
        this.out = out;
    }

    public static void print(Comparison comparison, PrintWriter out) {
        new ComparisonText(comparison, out).print();
        out.flush();
    }

    private void print() {
        out.println(comparison.change().word().toUpperCase(java.util.Locale.ROOT) + ": " + clean(comparison.reason()));
        out.println();
        out.println(
                "base:      " + runs(comparison.sides().base()) + "; firmware " + clean(comparison.firmwareBefore()));
        out.println("candidate: " + runs(comparison.sides().candidate()) + "; firmware "
                + clean(comparison.firmwareAfter()));
        comparison.unlike().forEach(unlike -> out.println("unlike, allowed: " + clean(unlike.words())));
        if (!comparison.judged().isEmpty()) {
            out.println();
            clauses();
            listed(Change.DIFFERENT, "Different");
            listed(Change.NOT_DECIDED, "Not decided");
            moved();
            out.println();
            out.println(
                    "Where nothing changed, this many shifts show everything to be equivalent with a chance of about "
                            + Math.round(comparison.power() * 100) + " %.");
        }
        told();
        out.println();
        comparison.notices().forEach(notice -> out.println("- " + clean(notice)));
    }

    private static String runs(List<ComparedRun> runs) {
        return String.join(
                ", ",
                runs.stream().map(ComparedRun::name).map(ComparisonText::clean).toList());
    }

    private void clauses() {
        Map<String, int[]> counts = new LinkedHashMap<>();
        for (Compared row : comparison.judged()) {
            int[] of = counts.computeIfAbsent(row.clause().orElse(""), clause -> new int[3]);
            of[
                    switch (row.change()) {
                        case EQUIVALENT, NO_MARGIN -> 0;
                        case DIFFERENT -> 1;
                        case NOT_DECIDED -> 2;
                    }]++;
        }
        int width = counts.keySet().stream().mapToInt(String::length).max().orElse(0);
        counts.forEach((clause, of) -> out.println("  " + clause + " ".repeat(width - clause.length()) + "  " + of[0]
                + " equivalent, " + of[1] + " different, " + of[2] + " not decided"));
    }

    private void listed(Change change, String head) {
        List<Compared> rows = comparison.judged().stream()
                .filter(row -> row.change() == change)
                .toList();
        lines(head, rows);
    }

    private void moved() {
        lines(
                "Equivalent, though not the same",
                comparison.judged().stream()
                        .filter(row -> row.notTheSame(comparison.alpha()))
                        .toList());
    }

    private void lines(String head, List<Compared> rows) {
        if (rows.isEmpty()) {
            return;
        }
        out.println();
        out.println(head + ":");
        rows.stream()
                .limit(LISTED)
                .forEach(row -> out.println("  " + ComparisonWords.named(row) + ": " + clean(row.reason())));
        if (rows.size() > LISTED) {
            out.println("  … and " + (rows.size() - LISTED) + " more; --report or --json show all");
        }
    }

    private void told() {
        List<Compared> moved = comparison.told().stream()
                .filter(row -> row.pHolm().isPresent() && row.pHolm().getAsDouble() <= comparison.alpha())
                .toList();
        if (!comparison.told().isEmpty()) {
            out.println();
            out.println(comparison.told().size() + " groups have no margin and are not judged; "
                    + (moved.isEmpty() ? "none of them is shown to have moved." : moved.size() + " have moved."));
            lines("Moved, not judged", moved);
        }
    }

    private static String clean(String text) {
        return Words.clean(text);
    }
}
