package org.shiftstand.angle;

import java.util.Arrays;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;

/** Fits the correction of a Hall pair to what one pass over a capture has kept. */
final class CaptureFit {
    /** Standard uncertainty of an angle where nothing supports the second-order term, degrees, at the least. */
    private static final double UNSUPPORTED_DEG = 0.5;

    /** Readings spread evenly over the ±10 % of the radius that a fit keeps scatter by 3.3 degrees: they are no circle. */
    private static final double CLOUD_DEG = 2;

    private static final int FEWEST_STRETCHES = 8;
    /** Of all readings, on an ellipse that is theirs. */
    private static final double LEAST_SHARE = 0.5;
    /** Across what the outputs span. */
    private static final int CELLS = 48;

    /** An output that shows less of the circle than this adds no more uncertainty than one that shows as much. */
    private static final double LEAST_PART = 0.2;

    private final Stretches stretches;
    private final double turnsPerCycle;
    private Rails rails;

    CaptureFit(Stretches stretches, double turnsPerCycle) {
        this.stretches = stretches;
        this.turnsPerCycle = turnsPerCycle;
        this.rails = rails(stretches);
    }

    private static Rails rails(Stretches stretches) {
        if (stretches.stretches() < FEWEST_STRETCHES) {
            ThinnedPairs all = stretches.powered();
            return Rails.of(all.cos, all.sin, all.size());
        }
        // the noise of a first rest near an extreme would pile up there as at a rail
        double[] cos = stretches.moving(stretches.cos, stretches.range() / 4);
        double[] sin = stretches.moving(stretches.sin, stretches.range() / 4);
        return Rails.of(cos, sin, cos.length);
    }

    /** Where the outputs are clipped. */
    Rails rails() {
        return rails;
    }

    Correction correction() {
        Optional<Ellipse> ofMotion = ofMotion();
        Optional<Ellipse> fitted = ofMotion.isPresent() ? ofMotion : fitPowered();
        Optional<Ellipse> evenly = evenly(fitted);
        if (evenly.isPresent()) {
            ofMotion = ofMotion();
            fitted = ofMotion.isPresent() ? ofMotion : evenly;
        }
        if (fitted.isEmpty()) {
            double[] nominal = stretches.nominal();
            return new Correction(
                            nominal[0],
                            nominal[1],
                            1,
                            0,
                            nominal[2],
                            0,
                            0,
                            "nominal",
                            "none",
                            Double.NaN,
                            UNSUPPORTED_DEG)
                    .withTurnsPerCycle(turnsPerCycle);
        }
        // knots of motion only: thinned samples have no blocks of time; a rail does not drift with the offset
        Optional<OffsetDrift> found = rails.isAny() ? Optional.empty() : ofMotion.flatMap(stretches.blocks()::drift);
        double before = found.isPresent() ? scatterDeg(fitted.get()) : Double.NaN;
        found.ifPresent(stretches::level);
        Ellipse e = found.flatMap(d -> fitMotion()).orElse(fitted.get());
        OffsetDrift drift = found.map(d -> d.withScatter(before, scatterDeg(e))).orElse(OffsetDrift.NONE);
        Optional<SecondOrder> second = SecondOrder.estimate(stretches, e, rails);
        Optional<LongRecord> learned = second.flatMap(s -> LongRecord.learn(stretches, e, rails, s));
        return learned.isPresent() ? withHigher(e, learned.get(), drift) : usual(e, second, drift);
    }

    private Optional<Ellipse> ofMotion() {
        return stretches.stretches() >= FEWEST_STRETCHES ? fitMotion() : Optional.empty();
    }

    private Optional<Ellipse> fitMotion() {
        Shown shown = shown();
        return Ellipse.fit(shown.cos, shown.sin, shown.n);
    }

    private Optional<Ellipse> fitPowered() {
        ThinnedPairs all = stretches.powered();
        Shown shown = shown(all.cos, all.sin, all.size());
        return Ellipse.fit(shown.cos, shown.sin, shown.n);
    }

    /**
     * A fit that most readings do not lie on is of the noise of one rest: a short capture at a high rate of a shaft that mostly
     * rests. One of readings spread evenly over what the outputs span takes its place where more of them lie on it; stretches that
     * are none of motion by its radius are dropped for good. Empty where the fit stays.
     */
    private Optional<Ellipse> evenly(Optional<Ellipse> fitted) {
        ThinnedPairs all = stretches.powered();
        double share = fitted.map(e -> share(e, all)).orElse(0.0);
        if (share >= LEAST_SHARE) {
            return Optional.empty();
        }
        Shown evened = evened(shown(all.cos, all.sin, all.size()));
        Optional<Ellipse> other = Ellipse.fit(evened.cos, evened.sin, evened.n);
        if (other.isEmpty() || share(other.get(), all) < Math.max(share, LEAST_SHARE)) {
            return Optional.empty();
        }
        stretches.dropStill(other.get().radius() / 2);
        rails = rails(stretches);
        return other;
    }

