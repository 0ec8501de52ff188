package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedPosition;
import org.shiftstand.quantity.Unit;

/**
 * The sprockets as rungs of a ladder, true to scale; beside each rung, enlarged, where shifts landed about its position.
 */
final class PositionLadder {
    private static final double WIDTH = 760;
    private static final double TOP = 40;
    private static final double ROW = 38;
    private static final double RAIL = 14;
    private static final double RUNG = 62;
    private static final double LABELS = 88;
    private static final double LEFT = 330;
    private static final double RIGHT = 748;

    private final Learned learned;
    private final List<LearnedPosition> positions;
    private final Scale near;
    private final double bottom;

    PositionLadder(Learned learned) {
        this.learned = learned;
        this.positions = learned.positions();
        this.near = near(positions);
        this.bottom = TOP + positions.size() * ROW;
    }

    private static Scale near(List<LearnedPosition> positions) {
        double most = 1;
        for (LearnedPosition p : positions) {
            for (Estimated landing : List.of(p.inboard(), p.outboard())) {
                most = Math.max(
                        most,
                        landing.estimate()
                                .filter(e -> Double.isFinite(p.programmedDeg()))
                                .map(e -> Math.max(
                                        Math.abs(e.least() - p.programmedDeg()),
                                        Math.abs(e.greatest() - p.programmedDeg())))
                                .orElse(0.0));
            }
            most = Math.max(most, Double.isFinite(p.halfWidthDeg()) ? p.halfWidthDeg() : 0);
        }
        return new Scale(-1.1 * most, 1.1 * most, LEFT, RIGHT);
    }

    Plate draw() {
        Svg svg = new Svg(
                "ladder-drawn",
                WIDTH,
                bottom + 46,
                "Position ladder",
                "Sprockets true to scale at the left; landings of each about its programmed position at the right.");
        axes(svg);
        rails(svg);
        List<OptionalDouble> mm = millimetres();
        for (int i = 0; i < positions.size(); i++) {
            rung(svg, positions.get(i), mm.get(i), TOP + (i + 0.5) * ROW);
        }
        return new Plate(svg.finish(), notes(mm));
    }

    /** Cage travel from sprocket 1, added up rung by rung as far as it is known. */
    private List<OptionalDouble> millimetres() {
        List<OptionalDouble> all = new ArrayList<>();
        OptionalDouble next = positions.stream().anyMatch(p -> p.pitchMm().isPresent())
                ? OptionalDouble.of(0)
                : OptionalDouble.empty();
        for (LearnedPosition p : positions) {
            all.add(next);
            next = next.isPresent()
                            && p.pitchMm().isPresent()
                            && Double.isFinite(p.pitchMm().getAsDouble())
                    ? OptionalDouble.of(next.getAsDouble() + p.pitchMm().getAsDouble())
                    : OptionalDouble.empty();
        }
        return all;
    }

    private void axes(Svg svg) {
        svg.stroke(Palette.GRID, 1);
        near.ticks(8).forEach(v -> svg.line(near.at(v), TOP, near.at(v), bottom));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .line(LEFT, bottom, RIGHT, bottom)
                .line(near.at(0), TOP - 4, near.at(0), bottom + 4)
                .end();
        svg.fill(Palette.INK);
        int decimals = near.tickDecimals(8);
        near.ticks(8).forEach(v -> svg.text(near.at(v), bottom + 16, "middle", Figures.bare(v, decimals)));
        svg.text((LEFT + RIGHT) / 2, bottom + 34, "middle", "landing less programmed position, deg, positive inboard");
        svg.end().fill(Palette.QUIET);
        svg.text(
                RAIL - 8,
                TOP - 18,
                "start",
                millimetres().stream().anyMatch(OptionalDouble::isPresent)
                        ? "sprocket, position, mm of cage travel from 1"
                        : "sprocket, position");
        svg.text(near.at(0), TOP - 18, "middle", "programmed position").end();
    }

    private void rails(Svg svg) {
        svg.stroke(Palette.INK, 2)
                .line(RAIL, TOP + 4, RAIL, bottom - 4)
                .line(RUNG, TOP + 4, RUNG, bottom - 4)
                .end();
    }

