package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.ComparedRun;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;

/**
 * One shift before and one after over each other, both from their request on: of each side's first run the shift whose value is
 * the middle one of its group.
 */
final class OverlayDrawing {
    private static final double WIDTH = 772;
    private static final double LEFT = 58;
    private static final double RIGHT = 640;
    private static final double TOP = 20;
    private static final double BOTTOM = 300;
    private static final double BEFORE_S = 0.1;
    private static final double AFTER_S = 0.3;
    private static final double LONGEST_S = 8;
    /** Of these the place itself is shown; all others are counted from the landing, which scatters by itself. */
    private static final Set<Measure> PLACES =
            EnumSet.of(Measure.LANDING, Measure.LANDING_ERROR, Measure.EXTREME, Measure.CLEARANCE);

    private OverlayDrawing() {}

    /** Empty where the group is no single kind of shift, or a side has nothing to draw. */
    static Optional<Plate> draw(String id, Compared row, ComparedRun base, ComparedRun candidate) {
        Optional<Line> before = Line.of(row, base);
        Optional<Line> after = Line.of(row, candidate);
        if (before.isEmpty() || after.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Plate(
                svg(id, row, before.get(), after.get()),
                List.of(
                        "Dashed: base, shift " + before.get().shift.number() + " of " + base.name() + ". Drawn through:"
                                + " candidate, shift " + after.get().shift.number() + " of " + candidate.name() + ".",
                        "Of each side the shift with the middle value of " + Words.spaced(row.measure())
                                + " among its group. Time runs from the request.")));
    }

    private static String svg(String id, Compared row, Line before, Line after) {
        double until = Math.min(LONGEST_S, Math.max(before.untilS, after.untilS));
        Scale time = new Scale(-BEFORE_S, until, LEFT, RIGHT);
        double low = Math.min(before.least(), after.least());
        double high = Math.max(before.most(), after.most());
        double room = Math.max(1, 0.05 * (high - low));
        Scale angle = new Scale(low - room, high + room, BOTTOM, TOP);
        Svg svg = new Svg(
                id,
                WIDTH,
                BOTTOM + 44,
                "Before and after: " + ComparisonWords.named(row),
                "Angle over time of one shift of the base, dashed, and one of the candidate.");
        svg.stroke(Palette.GRID, 1);
        time.ticks(8).forEach(t -> svg.line(time.at(t), TOP, time.at(t), BOTTOM));
        angle.ticks(6).forEach(a -> svg.line(LEFT, angle.at(a), RIGHT, angle.at(a)));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .line(LEFT, BOTTOM, RIGHT, BOTTOM)
                .line(time.at(0), TOP, time.at(0), BOTTOM)
                .end();
        svg.fill(Palette.INK);
        time.ticks(8).forEach(t -> svg.text(time.at(t), BOTTOM + 17, "middle", Figures.bare(t, time.tickDecimals(8))));
        angle.ticks(6).forEach(a -> svg.text(LEFT - 8, angle.at(a) + 4, "end", Figures.bare(a, angle.tickDecimals(6))));
        svg.text((LEFT + RIGHT) / 2, BOTTOM + 35, "middle", "s from the request");
        svg.text(4, TOP - 8, "start", placed(row) ? "deg" : "deg from the landing")
                .end();
        svg.stroke(Palette.TRACE, 2.2).path(after.path(time, angle, until)).end();
        svg.dashed(Palette.INK, 1.4).path(before.path(time, angle, until)).end();
        labels(svg, angle, before.last(until), after.last(until));
        return svg.finish();
    }

    private static boolean placed(Compared row) {
        return row.measured().filter(PLACES::contains).isPresent();
    }

    /** Apart where both lines end on the same height. */
    private static void labels(Svg svg, Scale angle, double before, double after) {
        double yBefore = angle.at(before) + 4;
        double yAfter = angle.at(after) + 4;
        if (Math.abs(yBefore - yAfter) < 16) {
            double middle = (yBefore + yAfter) / 2;
            int way = yBefore <= yAfter ? -1 : 1;
            yBefore = middle + way * 8;
            yAfter = middle - way * 8;
        }
        svg.fill(Palette.INK).text(RIGHT + 8, yBefore, "start", "base (dashed)").end();
        svg.fill(Palette.TRACE).text(RIGHT + 8, yAfter, "start", "candidate").end();
    }

    /** One side's shift. */
    private static final class Line {
        private final Shift shift;
        private final Trace trace;
        private final double requestS;
        private final double untilS;
        private final double zeroDeg;

