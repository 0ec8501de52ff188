package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.CycleSeries;
import org.shiftstand.spec.DriftGroup;
import org.shiftstand.spec.RunDrift;
import org.shiftstand.stats.Projection;

/**
 * One group over the cycles: a dot for each cycle, the line with its interval or both levels, the bound, and where the drift
 * leads. What was seen is drawn full, what is expected broken.
 */
final class DriftPlot {
    private static final double WIDTH = 772;
    private static final double HEIGHT = 340;
    private static final double LEFT = 66;
    private static final double RIGHT = 756;
    private static final double TOP = 40;
    private static final double BOTTOM = 284;
    /** Height of the strip above the axis that shows where the drift leads. */
    private static final double LANE = 38;

    /** What is expected is drawn as far ahead as this many times the run at most. */
    private static final double AHEAD = 1.6;

    private static final int STEPS = 48;

    private final DriftGroup group;
    private final CycleSeries series;
    private final String shifts;
    private final Unit unit;
    private final Optional<Bound> bound;
    private final Optional<RunDrift.ClauseCourse> course;
    private final double first;
    private final double last;
    private final double end;
    private final Scale across;
    private final Scale up;

    /**
     * @param shifts which they are, in words
     * @param unit values are drawn in it
     * @param bound on each shift of the group, in the base unit
     * @param course of the clause that the drift leads to its bound
     */
    DriftPlot(
            DriftGroup group, String shifts, Unit unit, Optional<Bound> bound, Optional<RunDrift.ClauseCourse> course) {
        this.group = group;
        this.series = group.series();
        this.shifts = shifts;
        this.unit = unit;
        this.bound = bound;
        this.course = course;
        this.first = series.cycle(0);
        this.last = series.cycle(series.size() - 1);
        double wanted = projection().map(Projection::to).orElse(last);
        this.end = Math.min(Math.max(last, wanted), last + AHEAD * (last - first));
        double room = 0.02 * (end - first);
        this.across = new Scale(first - room, end + room, LEFT, RIGHT);
        this.up = upwards();
    }

    private Optional<Projection> projection() {
        return course.flatMap(RunDrift.ClauseCourse::projected);
    }

    String draw() {
        String title = Words.capital(RunSection.name(group.kind().measure())) + " over the cycles, " + shifts;
        Svg svg = new Svg("run-drift", WIDTH, HEIGHT, title, described());
        frame(svg);
        bounds(svg);
        if (group.shape() == DriftGroup.Shape.STEP) {
            levels(svg);
        } else {
            band(svg);
        }
        dots(svg);
        if (group.shape() == DriftGroup.Shape.DRIFT) {
            line(svg);
            projected(svg);
        }
        signals(svg);
        return svg.finish();
    }

    private String described() {
        return group.shape() == DriftGroup.Shape.STEP
                ? "Values by cycle, with the median before and after cycle "
                        + group.change().cycle().orElse(0) + "."
                : "Values by cycle, with the line of median slope, its 95 % interval"
                        + (projection().isPresent() ? " and where it leads." : ".");
    }

    private void frame(Svg svg) {
        svg.stroke(Palette.GRID, 1);
        up.ticks(6).forEach(v -> svg.line(LEFT, up.at(v), RIGHT, up.at(v)));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .path("M" + Svg.coordinate(LEFT) + " " + Svg.coordinate(TOP) + "V" + Svg.coordinate(BOTTOM) + "H"
                        + Svg.coordinate(RIGHT));
        across.wholeTicks(9).forEach(v -> svg.line(across.at(v), BOTTOM, across.at(v), BOTTOM + 4));
        svg.end();
        svg.fill(Palette.INK);
        int decimals = up.tickDecimals(6);
        up.ticks(6).forEach(v -> svg.text(LEFT - 7, up.at(v) + 4, "end", Figures.bare(v, decimals)));
        across.wholeTicks(9).forEach(v -> svg.text(across.at(v), BOTTOM + 18, "middle", Figures.bare(v, 0)));
        svg.text(RIGHT, BOTTOM + 36, "end", "cycle");
        svg.text(LEFT - 52, TOP - 18, "start", RunSection.name(group.kind().measure()) + ", " + unit.symbol());
        svg.end();
        if (end > last) {
            double x = across.at(last);
            svg.stroke(Palette.QUIET, 1).line(x, TOP, x, BOTTOM).end();
            svg.haloed(x - 6, TOP + 2, "end", Palette.QUIET, "measured");
            svg.haloed(x + 6, TOP + 2, "start", Palette.QUIET, "expected");
        }
    }

