package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Set;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Course;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/**
 * Holds a procedure against the guards of a rig and the nominal data of a unit before anything starts: what the rig would cut
 * in the middle of the night is told in the evening. Durations are those of {@link Course}, 10 % off at most for sound units.
 *
 * <p>A guard of 0 or NaN is not wanted, and nothing is held against it.
 */
public final class Preflight {
    /**
     * Distance that is kept from a mechanical limit unless somebody says otherwise, degrees. The end-of-line spec of the
     * example asks for as much clearance; common practice, no published source.
     */
    public static final double MARGIN_DEG = 60;

    /** Past the plateau, degrees: what the end-of-line spec of the example allows; common practice, no published source. */
    static final double RINGING_DEG = 25;

    /** The period of an intermittent duty where none is stated: IEC 60034-1, duty type S3. */
    private static final double DUTY_WINDOW_S = 600;

    private static final double HOUR_S = 3600;
    /** A weekend; nobody looks at more in one piece; common practice, no published source. */
    private static final double LONGEST_S = 72 * HOUR_S;

    private final List<String> problems = new ArrayList<>();
    private final Course course;
    private final Procedure procedure;
    private final Profile profile;
    private final Guards guards;

    private Preflight(Course course, Procedure procedure, Profile profile, Guards guards) {
        this.course = course;
        this.procedure = procedure;
        this.profile = profile;
        this.guards = guards;
    }

    /**
     * Everything that speaks against running a procedure, at once; empty where nothing does.
     *
     * @param actions the procedure laid out
     * @param profile nominal data, a unit's own limits put in where they are known
     * @param limitsFrom where the mechanical limits come from, for messages: {@code profile tarn-drive}
     */
    public static List<String> problems(
            List<Action> actions, Procedure procedure, Profile profile, Guards guards, String limitsFrom) {
        return problems(actions, procedure, profile, guards, limitsFrom, MARGIN_DEG);
    }

    /** The same with another distance to be kept from the mechanical limits, degrees. */
    public static List<String> problems(
            List<Action> actions,
            Procedure procedure,
            Profile profile,
            Guards guards,
            String limitsFrom,
            double marginDeg) {
        var preflight = new Preflight(Course.of(actions, profile), procedure, profile, guards);
        preflight.supply();
        preflight.onTime();
        preflight.duty();
        preflight.length();
        preflight.currents();
        preflight.reach(limitsFrom, marginDeg);
        return List.copyOf(preflight.problems);
    }

    private void supply() {
        Set<Double> told = new LinkedHashSet<>();
        for (Action action : course.actions()) {
            if (action instanceof Action.SetSupply s && told.add(s.volts())) {
                boolean low = guards.supplyMinV() > 0 && s.volts() < guards.supplyMinV();
                boolean high = guards.supplyMaxV() > 0 && s.volts() > guards.supplyMaxV();
                if (low || high) {
                    add(
                            "the procedure sets the supply to %s V; the rig's guard allows %s V to %s V",
                            Watches.number(s.volts()),
                            Watches.number(guards.supplyMinV()),
                            Watches.number(guards.supplyMaxV()));
                }
            }
        }
    }

    private void onTime() {
        if (guards.onTimeS() > 0 && guards.onTimeS() < HOUR_S) {
            Stretches powered = new Stretches();
            for (int i = 0; i < course.actions().size(); i++) {
                powered.add(course.startS(i), course.endS(i), course.powered(i));
            }
            double most = powered.mostWithin(HOUR_S);
            if (most > guards.onTimeS()) {
                add(
                        "the unit is under supply for %s of one hour; the rig's guard cuts after %s (on-time). Put in a"
                                + " 'supply: off' with a rest, or shorten the procedure",
                        minutes(most), minutes(guards.onTimeS()));
            }
        }
        double total = 0;
        for (int i = 0; i < course.actions().size(); i++) {
            total += course.powered(i) ? course.endS(i) - course.startS(i) : 0;
        }
        double allowed = guards.totalOnTimeS().orElse(Double.POSITIVE_INFINITY);
        if (total > allowed) {
            add(
                    "the unit is under supply for %s altogether; the rig description allows %s (total-on-time)",
                    minutes(total), minutes(allowed));
        }
    }

    private void duty() {
        if (guards.dutyShare().isEmpty()) {
            return;
        }
        Stretches moving = new Stretches();
        for (int i = 0; i < course.actions().size(); i++) {
            // where in its action the shaft moves does not matter within ten minutes
            moving.add(course.startS(i), course.startS(i) + course.motionS(i), course.motionS(i) > 0);
        }
        double share = moving.mostWithin(DUTY_WINDOW_S) / DUTY_WINDOW_S;
        double allowed = guards.dutyShare().getAsDouble();
        if (share > allowed) {
            add(
                    "the shaft moves for %.0f %% of ten minutes; the rig description allows %s %% (duty). Lengthen the"
                            + " rest after each shift",
                    share * 100, Watches.number(allowed * 100));
        }
    }

