package org.shiftstand.report;

import java.util.BitSet;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Verdict;

/** A small scale beside a clause: what the bound allows, and where each group's value lies. */
final class ClauseGauge {
    private static final double WIDTH = 170;
    private static final double HEIGHT = 30;
    private static final double EDGE = 8;
    private static final double LINE = 15;
    /** More groups than this are drawn at one place for each drawing unit only. */
    private static final int CELLS = (int) (WIDTH - 2 * EDGE);

    private ClauseGauge() {}

    /** Empty where no group has a value. */
    static String draw(ClauseResult result, String id) {
        Unit unit = result.unit();
        Bound bound = result.clause().bound();
        OptionalDouble low = scaled(bound.atLeast(), unit);
        OptionalDouble high = scaled(bound.atMost(), unit);
        List<GroupResult> groups = result.groups().stream()
                .filter(group -> group.value().isPresent())
                .toList();
        if (groups.isEmpty()) {
            return "";
        }
        Scale scale = scale(groups, low, high);
        Svg svg = new Svg(
                id,
                WIDTH,
                HEIGHT,
                "Values of " + result.clause().id() + " against its bound",
                Figures.count(groups.size(), "group") + "; allowed " + Words.bound(bound, unit));
        double from = low.isPresent() ? scale.at(low.getAsDouble()) : EDGE / 2;
        double to = high.isPresent() ? scale.at(high.getAsDouble()) : WIDTH - EDGE / 2;
        svg.fill(Palette.BAND).rect(from, LINE - 7, to - from, 14).end();
        svg.stroke(Palette.QUIET, 1)
                .line(EDGE / 2, LINE, WIDTH - EDGE / 2, LINE)
                .end();
        svg.stroke(Palette.INK, 1.6);
        if (low.isPresent()) {
            svg.path(bracket(from, 4));
        }
        if (high.isPresent()) {
            svg.path(bracket(to, -4));
        }
        svg.end();
        marks(svg, groups, scale);
        return svg.finish();
    }

    private static void marks(Svg svg, List<GroupResult> groups, Scale scale) {
        StringBuilder inside = new StringBuilder();
        StringBuilder open = new StringBuilder();
        StringBuilder outside = new StringBuilder();
        Map<Verdict, BitSet> taken = new EnumMap<>(Verdict.class);
        for (GroupResult group : groups) {
            double x = scale.clamped(group.value().orElseThrow());
            int cell = Math.max(0, Math.min(CELLS, (int) (x - EDGE)));
            BitSet cells = taken.computeIfAbsent(group.verdict(), v -> new BitSet());
            if (cells.get(cell)) {
                continue;
            }
            cells.set(cell);
            switch (group.verdict()) {
                case PASS -> Svg.draw(Svg.move(inside, x, LINE - 5), x, LINE + 5);
                case NO_VERDICT -> Svg.draw(Svg.move(open, x - 3, LINE), x + 3, LINE);
                case FAIL -> Mark.diamond(outside, x, LINE, 5);
            }
        }
        svg.stroke(Palette.PASS, 1.4).path(inside).end();
        svg.stroke(Palette.OPEN, 5).path(open).end();
        svg.fill(Palette.FAIL).path(outside).end();
    }

    private static StringBuilder bracket(double x, double inward) {
        StringBuilder d = Svg.move(new StringBuilder(), x + inward, LINE - 9);
        Svg.draw(d, x, LINE - 9);
        Svg.draw(d, x, LINE + 9);
        return Svg.draw(d, x + inward, LINE + 9);
    }

    private static Scale scale(List<GroupResult> groups, OptionalDouble low, OptionalDouble high) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (GroupResult group : groups) {
            least = Math.min(least, group.value().orElseThrow());
            most = Math.max(most, group.value().orElseThrow());
        }
        least = Math.min(least, Math.min(low.orElse(least), high.orElse(least)));
        most = Math.max(most, Math.max(low.orElse(most), high.orElse(most)));
        double room = Math.max((most - least) * 0.08, 1e-9 * (1 + Math.abs(most)));
        return new Scale(least - room, most + room, EDGE, WIDTH - EDGE);
    }

    private static OptionalDouble scaled(OptionalDouble base, Unit unit) {
        return base.isPresent() ? OptionalDouble.of(base.getAsDouble() / unit.inBase()) : base;
    }
}
