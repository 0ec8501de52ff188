package org.shiftstand.angle;

import java.util.List;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;

/** A track over a source: each pass decodes anew. */
final class DecodedTrack implements AngleTrack {
    private final SampleSource source;
    private final Correction correction;
    private final boolean anyUnpowered;
    private final boolean readsUnpowered;
    private final Checkpoints checkpoints = new Checkpoints();

    /**
     * @param anyUnpowered whether samples say that the sensors were off
     * @param readsUnpowered whether those samples give angles all the same
     */
    DecodedTrack(SampleSource source, Correction correction, boolean anyUnpowered, boolean readsUnpowered) {
        this.source = source;
        this.correction = correction;
        this.anyUnpowered = anyUnpowered;
        this.readsUnpowered = readsUnpowered;
    }

    @Override
    public AngleReader open() {
        return new DecodingReader(
                source.open(),
                correction.drift().leveller(),
                new PhaseTable(correction, readsUnpowered),
                new Unwrapper(source, anyUnpowered, correction.turnsPerCycle()),
                correction.turnsPerCycle(),
                checkpoints,
                0);
    }

    @Override
    public AngleReader open(double fromS) {
        Checkpoints.Point from = checkpoints.before(fromS);
        if (from == null) {
            return open();
        }
        return new DecodingReader(
                source.open(from.sample()),
                correction.drift().leveller(),
                new PhaseTable(correction, readsUnpowered),
                from.state().copy(),
                correction.turnsPerCycle(),
                checkpoints,
                from.sample());
    }

    @Override
    public Correction correction() {
        return correction;
    }

    @Override
    public SampleSource.Channels channels() {
        return source.channels();
    }

    @Override
    public double intervalS() {
        return source.intervalS();
    }

    @Override
    public List<Request> requests() {
        return source.requests();
    }

    @Override
    public List<Double> supplyCuts() {
        return source.supplyCuts();
    }

    @Override
    public List<SampleSource.Break> breaks() {
        return source.breaks();
    }
}