    private void length() {
        int most = guards.shifts().orElse(Integer.MAX_VALUE);
        if (course.shifts() > most) {
            add("the procedure asks for %d shifts; the rig description allows %d (shifts)", course.shifts(), most);
        }
        if (course.totalS() > LONGEST_S) {
            add(
                    "the procedure takes about %s; expected at most %s: split it into several runs",
                    minutes(course.totalS()), minutes(LONGEST_S));
        }
    }

    private void currents() {
        StopWhen stop = procedure.stopWhen();
        never(
                "current-above",
                "for",
                stop.currentAboveA(),
                stop.currentForS(),
                guards.currentA(),
                guards.currentForS());
        never(
                "average-current-above",
                "over",
                stop.averageAboveA(),
                stop.averageOverS(),
                guards.averageA(),
                guards.averageOverS());
        if (guards.averageA() > 0 && guards.currentA() > 0 && guards.averageA() > guards.currentA()) {
            add(
                    "the rig's guards contradict each other: average-current, %s A, is above current, %s A, and never acts",
                    Watches.number(guards.averageA()), Watches.number(guards.currentA()));
        }
    }

    /** A rule that only holds once the guard has cut gives the wrong reason for the end; one that equals it is no harm. */
    private void never(
            String rule, String word, OptionalDouble amps, OptionalDouble seconds, double guardA, double guardS) {
        if (amps.isEmpty() || seconds.isEmpty() || !(guardA > 0)) {
            return;
        }
        double a = amps.getAsDouble();
        double s = seconds.getAsDouble();
        if (a >= guardA && s >= guardS && (a > guardA || s > guardS)) {
            add(
                    "stop-when: %s %s A %s %s never acts, since the rig's guard cuts at %s A %s %s; expected less",
                    rule, Watches.number(a), word, time(s), Watches.number(guardA), word, time(guardS));
        }
    }

    /** Where nominal data brings the shaft too near to a stop: each shift between the same sprockets once. */
    private void reach(String limitsFrom, double marginDeg) {
        Set<Pair> pairs = new LinkedHashSet<>();
        for (Action action : course.actions()) {
            if (action instanceof Action.RequestShift shift) {
                pairs.add(new Pair(shift.from(), shift.to()));
            } else if (action instanceof Action.Home) { // from wherever the unit stands
                for (int sprocket = profile.sprockets(); sprocket > 1; sprocket--) {
                    pairs.add(new Pair(sprocket, sprocket - 1));
                }
            }
        }
        pairs.stream()
                .sorted(Comparator.comparing(Pair::direction).thenComparing(Pair::to))
                .forEach(pair -> reach(pair, limitsFrom, marginDeg));
    }

    private record Pair(int from, int to) {
        Direction direction() {
            return Direction.of(to - from);
        }
    }

    private void reach(Pair pair, String limitsFrom, double marginDeg) {
        Direction direction = pair.direction();
        OptionalDouble limit = direction == Direction.INBOARD ? profile.inboardLimitDeg() : profile.outboardLimitDeg();
        if (limit.isEmpty()) {
            return;
        }
        OptionalDouble known = profile.overtravel(pair.from(), pair.to());
        if (known.isEmpty()) {
            add(
                    "sprocket %d %s: profile %s does not know the overtravel of %d→%d, so how near the shaft comes to the"
                            + " %s limit at %s deg (%s) cannot be told; expected an angle in the place of 'unknown', or a"
                            + " procedure without this shift",
                    pair.to(),
                    direction.word(),
                    profile.name(),
                    pair.from(),
                    pair.to(),
                    direction.word(),
                    Watches.number(limit.getAsDouble()),
                    limitsFrom);
            return;
        }
        double over = known.getAsDouble();
        double farthest = profile.positionDeg(pair.to()) + direction.sign() * (over + RINGING_DEG);
        double left = direction.sign() * (limit.getAsDouble() - farthest);
        if (left < marginDeg) {
            add(
                    "sprocket %d %s: the shaft would reach %s deg (position %s deg, overtravel %s deg, ringing up to %s deg),"
                            + " %s deg from the %s limit at %s deg (%s); expected at least %s deg",
                    pair.to(),
                    direction.word(),
                    Watches.number(farthest),
                    Watches.number(profile.positionDeg(pair.to())),
                    Watches.number(over),
                    Watches.number(RINGING_DEG),
                    Watches.number(left),
                    direction.word(),
                    Watches.number(limit.getAsDouble()),
                    limitsFrom,
                    Watches.number(marginDeg));
        }
    }

    private void add(String format, Object... values) {
        problems.add(String.format(Locale.ROOT, format, values));
    }

    private static String time(double seconds) {
        return seconds < 1 ? Watches.number(seconds * 1e3) + " ms" : Watches.number(seconds) + " s";
    }

    private static String minutes(double seconds) {
        return seconds < 5400
                ? String.format(Locale.ROOT, "%.1f min", seconds / 60)
                : String.format(Locale.ROOT, "%.1f h", seconds / HOUR_S);
    }
}