    private void bounds(Svg svg) {
        bound.ifPresent(b -> {
            b.atLeast().ifPresent(v -> edge(svg, v, 1));
            b.atMost().ifPresent(v -> edge(svg, v, -1));
        });
    }

    /** A bound with short strokes on the side that is not allowed. */
    private void edge(Svg svg, double value, int outside) {
        double at = unit.fromBase(value);
        if (!up.holds(at)) {
            return;
        }
        double y = up.at(at);
        StringBuilder strokes = new StringBuilder();
        for (double x = LEFT + 8; x < RIGHT; x += 14) {
            Svg.draw(Svg.move(strokes, x, y), x - 5, y + outside * 6);
        }
        svg.stroke(Palette.INK, 1.4).line(LEFT, y, RIGHT, y).end();
        svg.stroke(Palette.INK, 0.8).path(strokes).end();
        svg.haloed(
                LEFT + 6,
                y + (outside > 0 ? -6 : 15),
                "start",
                Palette.INK,
                "bound on each shift, " + Figures.asWritten(at, unit));
    }

    private double line(double cycle) {
        return unit.fromBase(group.line().value(cycle));
    }

    private void band(Svg svg) {
        group.band().ifPresent(band -> {
            StringBuilder d = new StringBuilder();
            for (int i = 0; i <= STEPS; i++) {
                double x = first + (end - first) * i / STEPS;
                point(d, i == 0, x, line(x) + unit.fromBase(band.half(x)));
            }
            for (int i = STEPS; i >= 0; i--) {
                double x = first + (end - first) * i / STEPS;
                point(d, false, x, line(x) - unit.fromBase(band.half(x)));
            }
            svg.fill(Palette.BAND).path(d.append('z')).end();
        });
    }

    private void point(StringBuilder d, boolean begins, double x, double y) {
        if (begins) {
            Svg.move(d, across.at(x), up.clamped(y));
        } else {
            Svg.draw(d, across.at(x), up.clamped(y));
        }
    }

    private void line(Svg svg) {
        svg.stroke(Palette.INK, 2)
                .line(across.at(first), up.clamped(line(first)), across.at(last), up.clamped(line(last)))
                .end();
        if (end > last && up.holds(line(last))) {
            double reach = reach();
            svg.dashed(Palette.INK, 2)
                    .line(across.at(last), up.at(line(last)), across.at(reach), up.clamped(line(reach)))
                    .end();
        }
    }

    /** How far the line can be drawn before it leaves the drawing. */
    private double reach() {
        double edge = line(end) > line(last) ? up.high() : up.low();
        double leaves = last + (edge - line(last)) / (line(last + 1) - line(last));
        return Math.min(end, leaves);
    }

    private void levels(Svg svg) {
        int place = 0;
        int at = group.change().cycle().orElse((int) last);
        while (place < series.size() && series.cycle(place) < at) {
            place++;
        }
        double before = median(0, place);
        double then = median(place, series.size());
        double x = across.at(at - 0.5);
        svg.dashed(Palette.INK, 1.2).line(x, TOP, x, BOTTOM).end();
        svg.stroke(Palette.INK, 2.4)
                .line(across.at(first), up.at(before), x, up.at(before))
                .line(x, up.at(then), across.at(last), up.at(then))
                .end();
        svg.haloed(x + 6, TOP + 4, "start", Palette.INK, "from cycle " + at);
    }

    private double median(int from, int to) {
        double[] part = Arrays.copyOfRange(series.values(), from, to);
        Arrays.sort(part);
        return unit.fromBase((part[(part.length - 1) / 2] + part[part.length / 2]) / 2);
    }

    private void dots(Svg svg) {
        StringBuilder inside = new StringBuilder();
        StringBuilder broken = new StringBuilder();
        for (int i = 0; i < series.size(); i++) {
            double value = series.value(i);
            double x = across.at(series.cycle(i));
            double y = up.clamped(unit.fromBase(value));
            boolean breaks = bound.isPresent()
                    && (value < bound.get().atLeast().orElse(Double.NEGATIVE_INFINITY)
                            || value > bound.get().atMost().orElse(Double.POSITIVE_INFINITY));
            if (breaks) {
                Mark.diamond(broken, x, y, 4);
            } else {
                Svg.dot(inside, x, y);
            }
        }
        svg.group("fill=\"none\" stroke=\"" + Palette.TRACE + "\" stroke-width=\""
                        + (series.size() > 250 ? "2.4" : "3.6") + "\" stroke-linecap=\"round\"")
                .path(inside)
                .end();
        svg.group("fill=\"" + Palette.FAIL + "\" stroke=\"" + Palette.PAPER + "\" stroke-width=\"0.8\"")
                .path(broken)
                .end();
    }

