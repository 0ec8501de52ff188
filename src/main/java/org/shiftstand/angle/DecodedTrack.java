package org.shiftstand.angle;

import java.util.List;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;

/** A track over a source: each pass decodes anew. */
final class DecodedTrack implements AngleTrack {
    private final SampleSource source;
    private final Correction correction;
    private final boolean anyUnpowered;
    private final boolean readsUnpowered;
    private final boolean tellsFrozen;
    private final Checkpoints checkpoints = new Checkpoints();

    /**
     * @param anyUnpowered whether samples say that the sensors were off
     * @param readsUnpowered whether those samples give angles all the same
     * @param tellsFrozen whether samples of a logger that hangs can be told
     */
    DecodedTrack(
            SampleSource source,
            Correction correction,
            boolean anyUnpowered,
            boolean readsUnpowered,
            boolean tellsFrozen) {
        this.source = source;
        this.correction = correction;
        this.anyUnpowered = anyUnpowered;
        this.readsUnpowered = readsUnpowered;
        this.tellsFrozen = tellsFrozen;
    }

    @Override
    public AngleReader open() {
        return new DecodingReader(
                source.open(),
                frozen(),
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
        int before = (int) Math.min(Frozen.SAMPLES, from.sample());
        SampleReader reader = source.open(from.sample() - before);
        Frozen frozen = frozen();
        frozen.lookAhead(reader, before);
        return new DecodingReader(
                reader,
                frozen,
                correction.drift().leveller(),
                new PhaseTable(correction, readsUnpowered),
                from.state().copy(),
                correction.turnsPerCycle(),
                checkpoints,
                from.sample());
    }

    private Frozen frozen() {
        return new Frozen(tellsFrozen, readsUnpowered, DecodingReader.BLOCK);
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