        private Line(Shift shift, Trace trace, double requestS, double untilS, double zeroDeg) {
            this.shift = shift;
            this.trace = trace;
            this.requestS = requestS;
            this.untilS = untilS;
            this.zeroDeg = zeroDeg;
        }

        private double deg(int i) {
            return trace.angleDeg(i) - zeroDeg;
        }

        static Optional<Line> of(Compared row, ComparedRun run) {
            return middle(row, run).flatMap(shift -> {
                OptionalDouble request = number(shift, Measure.REQUEST);
                OptionalDouble settled = number(shift, Measure.SETTLED);
                if (request.isEmpty() || settled.isEmpty()) {
                    return Optional.empty();
                }
                double from = request.getAsDouble();
                double until = Math.min(settled.getAsDouble() + AFTER_S, from + LONGEST_S);
                Trace trace = Trace.read(run.measurement().track(), run.table(), from - BEFORE_S, until);
                Line line = new Line(
                        shift,
                        trace,
                        from,
                        until - from,
                        placed(row) ? 0 : number(shift, Measure.LANDING).orElse(0));
                return line.goodSamples().isEmpty() ? Optional.empty() : Optional.of(line);
            });
        }

        private static Optional<Shift> middle(Compared row, ComparedRun run) {
            if (row.measured().isEmpty() || row.key().isEmpty()) {
                return Optional.empty();
            }
            Measure measure = row.measured().get();
            boolean plateaus = measure == Measure.OVERTRAVEL;
            List<Shift> of = run.table().shifts().stream()
                    .filter(shift -> shift.cycle() > 0 && shift.inPlace() && in(row.key(), shift))
                    .filter(shift -> number(shift, measure).isPresent())
                    .filter(shift -> !plateaus || number(shift, measure).orElse(0) != 0)
                    .sorted(Comparator.comparingDouble(
                            shift -> number(shift, measure).orElseThrow()))
                    .toList();
            return of.isEmpty() || !oneKind(row.key()) ? Optional.empty() : Optional.of(of.get(of.size() / 2));
        }

        private static boolean oneKind(Map<String, String> key) {
            return key.containsKey("pair") || (key.containsKey("sprocket") && key.containsKey("direction"));
        }

        private static boolean in(Map<String, String> key, Shift shift) {
            String pair = shift.from() + "→" + shift.to();
            return is(key, "pair", pair)
                    && is(key, "sprocket", String.valueOf(shift.to()))
                    && is(key, "direction", shift.direction().word());
        }

        private static boolean is(Map<String, String> key, String name, String value) {
            return !key.containsKey(name) || value.equals(key.get(name));
        }

        private static OptionalDouble number(Shift shift, Measure measure) {
            return shift.get(measure).match(new Measured.Cases<OptionalDouble>() {
                @Override
                public OptionalDouble value(double value) {
                    return OptionalDouble.of(value);
                }

                @Override
                public OptionalDouble notMeasured(String reason) {
                    return OptionalDouble.empty();
                }

                @Override
                public OptionalDouble notApplicable() {
                    return OptionalDouble.empty();
                }
            });
        }

        private List<Integer> goodSamples() {
            List<Integer> good = new ArrayList<>();
            for (int i = 0; i < trace.size(); i++) {
                if (trace.good(i)) {
                    good.add(i);
                }
            }
            return good;
        }

        double least() {
            return goodSamples().stream().mapToDouble(this::deg).min().orElseThrow();
        }

        double most() {
            return goodSamples().stream().mapToDouble(this::deg).max().orElseThrow();
        }

        double last(double until) {
            return goodSamples().stream()
                    .filter(i -> trace.timeS(i) - requestS <= until)
                    .mapToDouble(this::deg)
                    .reduce((a, b) -> b)
                    .orElseThrow();
        }

        /** Broken where samples miss or the sensors were off: nothing is drawn that was not seen. */
        StringBuilder path(Scale time, Scale angle, double until) {
            StringBuilder d = new StringBuilder();
            boolean down = false;
            for (int i = 0; i < trace.size(); i++) {
                double t = trace.timeS(i) - requestS;
                if (!trace.good(i) || t > until) {
                    down = false;
                    continue;
                }
                boolean joined = down && trace.breakBefore(i).isEmpty();
                double x = time.at(t);
                double y = angle.at(deg(i));
                d = joined ? Svg.draw(d, x, y) : Svg.move(d, x, y);
                down = true;
            }
            return d;
        }
    }
}