    private void rung(Svg svg, LearnedPosition p, OptionalDouble mm, double y) {
        boolean known = Double.isFinite(p.programmedDeg());
        if (known) {
            double at = trueToScale(p.programmedDeg());
            svg.stroke(Palette.INK, 3).line(RAIL, at, RUNG, at).end();
            StringBuilder leader = Svg.move(new StringBuilder(), RUNG + 2, at);
            Svg.draw(leader, LABELS - 6, y);
            svg.stroke(Palette.QUIET, 0.8).path(leader).end();
        }
        svg.group("fill=\"" + Palette.INK + "\" font-weight=\"700\"")
                .text(LABELS + 14, y + 4, "end", Integer.toString(p.sprocket()))
                .end();
        svg.fill(known ? Palette.INK : Palette.OPEN)
                .text(LABELS + 26, y + 4, "start", known ? position(p) : "gap: position not known");
        mm.ifPresent(value -> svg.text(LEFT - 16, y + 4, "end", Figures.bare(value, 2) + " mm"));
        svg.end();
        if (known) {
            own(svg, p, y);
            landing(svg, p, p.inboard(), y - 8, true);
            landing(svg, p, p.outboard(), y + 8, false);
        }
    }

    private static String position(LearnedPosition p) {
        return p.sprocket() == 1
                ? "0, the origin"
                : LearnedWords.plusMinus(p.programmedDeg(), p.halfWidthDeg(), Unit.DEG) + " deg";
    }

    private double trueToScale(double deg) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (LearnedPosition p : positions) {
            if (Double.isFinite(p.programmedDeg())) {
                low = Math.min(low, p.programmedDeg());
                high = Math.max(high, p.programmedDeg());
            }
        }
        return high > low ? new Scale(low, high, TOP + ROW / 2, bottom - ROW / 2).at(deg) : TOP + ROW / 2;
    }

    /** Interval of the position itself, on the middle line. */
    private void own(Svg svg, LearnedPosition p, double y) {
        if (Double.isFinite(p.halfWidthDeg())) {
            double from = near.clamped(-p.halfWidthDeg());
            double to = near.clamped(p.halfWidthDeg());
            svg.stroke(Palette.INK, 1.2)
                    .line(from, y, to, y)
                    .line(from, y - 3, from, y + 3)
                    .line(to, y - 3, to, y + 3)
                    .end();
        }
    }

    /** A triangle that points the way the shift went, down is inboard; over the bar from least to greatest. */
    private void landing(Svg svg, LearnedPosition p, Estimated landing, double y, boolean inboard) {
        landing.estimate().ifPresent(e -> {
            svg.stroke(Palette.RANGE, 4)
                    .line(
                            near.clamped(e.least() - p.programmedDeg()),
                            y,
                            near.clamped(e.greatest() - p.programmedDeg()),
                            y)
                    .end();
            double x = near.clamped(e.mean() - p.programmedDeg());
            double tip = inboard ? y + 5 : y - 5;
            double base = inboard ? y - 4 : y + 4;
            StringBuilder d = Svg.move(new StringBuilder(), x - 5, base);
            Svg.draw(d, x + 5, base);
            Svg.draw(d, x, tip);
            svg.group("fill=\"" + (inboard ? Palette.TRACE : Palette.PAPER) + "\" stroke=\"" + Palette.TRACE
                            + "\" stroke-width=\"1.4\"")
                    .path(d.append('z'))
                    .end();
        });
    }

    private List<String> notes(List<OptionalDouble> mm) {
        List<String> notes = new ArrayList<>();
        notes.add(
                "Left: rungs true to scale, sprocket 1 on top, further inboard downwards. Right: enlarged, the same scale"
                        + " for all rungs.");
        notes.add(
                "Filled triangle pointing down: mean landing of shifts inboard. Hollow triangle pointing up: of shifts"
                        + " outboard. Thick bar: from least to greatest seen.");
        notes.add("Capped stroke: interval of the position, " + LearnedWords.confidence(learned)
                + ", from sprocket 1, which is the origin and has none.");
        notes.add(
                mm.stream().anyMatch(OptionalDouble::isPresent)
                        ? "Millimetres of cage travel follow from the screw lead."
                        : "No millimetres: no screw lead is known. Say it with --screw-lead.");
        return notes;
    }
}
