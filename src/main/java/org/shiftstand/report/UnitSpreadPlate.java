package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.Variation;

/** How much units differ, against how much one unit's own shifts do. */
final class UnitSpreadPlate {
    private static final double LEFT = 120;
    private static final double RIGHT = 540;
    private static final double ROW = 26;
    private static final double TOP = 34;
    /** Bars reach at most this many times the spread within a unit. */
    private static final double REACH = 20;

    private UnitSpreadPlate() {}

    /** Empty below two units. */
    static Optional<Plate> draw(Learned learned) {
        List<Variation> rows = learned.variations().stream()
                .filter(v -> v.betweenSd().isPresent() && v.withinSd() > 0)
                .toList();
        if (rows.isEmpty()) {
            return Optional.empty();
        }
        double most = 1.5;
        for (Variation v : rows) {
            most = Math.max(most, Math.min(REACH, ratio(v)));
        }
        Scale scale = new Scale(0, most * 1.04, LEFT, RIGHT);
        double bottom = TOP + rows.size() * ROW;
        Svg svg = new Svg(
                "units-drawn",
                IntervalPlot.WIDTH,
                bottom + 44,
                "Unit to unit against within a unit",
                "For each measure, the spread from unit to unit as a multiple of the spread within a unit.");
        svg.stroke(Palette.GRID, 1);
        scale.ticks(8).forEach(v -> svg.line(scale.at(v), TOP, scale.at(v), bottom));
        svg.end();
        for (int i = 0; i < rows.size(); i++) {
            row(svg, rows.get(i), scale, TOP + i * ROW);
        }
        svg.stroke(Palette.QUIET, 1).line(LEFT, bottom, RIGHT, bottom).end();
        svg.dashed(Palette.INK, 1.2)
                .line(scale.at(1), TOP - 4, scale.at(1), bottom + 4)
                .end();
        svg.fill(Palette.INK);
        int decimals = scale.tickDecimals(8);
        scale.ticks(8).forEach(v -> svg.text(scale.at(v), bottom + 16, "middle", Figures.bare(v, decimals)));
        svg.text((LEFT + RIGHT) / 2, bottom + 34, "middle", "sd from unit to unit, in sds within a unit");
        svg.end().fill(Palette.QUIET);
        svg.text(4, TOP - 10, "start", "measure")
                .text(648, TOP - 10, "end", "unit to unit")
                .text(754, TOP - 10, "end", "within");
        svg.end();
        return Optional.of(new Plate(svg.finish(), notes(learned)));
    }

    private static double ratio(Variation v) {
        return v.betweenSd().orElse(0) / v.withinSd();
    }

    private static void row(Svg svg, Variation v, Scale scale, double y) {
        double ratio = ratio(v);
        svg.fill(Palette.RANGE)
                .rect(LEFT, y + 6, Math.max(1.5, scale.clamped(ratio) - LEFT), ROW - 12)
                .end();
        svg.fill(Palette.INK)
                .text(
                        LEFT - 10,
                        y + ROW / 2 + 4,
                        "end",
                        Words.spaced(v.measure().key()))
                .text(648, y + ROW / 2 + 4, "end", spread(v, v.betweenSd().orElse(0)))
                .text(754, y + ROW / 2 + 4, "end", spread(v, v.withinSd()));
        if (!scale.holds(ratio)) {
            svg.text(RIGHT + 4, y + ROW / 2 + 4, "start", Words.ARROW);
        }
        svg.end();
    }

    private static String spread(Variation v, double base) {
        return Figures.bare(LearnedWords.shown(v.measure(), base), 2) + Figures.symbol(LearnedWords.unit(v.measure()));
    }

    private static List<String> notes(Learned learned) {
        List<String> notes = new ArrayList<>();
        notes.add(
                "Bars are sds from unit to unit, over the sd within a unit (rows' own means taken out). Left of the dashed"
                        + " line units differ less than one unit's own shifts do.");
        notes.add("A bar of no length: the units' means scatter no more than their shifts explain.");
        String units = LearnedWords.units(learned);
        if (!units.isEmpty()) {
            notes.add(units);
        }
        return notes;
    }
}