    private static double share(Ellipse e, ThinnedPairs all) {
        return e.share(all.cos, all.sin, all.size());
    }

    /** Half of what the wider output spans, a hundredth of its values at each end left out. */
    private static double halfReach(Shown shown) {
        return Math.max(half(shown.cos, shown.n), half(shown.sin, shown.n));
    }

    private static double half(double[] values, int n) {
        double[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        return n == 0 ? 0 : (sorted[n - 1 - n / 100] - sorted[n / 100]) / 2;
    }

    /** One pair of each cell of a grid: how long the shaft stayed somewhere no longer counts. */
    private static Shown evened(Shown shown) {
        double cell = halfReach(shown) / (CELLS / 2.0);
        double[] x = new double[shown.n];
        double[] y = new double[shown.n];
        Set<Long> taken = new HashSet<>();
        int left = 0;
        for (int i = 0; i < shown.n && cell > 0; i++) {
            long key = (long) Math.floor(shown.cos[i] / cell) * 1_000_003L + (long) Math.floor(shown.sin[i] / cell);
            if (taken.add(key)) {
                x[left] = shown.cos[i];
                y[left++] = shown.sin[i];
            }
        }
        return new Shown(x, y, left);
    }

    /** Pairs of which no output is clipped. */
    private record Shown(double[] cos, double[] sin, int n) {}

    private Shown shown() {
        return shown(stretches.cos, stretches.sin, stretches.knots());
    }

    private Shown shown(double[] cos, double[] sin, int n) {
        if (!rails.isAny()) {
            return new Shown(cos, sin, n);
        }
        double[] x = new double[n];
        double[] y = new double[n];
        int left = 0;
        for (int i = 0; i < n; i++) {
            if (rails.ofCos(cos[i]) == 0 && rails.ofSin(sin[i]) == 0) {
                x[left] = cos[i];
                y[left++] = sin[i];
            }
        }
        return new Shown(x, y, left);
    }

    private Correction withHigher(Ellipse e, LongRecord learned, OffsetDrift drift) {
        return new Correction(
                e.cosOffset(),
                e.sinOffset(),
                e.gainRatio(),
                Math.toDegrees(e.phaseRad()),
                e.radius(),
                learned.sin2Deg(),
                learned.cos2Deg(),
                "fit",
                "fit",
                turnsPerCycle * learned.residualDeg(),
                uncertaintyDeg(learned.standardErrorDeg(), e),
                learned.higher(),
                drift,
                turnsPerCycle,
                rails);
    }

    private Correction usual(Ellipse e, Optional<SecondOrder> second, OffsetDrift drift) {
        return new Correction(
                e.cosOffset(),
                e.sinOffset(),
                e.gainRatio(),
                Math.toDegrees(e.phaseRad()),
                e.radius(),
                second.map(SecondOrder::sin2Deg).orElse(0.0),
                second.map(SecondOrder::cos2Deg).orElse(0.0),
                "fit",
                second.isPresent() ? "fit" : "none",
                second.map(s -> turnsPerCycle * s.residualDeg()).orElse(Double.NaN),
                second.map(s -> uncertaintyDeg(s.standardErrorDeg(), e)).orElseGet(() -> unsupportedDeg(e)),
                HigherOrder.NONE,
                drift,
                turnsPerCycle,
                rails);
    }

    /**
     * Noise and harmonics seen across the circle, taken to be as large along it, and the error of the angle terms. Where
     * an output is clipped the angle is as steep in the other one as that still shows of the circle, at the least.
     */
    private double uncertaintyDeg(double standardErrorDeg, Ellipse e) {
        return turnsPerCycle
                * Math.hypot(scatterDeg(e), Math.sqrt(2) * standardErrorDeg)
                / Math.max(LEAST_PART, rails.leastPart(e));
    }

    /** Without a second order; more where more is seen: mains hum on a slow capture, or noise. */
    private double unsupportedDeg(Ellipse e) {
        double scatter = turnsPerCycle * scatterDeg(e);
        return scatter > UNSUPPORTED_DEG && scatter < turnsPerCycle * CLOUD_DEG ? scatter : UNSUPPORTED_DEG;
    }

    private double scatterDeg(Ellipse ellipse) {
        Shown shown = shown();
        return Math.toDegrees(ellipse.radialResidual(shown.cos, shown.sin, shown.n));
    }
}