    /** The interval of the cycle at which the clause will break its bound, as a dimension line. */
    private void projected(Svg svg) {
        projection().ifPresent(p -> {
            double low = Math.min(end, p.from());
            double high = Math.min(end, p.to());
            double y = BOTTOM - 13;
            StringBuilder ends = new StringBuilder();
            for (double cycle : new double[] {low, high}) {
                Svg.draw(Svg.move(ends, across.at(cycle), y - 6), across.at(cycle), y + 6);
            }
            svg.stroke(Palette.INK, 1.4)
                    .line(across.at(low), y, across.at(high), y)
                    .path(ends)
                    .end();
            StringBuilder tip = new StringBuilder();
            Mark.diamond(tip, across.at(Math.min(end, p.at())), y, 5);
            svg.group("fill=\"" + Palette.PAPER + "\" stroke=\"" + Palette.INK + "\" stroke-width=\"1.6\"")
                    .path(tip)
                    .end();
            String text = "breaks the clause in cycle " + Figures.bare(p.at(), 0);
            double x = across.at((low + high) / 2);
            boolean right = x > (LEFT + RIGHT) / 2;
            svg.haloed(right ? across.at(high) : across.at(low), y - 11, right ? "end" : "start", Palette.INK, text);
        });
    }

    /** Below the axis: where each chart left its limits. */
    private void signals(Svg svg) {
        group.weightedSignal().ifPresent(cycle -> signal(svg, cycle, false));
        group.sumSignal().ifPresent(cycle -> signal(svg, cycle, true));
    }

    private void signal(Svg svg, int cycle, boolean filled) {
        double x = across.at(cycle);
        StringBuilder tip = Svg.move(new StringBuilder(), x, BOTTOM + (filled ? -1 : 1))
                .append(filled ? "l5 -9h-10z" : "l5 9h-10z");
        svg.group("fill=\"" + (filled ? Palette.INK : Palette.PAPER) + "\" stroke=\"" + Palette.INK
                        + "\" stroke-width=\"1.2\"")
                .path(tip)
                .end();
    }

    List<String> notes() {
        List<String> notes = new ArrayList<>();
        notes.add("One dot for each cycle: the median of its shifts.");
        if (group.shape() == DriftGroup.Shape.STEP) {
            notes.add(
                    "Strong lines: the medians before and after the step. A step need not go on, so nothing is projected.");
        } else {
            notes.add("Strong line: median slope of all pairs of cycles. Shaded: its 95 % interval.");
        }
        projection()
                .ifPresent(p -> notes.add("Open diamond: clause "
                        + course.orElseThrow().clause()
                        + " is expected to break its bound in cycle " + Figures.bare(p.at(), 0) + ", 95 % interval "
                        + Figures.bare(Math.floor(p.from()), 0) + " to " + Figures.bare(Math.ceil(p.to()), 0)
                        + (p.to() > end ? ", which reaches beyond the drawing" : "")
                        + ", if the drift goes on as it did. That nobody knows."));
        if (group.weightedSignal().isPresent() || group.sumSignal().isPresent()) {
            notes.add(
                    "Triangles at the axis: the cycle in which a chart against the first cycles left its limits; below it, open, the"
                            + " exponentially weighted means; above it, filled, the cumulative sums.");
        }
        return notes;
    }

    private Scale upwards() {
        double[] values = series.values();
        double low = Arrays.stream(values).min().orElse(0);
        double high = Arrays.stream(values).max().orElse(0);
        double span = Math.max(high - low, 1e-9 * (1 + Math.abs(high)));
        if (projection().isPresent()) {
            double reaches = group.line().value(end);
            low = Math.min(low, reaches);
            high = Math.max(high, reaches);
        }
        // a bound far away would press the values flat
        double near = Math.max(high - low, span) * 1.5;
        if (bound.isPresent()) {
            double least = bound.get().atLeast().orElse(low);
            double most = bound.get().atMost().orElse(high);
            low = least > low - near ? Math.min(low, least) : low;
            high = most < high + near ? Math.max(high, most) : high;
        }
        double room = 0.08 * Math.max(high - low, span);
        return new Scale(
                unit.fromBase(low - room),
                unit.fromBase(high + room),
                BOTTOM - (projection().isPresent() ? LANE : 0),
                TOP);
    }
}
