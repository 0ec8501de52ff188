package org.shiftstand.rig;

import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.link.RigMessage.Samples;
import org.shiftstand.procedure.Procedure.StopWhen;

/**
 * What is looked at in every sample while a run goes on: motion, guards (second after the rig's own), stop-when.
 *
 * <p>A stall is provisional: no motion and the current above the stall current, both for 0.3 s.
 */
final class Watches {
    // common practice, no published source: longer than any inrush, shorter than heating
    private static final double STALL_S = 0.3;
    // where nothing states a stall current: a part of what is never allowed, well above friction; provisional
    private static final double STALL_PART = 0.25;

    final MotionWatch motion;
    private final Guards guards;
    private final StopWhen stopWhen;
    private final double ampsPerCount;
    private final AboveFor guard;
    private final MeanAbove average;
    private final AboveFor stop;
    private final MeanAbove stopAverage;
    private final double stallA;
    private final AboveFor stall;
    private boolean stalled;
    private @Nullable RunEnd tripped;

    Watches(RunPlan plan, int hallCounts, double ampsPerCount) {
        this.guards = plan.guards();
        this.stopWhen = plan.procedure().stopWhen();
        this.ampsPerCount = ampsPerCount;
        motion = new MotionWatch(hallCounts);
        guard = new AboveFor(guards.currentA(), guards.currentForS());
        double rateHz = plan.procedure().sampleRateHz();
        average = mean(guards.averageA(), guards.averageOverS(), rateHz);
        stopAverage = mean(
                stopWhen.averageAboveA().orElse(Double.NaN),
                stopWhen.averageOverS().orElse(0),
                rateHz);
        stop = new AboveFor(
                stopWhen.currentAboveA().orElse(Double.NaN),
                stopWhen.currentForS().orElse(0));
        stallA = plan.stallCurrentA().orElse(STALL_PART * guards.currentA());
        stall = new AboveFor(stallA, STALL_S);
    }

    private MeanAbove mean(double limitA, double overS, double rateHz) {
        return new MeanAbove(limitA / ampsPerCount, overS > 0 ? (int) Math.min(1e7, Math.ceil(overS * rateHz)) : 1);
    }

    /** Looks at a block; what it finds stays found. */
    void look(Samples block) {
        short[] s = block.samples();
        for (int i = 0, k = 0; i < block.count(); i++, k += 4) {
            long at = block.firstMicros() + i * block.intervalNanos() / 1000;
            double amps = s[k + 2] * ampsPerCount;
            if (motion.sample(at, s[k], s[k + 1])) {
                stall.reset();
                stalled = false;
            }
            stalled |= stall.sample(at, amps);
            if (tripped == null) {
                trip(at, amps, s[k + 2]);
            }
        }
    }

    private void trip(long at, double amps, short counts) {
        boolean mean = average.sample(counts);
        boolean stopMean = stopAverage.sample(counts);
        if (guard.sample(at, amps)) {
            tripped = new RunEnd.RigFault(String.format(
                    Locale.ROOT,
                    "guard: current above %s A for %s ms (the rig's own guard did not act first)",
                    number(guards.currentA()),
                    number(guards.currentForS() * 1e3)));
        } else if (mean && guards.averageOverS() > 0) {
            tripped = new RunEnd.RigFault(String.format(
                    Locale.ROOT,
                    "guard: average current above %s A over %s s",
                    number(guards.averageA()),
                    number(guards.averageOverS())));
        } else if (stop.sample(at, amps)) {
            tripped = new RunEnd.StoppedByRule(
                    RunEnd.StoppedByRule.Rule.CURRENT,
                    String.format(
                            Locale.ROOT,
                            "current above %s A for %s ms",
                            number(stopWhen.currentAboveA().orElseThrow()),
                            number(stopWhen.currentForS().orElse(0) * 1e3)));
        } else if (stopMean && stopWhen.averageAboveA().isPresent()) {
            tripped = new RunEnd.StoppedByRule(
                    RunEnd.StoppedByRule.Rule.CURRENT,
                    String.format(
                            Locale.ROOT,
                            "average current above %s A over %s s",
                            number(stopWhen.averageAboveA().getAsDouble()),
                            number(stopWhen.averageOverS().orElse(0))));
        }
    }

    /** Forgets what an earlier shift showed. */
    void request(long atMicros) {
        motion.request(atMicros);
        stall.reset();
        stalled = false;
    }

    boolean stalled() {
        return stalled;
    }

    /** Current that tells a stall, ampere. */
    double stallA() {
        return stallA;
    }

    /** What ends the run, once a limit was passed for its time. */
    Optional<RunEnd> tripped() {
        return Optional.ofNullable(tripped);
    }

    /** Without needless digits: 9, 1.2. */
    static String number(double value) {
        java.math.BigDecimal decimal = java.math.BigDecimal.valueOf(value)
                .setScale(3, java.math.RoundingMode.HALF_UP)
                .stripTrailingZeros();
        return decimal.scale() < 0 ? decimal.setScale(0).toPlainString() : decimal.toPlainString();
    }
}
