package org.shiftstand.report;

import java.util.List;
import org.shiftstand.bench.Budget.Ranked;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;

/** The uncertainty budgets as rows of a table, the contributions of each measure ranked. */
final class UncertaintyRows {
    private static final double SMALLEST_SHOWN = 0.0005; // of the variance: less rounds to 0.0 %

    private UncertaintyRows() {}

    /** One measure. */
    record Row(
            String measure,
            String at,
            String standard,
            String freedom,
            String factor,
            String expanded,
            List<Part> parts) {}

    /** One contribution. */
    record Part(String name, String nature, String standard, String share, String source) {}

    static List<Row> of(Judgement judgement) {
        return StatedUncertainty.of(judgement).stream()
                .map(UncertaintyRows::row)
                .toList();
    }

    /** Why there is no table, or how to read it. */
    static String intro(Judgement judgement) {
        return judgement.budgets().isEmpty()
                ? "None is stated: the run has no rig description, so that calibrations, backlash and the converter are"
                        + " unknown. Give one with --bench."
                : "Of one shift's value, at the usual size of the value. U is the expanded uncertainty at 95 %: k times the"
                        + " combined standard uncertainty u, by the GUM (JCGM 100). Errors are each (another one in every"
                        + " shift), common (the same in all shifts of the run: no part of a spread) or scale (a share of the"
                        + " value).";
    }

    private static Row row(StatedUncertainty.Line line) {
        Unit unit = line.measure().unit();
        double u = line.combined().standard();
        double freedom = line.combined().freedom();
        return new Row(
                Words.spaced(line.measure().key()),
                Figures.of(line.at(), unit),
                figure(u, unit),
                freedom > 999 ? "many" : Integer.toString((int) freedom),
                Figures.bare(line.expanded().factor(), 2),
                figure(line.expanded().expanded(), unit),
                line.combined().ranked().stream()
                        .map(ranked -> part(ranked, unit))
                        .toList());
    }

    private static Part part(Ranked ranked, Unit unit) {
        boolean scale = ranked.contribution().nature() == Nature.SCALE;
        return new Part(
                ranked.contribution().name(),
                ranked.contribution().nature().word()
                        + (scale
                                ? Figures.NO_BREAK
                                        + figure(100 * ranked.contribution().standardUncertainty(), Unit.PERCENT)
                                : ""),
                figure(ranked.standard(), unit),
                ranked.share() < SMALLEST_SHOWN
                        ? "<" + Figures.NO_BREAK + "0.1" + Figures.NO_BREAK + "%"
                        : Figures.of(100 * ranked.share(), Unit.PERCENT),
                ranked.contribution().source());
    }

    /** Two digits that count (JCGM 100, 7.2.6), whatever the unit's usual decimals. */
    private static String figure(double value, Unit unit) {
        int leading = value > 0 ? (int) Math.floor(Math.log10(value)) : 0;
        return Figures.of(value, unit, Math.max(0, Math.min(9, 1 - leading)));
    }
}
