package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.profile.Profile;

/** Turns the samples of a search into limits, and refuses where they are not sure. */
final class LimitsFigures {
    private static final double PUSHING_S =
            0.08; // before its end a stalled drive stood and pushed; rig/WIRE.md: 100 ms
    private static final int WAKE_UP = 2; // samples that sensors need after power-up
    private static final double STILL_DEG = 2;
    private static final int FEWEST_AT_START = 3;
    private static final double PART_OF_PITCH = 1 / 3.0;

    private final LimitsPlan plan;
    private final RigSession talk;
    private final HallTrace trace;
    private final HallTrace.Angles angles;
    private final long startedMicros;

    /** @param startedMicros nothing was driven before, rig's clock */
    LimitsFigures(LimitsPlan plan, RigSession talk, long startedMicros) {
        this.plan = plan;
        this.talk = talk;
        this.trace = talk.trace();
        this.angles = trace.decode();
        this.startedMicros = startedMicros;
    }

    /**
     * The limits.
     *
     * @param outboard when the shaft stood against the limit, up to then
     * @param inboard likewise
     * @param again the outboard limit once more, at the end
     * @throws RunEnded where they are not sure
     */
    LimitsEnd.Found found(List<Long> outboard, List<Long> inboard, long again) {
        if (!angles.ellipse().fitted()) {
            throw refused("the Hall pair does not go round: no ellipse fits it. Run 'rig probe'");
        }
        if (angles.jumps() > 0 || talk.lostBlocks() > 0) {
            throw refused("samples were lost on the way (" + talk.lostBlocks() + " blocks), so that whole turns are not"
                    + " known. Try again on a quieter line or host");
        }
        double start = start();
        double sense = Math.signum(pressed(inboard.get(0)) - pressed(outboard.get(0)));
        List<Double> out = inFrame(outboard, start, sense);
        List<Double> in = inFrame(inboard, start, sense);
        double closing = inFrame(List.of(again), start, sense).get(0);
        List<String> problems = new ArrayList<>();
        tooWide("outboard", out).ifPresent(problems::add);
        tooWide("inboard", in).ifPresent(problems::add);
        if (!(Math.abs(closing - mean(out)) <= LimitsSearch.MOST_SPREAD_DEG)) {
            problems.add(String.format(
                    Locale.ROOT,
                    "at the end the outboard limit was met at %.1f deg, %.1f deg from where it was before; at most %.0f deg"
                            + " are allowed",
                    closing,
                    closing - mean(out),
                    LimitsSearch.MOST_SPREAD_DEG));
        }
        problems.addAll(inside(out, in));
        if (!problems.isEmpty()) {
            throw refused(String.join("; ", problems));
        }
        return new LimitsEnd.Found(
                limits(out, in), out, in, angles.uncertaintyDeg(), notices(out, in, closing - mean(out)));
    }

    private static RunEnded refused(String why) {
        return new RunEnded(new RunEnd.RigFault("no limits were written: " + why));
    }

    /** The angle of the shaft where it stood before anything was driven. */
    private double start() {
        int from = trace.at(startedMicros);
        while (from < trace.size() && !angles.good(from)) {
            from++;
        }
        from = Math.min(from + WAKE_UP, trace.size() - 1);
        int to = from;
        while (to < trace.size() && angles.good(to) && Math.abs(angles.deg(to) - angles.deg(from)) < STILL_DEG) {
            to++;
        }
        if (to - from < FEWEST_AT_START) {
            throw refused("no sample shows where the shaft stood before it was driven");
        }
        return angles.median(from, to);
    }

    /** The angle while the shaft was pressed against a limit, in the Hall pair's own frame. */
    private double pressed(long untilMicros) {
        int to = trace.at(untilMicros);
        return angles.median(trace.at(untilMicros - Math.round(PUSHING_S * 1e6)), to);
    }

    private List<Double> inFrame(List<Long> touches, double start, double sense) {
        return touches.stream()
                .map(until -> plan.originDeg() + sense * (pressed(until) - start))
                .toList();
    }

