package org.shiftstand.angle;

import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;

/** One pass: reads, corrects, unwraps a few thousand samples at a time and hands them out in any portion. */
final class DecodingReader implements AngleReader {
    static final int BLOCK = 2048;

    private final SampleReader in;
    private final Frozen frozen;
    private final OffsetDrift.Leveller leveller;
    private final PhaseTable phase;
    private final Unwrapper unwrapper;
    private final double turnsPerCycle;
    private final Checkpoints checkpoints;
    private final SampleBlock raw = new SampleBlock(BLOCK);
    /** Decoded samples: up to {@code done} unwrapped, up to {@code given} handed out, behind {@code done} still wrapped. */
    private final AngleBlock work = new AngleBlock(2 * BLOCK);

    private final int[] window = new int[2 * BLOCK];
    private int filled;
    private int done;
    private int given;
    private boolean ended;
    private long samples;

    DecodingReader(
            SampleReader in,
            Frozen frozen,
            OffsetDrift.Leveller leveller,
            PhaseTable phase,
            Unwrapper unwrapper,
            double turnsPerCycle,
            Checkpoints checkpoints,
            long firstSample) {
        this.in = in;
        this.frozen = frozen;
        this.leveller = leveller;
        this.phase = phase;
        this.unwrapper = unwrapper;
        this.turnsPerCycle = turnsPerCycle;
        this.checkpoints = checkpoints;
        samples = firstSample;
    }

    @Override
    public boolean next(AngleBlock block) {
        if (given == done && block.capacity() >= filled - done + raw.capacity()) {
            return straight(block);
        }
        while (given == done && !(ended && done == filled)) {
            moveTail();
            while (!ended && filled < BLOCK) { // a reader may give less than a block
                filled += read(work, filled);
            }
            unwrap(work);
        }
        int n = Math.min(block.capacity(), done - given);
        copy(work, given, block, 0, n);
        given += n;
        block.size(n);
        return n > 0;
    }

    /** Decodes into a block that is large enough, without a copy in between: the usual case. */
    private boolean straight(AngleBlock block) {
        block.size(0);
        while (block.size() == 0 && !(ended && done == filled)) {
            moveTail();
            copy(work, 0, block, 0, filled);
            int most = Math.min(block.capacity(), window.length) - raw.capacity();
            while (!ended && filled <= most) {
                filled += read(block, filled);
            }
            unwrap(block);
            block.size(done);
            copy(block, done, work, 0, filled - done);
            System.arraycopy(window, done, window, 0, filled - done);
            filled -= done;
            done = 0;
            given = 0;
        }
        return block.size() > 0;
    }

    private void moveTail() {
        int left = filled - done;
        if (done > 0 && left > 0) {
            copy(work, done, work, 0, left);
            System.arraycopy(window, done, window, 0, left);
        }
        filled = left;
        done = 0;
        given = 0;
    }

    private int read(AngleBlock to, int at) {
        ended = !in.next(raw);
        int n = raw.size();
        boolean anyFrozen = frozen.look(raw); // as they were read: what drifts would be taken out of equal ones differs
        leveller.level(raw.timeS, raw.hallCos, raw.hallSin, n);
        phase.decode(raw, n, to, at);
        if (anyFrozen) {
            frozen.apply(to.state, at, n);
        }
        System.arraycopy(raw.timeS, 0, to.timeS, at, n);
        System.arraycopy(raw.powered, 0, to.powered, at, n);
        System.arraycopy(raw.currentA, 0, to.currentA, at, n);
        System.arraycopy(raw.supplyV, 0, to.supplyV, at, n);
        System.arraycopy(raw.window, 0, window, at, n);
        return n;
    }

    private void unwrap(AngleBlock block) {
        if (filled > 0 && checkpoints.wants(samples)) {
            checkpoints.add(samples, block.timeS[0], unwrapper);
        }
        done = unwrapper.unwrap(block, window, filled, ended);
        samples += done;
        if (turnsPerCycle != 1) {
            for (int i = 0; i < done; i++) {
                block.angleDeg[i] *= turnsPerCycle;
            }
        }
    }

    private static void copy(AngleBlock of, int from, AngleBlock to, int at, int n) {
        System.arraycopy(of.timeS, from, to.timeS, at, n);
        System.arraycopy(of.angleDeg, from, to.angleDeg, at, n);
        System.arraycopy(of.state, from, to.state, at, n);
        System.arraycopy(of.edge, from, to.edge, at, n);
        System.arraycopy(of.powered, from, to.powered, at, n);
        System.arraycopy(of.currentA, from, to.currentA, at, n);
        System.arraycopy(of.supplyV, from, to.supplyV, at, n);
        System.arraycopy(of.radius, from, to.radius, at, n);
    }

    @Override
    public void close() {
        in.close();
    }
}
