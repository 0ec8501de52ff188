package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Clause;

/**
 * Draws one shift: angle over time with its samples, what was measured on it as dimension lines, and the current under
 * it where it was captured.
 */
final class ShiftDrawing {
    private static final double WIDTH = 772;
    private static final double LEFT = 54;
    private static final double RIGHT = 598;
    private static final double TOP = 36;
    private static final double BOTTOM = 336;
    private static final double TRAVEL_ROW = BOTTOM + 22;
    private static final double SETTLE_ROW = BOTTOM + 46;
    private static final double CURRENT_TOP = BOTTOM + 72;
    private static final double CURRENT_BOTTOM = CURRENT_TOP + 76;

    /** Drawn before the request and after the settling, seconds. */
    private static final double BEFORE_S = 0.25;

    private static final double AFTER_S = 0.35;
    /** Drawn of a shift that never settled, and at most of any. */
    private static final double UNSETTLED_S = 4;

    private static final double LONGEST_S = 12;
    /** More samples than this are thinned evenly. */
    static final int MOST_DOTS = 1500;
    /** A limit is drawn where it lies within this share of the plotted height beyond the motion. */
    private static final double NEAR = 0.3;

    private final Shift shift;
    private final ShiftTable table;
    private final Optional<Profile> profile;
    private final Optional<Allowed> allowed;
    private final Optional<Clause> clause;
    private final Trace trace;
    private final double requestS;
    private final double fromS;
    private final double toS;
    private final List<String> remarks = new ArrayList<>();

    private ShiftDrawing(
            Shift shift,
            ShiftTable table,
            Optional<Profile> profile,
            Optional<Clause> clause,
            AngleTrack track,
            double requestS,
            double toS) {
        this.shift = shift;
        this.table = table;
        this.profile = profile;
        this.clause = clause;
        this.requestS = requestS;
        this.fromS = requestS - BEFORE_S;
        this.toS = toS;
        this.allowed = clause.flatMap(c -> Allowed.of(c, shift, table, profile));
        this.trace = Trace.read(track, table, fromS, toS);
    }

    /**
     * Draws one shift.
     *
     * @param profile what the angles are placed by, for the limits; empty where they are not
     * @param next the shift after it, where the drawing ends for one that never settled
     * @param clause the clause the shift is shown for, where there is one
     * @return empty where the samples or the instants to place them are missing
     */
    static Optional<Picture> draw(
            Shift shift,
            Optional<Shift> next,
            ShiftTable table,
            Optional<Profile> profile,
            Optional<Clause> clause,
            AngleTrack track,
            String id) {
        OptionalDouble request = number(shift, Measure.REQUEST);
        OptionalDouble begin = request.isPresent() ? request : number(shift, Measure.MOTION_START);
        if (begin.isEmpty()) {
            return Optional.empty();
        }
        double zero = begin.getAsDouble();
        OptionalDouble settled = number(shift, Measure.SETTLED);
        double until = settled.isPresent()
                ? settled.getAsDouble() + AFTER_S
                : next.flatMap(s -> box(number(s, Measure.REQUEST))).orElse(zero + UNSETTLED_S);
        ShiftDrawing drawing = new ShiftDrawing(
                shift, table, profile, clause, track, zero, Math.min(Math.max(until, zero + 0.2), zero + LONGEST_S));
        return drawing.trace.size() < 2 ? Optional.empty() : Optional.of(drawing.picture(id));
    }

    private Picture picture(String id) {
        boolean current = current();
        double foot = current ? CURRENT_BOTTOM : SETTLE_ROW + 12;
        Scale time = new Scale(fromS - requestS, toS - requestS, LEFT, RIGHT);
        Scale angle = angleScale();
        Svg svg = new Svg(id, WIDTH, foot + 42, "Shift " + shift.number() + ", " + Words.way(shift), description());
        grid(svg, time, angle, foot);
        absences(svg, time);
        levels(svg, time, angle);
        samples(svg, time, angle);
        instants(svg, time, foot);
        dimensions(svg, time, angle);
        excess(svg, angle);
        if (current) {
            CurrentPlot.draw(svg, trace, requestS, time, CURRENT_TOP, CURRENT_BOTTOM, shift);
        }
        if (number(shift, Measure.LANDING).isPresent()) {
            remarks.add("Shaded: landing \u00b1 " + Figures.asWritten(table.bandDeg(), Unit.DEG) + ". Dots: samples.");
        }
        if (allowed.isPresent()) {
            remarks.add("Broken lines: what the clause allows.");
        }
        return new Picture(svg.finish(), remarks);
    }

