package org.shiftstand.angle;

import java.util.List;
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
    private static final int BLOCK = 4096;
    /** Blocks that are read ahead, 180 kB each. */
    private static final int AHEAD = 16;

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
        var fit = new CaptureFit(stretches, options.turnsPerCycle());
        Correction correction = options.stored()
                .map(stored -> stored.withTurnsPerCycle(options.turnsPerCycle()).withRails(fit.rails()))
                .orElseGet(fit::correction);
        boolean readsUnpowered = readsUnpowered(stretches.unpowered(), correction);
        return new DecodedTrack(
                source,
                correction,
                stretches.unpowered().size() > 0,
                readsUnpowered,
                stretches.repeats(readsUnpowered).tell());
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
}