    private static Optional<String> tooWide(String side, List<Double> touches) {
        double spread = spread(touches);
        return spread <= LimitsSearch.MOST_SPREAD_DEG // false for NaN
                ? Optional.empty()
                : Optional.of(String.format(
                        Locale.ROOT,
                        "the %s touches are %.1f deg apart (%s); at most %.0f deg are allowed",
                        side,
                        spread,
                        touches.stream()
                                .map(deg -> String.format(Locale.ROOT, "%.1f", deg))
                                .collect(Collectors.joining(", ")),
                        LimitsSearch.MOST_SPREAD_DEG));
    }

    private List<String> inside(List<Double> out, List<Double> in) {
        Profile profile = plan.profile();
        List<String> problems = new ArrayList<>();
        if (!(mean(out) < profile.positionDeg(1))) {
            problems.add(inside("outboard", mean(out), 1));
        }
        if (!(mean(in) > profile.positionDeg(profile.sprockets()))) {
            problems.add(inside("inboard", mean(in), profile.sprockets()));
        }
        return problems;
    }

    private String inside(String side, double at, int sprocket) {
        return String.format(
                Locale.ROOT,
                "going %s the shaft stopped at %.0f deg, short of sprocket %d at %.0f deg: something is in its way, %s A do"
                        + " not turn it there, or the unit did not stand on sprocket %d",
                side,
                at,
                sprocket,
                plan.profile().positionDeg(sprocket),
                Watches.number(plan.currentA()),
                plan.standingOn());
    }

    private UnitLimits limits(List<Double> out, List<Double> in) {
        return new UnitLimits(
                plan.unit(),
                plan.today(),
                UnitLimits.Method.PROBED,
                plan.by(),
                side(out),
                side(in),
                Optional.of("the unit stood on sprocket " + plan.standingOn() + ", taken to be at "
                        + Watches.number(plan.originDeg()) + " deg of profile "
                        + plan.profile().name() + " version " + plan.profile().version()),
                Optional.of(
                        talk.identity().rigName().isBlank()
                                ? "without a name"
                                : talk.identity().rigName()),
                "");
    }

    private static UnitLimits.Side side(List<Double> touches) {
        return new UnitLimits.Side(hundredth(mean(touches)), OptionalDouble.of(hundredth(spread(touches))));
    }

    private static double hundredth(double value) {
        return Math.rint(value * 100) / 100;
    }

    private List<String> notices(List<Double> out, List<Double> in, double closing) {
        Profile profile = plan.profile();
        List<String> notices = new ArrayList<>();
        notices.add(String.format(
                Locale.ROOT,
                "the outboard limit, met again at the end, was %.1f deg from where it was before",
                closing));
        notices.add("where the unit landed on sprocket " + plan.standingOn()
                + " is not known better than it lands: both limits may be off together by that");
        double pitch = profile.positionDeg(2) - profile.positionDeg(1);
        for (int k = 2; k < profile.sprockets(); k++) {
            pitch = Math.min(pitch, profile.positionDeg(k + 1) - profile.positionDeg(k));
        }
        far("outboard", mean(out), profile.outboardLimitDeg(), pitch).ifPresent(notices::add);
        far("inboard", mean(in), profile.inboardLimitDeg(), pitch).ifPresent(notices::add);
        return notices;
    }

    private static Optional<String> far(String side, double at, OptionalDouble nominal, double pitchDeg) {
        return nominal.isEmpty() || Math.abs(at - nominal.getAsDouble()) <= PART_OF_PITCH * pitchDeg
                ? Optional.empty()
                : Optional.of(String.format(
                        Locale.ROOT,
                        "the %s limit is %.0f deg from the profile's: did the unit really stand on that sprocket?",
                        side,
                        at - nominal.getAsDouble()));
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(v -> v).average().orElse(Double.NaN);
    }

    private static double spread(List<Double> values) {
        double least = values.stream().mapToDouble(v -> v).min().orElse(Double.NaN);
        double most = values.stream().mapToDouble(v -> v).max().orElse(Double.NaN);
        return values.stream().anyMatch(v -> Double.isNaN(v)) ? Double.NaN : most - least;
    }
}