    private String description() {
        return "Angle of the output shaft over the time after the request. Landing "
                + Words.measured(shift, Measure.LANDING) + ", overtravel " + Words.measured(shift, Measure.OVERTRAVEL)
                + ", hold " + Words.measured(shift, Measure.HOLD) + ", settle time "
                + Words.measured(shift, Measure.SETTLE_TIME) + ".";
    }

    private Scale angleScale() {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < trace.size(); i++) {
            if (trace.good(i)) {
                low = Math.min(low, trace.angleDeg(i));
                high = Math.max(high, trace.angleDeg(i));
            }
        }
        List<Double> wanted = new ArrayList<>();
        for (Measure measure : List.of(Measure.LANDING, Measure.PLATEAU)) {
            number(shift, measure).ifPresent(deg -> {
                wanted.add(deg - table.bandDeg());
                wanted.add(deg + table.bandDeg());
            });
        }
        allowed.ifPresent(a -> {
            a.lowDeg().ifPresent(wanted::add);
            a.highDeg().ifPresent(wanted::add);
        });
        for (double deg : wanted) {
            low = Math.min(low, deg);
            high = Math.max(high, deg);
        }
        if (!(high > low)) {
            double at = Double.isFinite(low) ? low : 0;
            low = at - 1;
            high = at + 1;
        }
        double span = high - low;
        double lower = low;
        double upper = high;
        for (double limit : limits()) {
            if (limit < low && low - limit < NEAR * span) {
                lower = limit - 0.06 * span;
            } else if (limit > high && limit - high < NEAR * span) {
                upper = limit + 0.06 * span;
            }
        }
        boolean up = shift.direction() == Direction.INBOARD; // room for the hold's dimension line beyond the plateau
        return new Scale(lower - (up ? 0.05 : 0.13) * span, upper + (up ? 0.11 : 0.05) * span, BOTTOM, TOP);
    }

    private List<Double> limits() {
        List<Double> limits = new ArrayList<>();
        profile.ifPresent(p -> {
            p.outboardLimitDeg().ifPresent(limits::add);
            p.inboardLimitDeg().ifPresent(limits::add);
        });
        return limits;
    }

    private void grid(Svg svg, Scale time, Scale angle, double foot) {
        svg.stroke(Palette.GRID, 1);
        angle.ticks(7).forEach(deg -> svg.line(LEFT, angle.at(deg), RIGHT, angle.at(deg)));
        time.ticks(9).forEach(s -> svg.line(time.at(s), TOP, time.at(s), BOTTOM));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .path("M" + Svg.coordinate(LEFT) + " " + Svg.coordinate(TOP) + "V" + Svg.coordinate(BOTTOM) + "H"
                        + Svg.coordinate(RIGHT))
                .end();
        svg.stroke(Palette.QUIET, 1).line(LEFT, foot, RIGHT, foot);
        time.ticks(9).forEach(s -> svg.line(time.at(s), foot, time.at(s), foot + 4));
        svg.end();
        svg.fill(Palette.INK);
        int decimals = angle.tickDecimals(7);
        angle.ticks(7).forEach(deg -> svg.text(LEFT - 6, angle.at(deg) + 4, "end", Figures.bare(deg, decimals)));
        int places = time.tickDecimals(9);
        time.ticks(9).forEach(s -> svg.text(time.at(s), foot + 17, "middle", Figures.bare(s, places)));
        svg.text(LEFT - 48, TOP - 20, "start", "angle, deg");
        svg.text(
                RIGHT,
                foot + 34,
                "end",
                "s after " + (number(shift, Measure.REQUEST).isPresent() ? "the request" : "the start of motion"));
        svg.end();
    }

    /** Stretches without an angle, each with its reason; a reason is written where it does not cover another. */
    private void absences(Svg svg, Scale time) {
        double free = LEFT;
        // outboard the foot is taken by the hold, and the head by the start
        double y = shift.direction() == Direction.INBOARD ? BOTTOM - 8 : (TOP + BOTTOM) / 2;
        for (Trace.Absence absence : trace.absences()) {
            double x1 = time.clamped(absence.fromS() - requestS);
            double x2 = time.clamped(absence.toS() - requestS);
            svg.fill(Palette.WASH).rect(x1, TOP, x2 - x1, BOTTOM - TOP).end();
            svg.dashed(Palette.QUIET, 0.8);
            svg.line(x1, TOP, x1, BOTTOM).line(x2, TOP, x2, BOTTOM).end();
            double half = absence.reason().length() * 3.2;
            double middle = Math.min((x1 + x2) / 2, RIGHT - half - 6);
            if (middle - half >= free) {
                svg.haloed(middle, y, "middle", Palette.QUIET, absence.reason());
                free = middle + half + 8;
            }
        }
    }

    private void levels(Svg svg, Scale time, Scale angle) {
        SideLabels labels = new SideLabels();
        number(shift, Measure.LANDING).ifPresent(deg -> {
            double y = angle.at(deg + table.bandDeg());
            svg.fill(Palette.BAND)
                    .rect(LEFT, y, RIGHT - LEFT, angle.at(deg - table.bandDeg()) - y)
                    .end();
            svg.stroke(Palette.INK, 1)
                    .line(LEFT, angle.at(deg), RIGHT, angle.at(deg))
                    .end();
            labels.add(angle.at(deg), Palette.INK, "landing " + Figures.of(deg, Unit.DEG));
        });
        number(shift, Measure.PLATEAU)
                .ifPresent(deg -> labels.add(angle.at(deg), Palette.INK, "plateau " + Figures.of(deg, Unit.DEG)));
        number(shift, Measure.START)
                .ifPresent(deg -> labels.add(angle.at(deg), Palette.QUIET, "start " + Figures.of(deg, Unit.DEG)));
        for (double limit : limits()) {
            if (angle.holds(limit)) {
                boolean inboard = limit > (angle.low() + angle.high()) / 2;
                Dimensions.stop(svg, LEFT, RIGHT, angle.at(limit), inboard ? -1 : 1);
                labels.add(angle.at(limit), Palette.INK, "limit " + Figures.of(limit, Unit.DEG));
            }
        }
        allowed.ifPresent(a -> allowed(svg, time, angle, a, labels));
        labels.draw(svg, RIGHT, TOP, BOTTOM);
    }

    private void allowed(Svg svg, Scale time, Scale angle, Allowed a, SideLabels labels) {
        svg.dashed(Palette.OPEN, 1.4);
        for (OptionalDouble edge : List.of(a.lowDeg(), a.highDeg())) {
            edge.ifPresent(deg -> svg.line(LEFT, angle.at(deg), RIGHT, angle.at(deg)));
        }
        for (OptionalDouble edge : List.of(a.lowS(), a.highS())) {
            edge.ifPresent(s -> svg.line(time.clamped(s), TOP, time.clamped(s), SETTLE_ROW + 8));
        }
        svg.end();
        a.lowDeg()
                .ifPresent(deg ->
                        labels.add(angle.at(deg), Palette.OPEN, a.label() + " from " + Figures.of(deg, Unit.DEG)));
        a.highDeg()
                .ifPresent(
                        deg -> labels.add(angle.at(deg), Palette.OPEN, a.label() + " to " + Figures.of(deg, Unit.DEG)));
        a.highS().ifPresent(s -> {
            if (time.holds(s)) {
                svg.haloed(time.at(s) - 5, BOTTOM - 8, "end", Palette.OPEN, a.label() + " allowed until");
            } else {
                remarks.add("The allowed time, " + Figures.of(s, Unit.S) + ", lies beyond the drawing.");
            }
        });
    }

    private void samples(Svg svg, Scale time, Scale angle) {
        int stride = (trace.size() + MOST_DOTS - 1) / MOST_DOTS;
        if (stride > 1) {
            remarks.add("Of " + trace.size() + " samples every " + stride + "th is drawn.");
        }
        StringBuilder line = new StringBuilder();
        StringBuilder dots = new StringBuilder();
        boolean pen = false;
        for (int i = 0; i < trace.size(); i++) {
            pen &= trace.breakBefore(i).isEmpty() && trace.good(i);
            if (trace.good(i) && (i % stride == 0 || !pen)) {
                double x = time.at(trace.timeS(i) - requestS);
                double y = angle.at(trace.angleDeg(i));
                if (pen) {
                    Svg.draw(line, x, y);
                } else {
                    Svg.move(line, x, y);
                }
                Svg.dot(dots, x, y);
                pen = true;
            }
        }
        svg.stroke(Palette.TRACE, 0.8).path(line).end();
        svg.group("fill=\"none\" stroke=\"" + Palette.TRACE + "\" stroke-width=\"2.6\" stroke-linecap=\"round\"")
                .path(dots)
                .end();
    }

    private void instants(Svg svg, Scale time, double foot) {
        if (number(shift, Measure.REQUEST).isPresent()) {
            instant(svg, time.at(0), foot, "end", "request");
        }
        number(shift, Measure.MOTION_START)
                .ifPresent(s -> instant(svg, time.at(s - requestS), BOTTOM, "start", "moves"));
        number(shift, Measure.SETTLED).ifPresent(s -> instant(svg, time.at(s - requestS), foot, "start", "settled"));
    }

    private static void instant(Svg svg, double x, double foot, String anchor, String name) {
        svg.stroke(Palette.INK, 1).line(x, TOP - 14, x, foot).end();
        StringBuilder flag = Mark.diamond(new StringBuilder(), x, TOP - 14, 3.5);
        svg.fill(Palette.INK).path(flag).end();
        svg.haloed(x + (anchor.equals("end") ? -6 : 6), TOP - 10, anchor, Palette.INK, name);
    }

    private void dimensions(Svg svg, Scale time, Scale angle) {
        Dimensions lines = new Dimensions(svg);
        OptionalDouble plateau = number(shift, Measure.PLATEAU);
        OptionalDouble landing = number(shift, Measure.LANDING);
        OptionalDouble hold = number(shift, Measure.HOLD);
        OptionalDouble overtravel = number(shift, Measure.OVERTRAVEL);
        if (plateau.isPresent() && landing.isPresent() && overtravel.isPresent()) {
            double begins = trace.stayBegins(plateau.getAsDouble(), table.bandDeg()) - requestS;
            double stays = hold.orElse(0);
            if (Double.isFinite(begins)) {
                double y = angle.at(plateau.getAsDouble());
                svg.stroke(Palette.INK, 1.4)
                        .line(time.at(begins), y, time.at(begins + stays), y)
                        .end();
                lines.upright(
                        time.at(begins + 0.18 * stays),
                        angle.at(landing.getAsDouble()),
                        y,
                        colour(Measure.OVERTRAVEL),
                        "overtravel " + Figures.of(overtravel.getAsDouble(), Unit.DEG));
                if (hold.isPresent()) {
                    boolean up = plateau.getAsDouble() > landing.getAsDouble();
                    lines.across(
                            time.at(begins),
                            time.at(begins + stays),
                            up ? y - 14 : y + 26,
                            colour(Measure.HOLD),
                            "hold " + Figures.of(stays, Unit.S));
                }
            }
        }
        number(shift, Measure.TRAVEL_TIME)
                .ifPresent(s -> lines.across(
                        time.at(0),
                        time.at(s),
                        TRAVEL_ROW,
                        colour(Measure.TRAVEL_TIME),
                        "travel " + Figures.of(s, Unit.S)));
        number(shift, Measure.SETTLE_TIME)
                .ifPresent(s -> lines.across(
                        time.at(0),
                        time.at(s),
                        SETTLE_ROW,
                        colour(Measure.SETTLE_TIME),
                        "settle " + Figures.of(s, Unit.S)));
    }

    /** How far outside its bound the shift is, as a dimension line. */
    private void excess(Svg svg, Scale angle) {
        allowed.ifPresent(a -> a.brokenEdge().ifPresent(edge -> {
            double actual = a.actualDeg().orElseThrow();
            new Dimensions(svg)
                    .upright(
                            RIGHT - 140,
                            angle.at(actual),
                            angle.at(edge),
                            Palette.FAIL,
                            "outside by " + Figures.of(Math.abs(edge - actual), Unit.DEG));
        }));
    }

    /** A dimension that the clause judges is told by its colour, and by the caption in words. */
    private String colour(Measure measure) {
        boolean judged = clause.flatMap(Clause::measure).filter(measure::equals).isPresent();
        boolean broken = judged && Findings.margin(clause.orElseThrow(), shift).orElse(0) < 0;
        return broken ? Palette.FAIL : Palette.INK;
    }

    private boolean current() {
        for (int i = 0; i < trace.size(); i++) {
            if (!Double.isNaN(trace.currentA(i))) {
                return true;
            }
        }
        return false;
    }

    private static OptionalDouble number(Shift shift, Measure measure) {
        return shift.get(measure).number();
    }

    private static Optional<Double> box(OptionalDouble value) {
        return value.isPresent() ? Optional.of(value.getAsDouble()) : Optional.empty();
    }

    /**
     * @param svg the drawing
     * @param remarks what a reader must know of it, such as thinning
     */
    record Picture(String svg, List<String> remarks) {
        Picture {
            remarks = List.copyOf(remarks);
        }
    }
}
