package org.shiftstand.angle;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.shiftstand.capture.Ahead;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;

/**
 * Turns Hall pairs into an angle track.
 *
 * <p>Pass 1 estimates the correction with fixed-size stores; each {@code open()} of the track is a pass 2 that decodes.
 * Memory is independent of the number of samples; the result does not depend on block sizes.
 */
public final class HallDecoder {
    /** Standard uncertainty of an angle where nothing supports the second-order term, degrees. */
    static final double UNSUPPORTED_DEG = 0.5;

    private static final int BLOCK = 4096;
    /** Blocks that are read ahead, 180 kB each. */
    private static final int AHEAD = 4;

    private HallDecoder() {}

    /**
     * Estimates the correction (one pass over the source) and gives the track; the source must stay open while the
     * track is used.
     */
    public static AngleTrack decode(SampleSource source, DecodeOptions options) {
        var stretches = new Stretches(source.intervalS(), source.breaks());
        List<SampleBlock> ring =
                Stream.generate(() -> new SampleBlock(BLOCK)).limit(AHEAD).toList();
        try (SampleReader reader = source.open()) {
            Ahead.run(ring, reader::next, stretches::add);
        }
        Correction correction = options.stored()
                .orElseGet(() -> fit(stretches, options.turnsPerCycle()))
                .withTurnsPerCycle(options.turnsPerCycle());
        return new DecodedTrack(
                source,
                correction,
                stretches.unpowered().size() > 0,
                readsUnpowered(stretches.unpowered(), correction));
    }

    /** Whether the Hall outputs give angles also where the sensors are said to be off: a bench may power them itself. */
    private static boolean readsUnpowered(ThinnedPairs unpowered, Correction correction) {
        var phase = new PhaseTable(correction, true);
        int healthy = 0;
        for (int i = 0; i < unpowered.size(); i++) {
            healthy += phase.isHealthy(unpowered.cos[i], unpowered.sin[i]) ? 1 : 0;
        }
        return 2 * healthy > unpowered.size();
    }

    private static Correction fit(Stretches stretches, double turnsPerCycle) {
        Optional<Ellipse> ofMotion = stretches.stretches() >= 8
                ? Ellipse.fit(stretches.cos, stretches.sin, stretches.knots())
                : Optional.empty();
        Optional<Ellipse> fitted = ofMotion.isPresent()
                ? ofMotion
                : Ellipse.fit(
                        stretches.powered().cos,
                        stretches.powered().sin,
                        stretches.powered().size());
        if (fitted.isEmpty()) {
            double[] nominal = stretches.nominal();
            return new Correction(
                    nominal[0], nominal[1], 1, 0, nominal[2], 0, 0, "nominal", "none", Double.NaN, UNSUPPORTED_DEG);
        }
        // knots of motion only: thinned samples have no blocks of time
        Optional<OffsetDrift> drift = ofMotion.flatMap(stretches.blocks()::drift);
        drift.ifPresent(stretches::level);
        Ellipse e = drift.flatMap(d -> Ellipse.fit(stretches.cos, stretches.sin, stretches.knots()))
                .orElse(fitted.get());
        Optional<SecondOrder> second = SecondOrder.estimate(stretches, e);
        Optional<LongRecord> learned = second.flatMap(s -> LongRecord.learn(stretches, e, s));
        OffsetDrift drifting = drift.orElse(OffsetDrift.NONE);
        return learned.isPresent()
                ? withHigher(e, learned.get(), stretches, drifting, turnsPerCycle)
                : usual(e, second, stretches, drifting, turnsPerCycle);
    }

    private static Correction withHigher(
            Ellipse e, LongRecord learned, Stretches stretches, OffsetDrift drift, double turnsPerCycle) {
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
                turnsPerCycle * uncertaintyDeg(learned.standardErrorDeg(), e, stretches),
                learned.higher(),
                drift,
                turnsPerCycle);
    }

    private static Correction usual(
            Ellipse e, Optional<SecondOrder> second, Stretches stretches, OffsetDrift drift, double turnsPerCycle) {
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
                second.map(s -> turnsPerCycle * uncertaintyDeg(s.standardErrorDeg(), e, stretches))
                        .orElse(UNSUPPORTED_DEG),
                HigherOrder.NONE,
                drift,
                turnsPerCycle);
    }

    /**
     * Noise and harmonics seen across the circle, taken to be as large along it, and the error of the angle terms.
     */
    private static double uncertaintyDeg(double standardErrorDeg, Ellipse ellipse, Stretches stretches) {
        double radial = ellipse.radialResidual(stretches.cos, stretches.sin, stretches.knots());
        return Math.hypot(Math.toDegrees(radial), Math.sqrt(2) * standardErrorDeg);
    }
}
