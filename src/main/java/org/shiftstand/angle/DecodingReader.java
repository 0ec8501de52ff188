package org.shiftstand.angle;

import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;

/** One pass: reads, corrects, unwraps a few thousand samples at a time and hands them out in any portion. */
final class DecodingReader implements AngleReader {
    private static final int BLOCK = 4096;

    private final SampleReader in;
    private final PhaseTable phase;
    private final Unwrapper unwrapper;
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

    DecodingReader(SampleReader in, PhaseTable phase, Unwrapper unwrapper, Checkpoints checkpoints, long firstSample) {
        this.in = in;
        this.phase = phase;
        this.unwrapper = unwrapper;
        this.checkpoints = checkpoints;
        samples = firstSample;
    }

    @Override
    public boolean next(AngleBlock block) {
        while (given == done && !(ended && done == filled)) {
            advance();
        }
        int n = Math.min(block.capacity(), done - given);
        copy(given, block, n);
        given += n;
        block.size(n);
        return n > 0;
    }

    private void advance() {
        moveTail();
        while (!ended && filled < BLOCK) { // a reader may give less than a block
            ended = !in.next(raw);
            append();
        }
        if (filled > 0 && checkpoints.wants(samples)) {
            checkpoints.add(samples, work.timeS[0], unwrapper);
        }
        done = unwrapper.unwrap(work, window, filled, ended);
        samples += done;
    }

    private void moveTail() {
        int left = filled - done;
        if (done > 0 && left > 0) {
            System.arraycopy(work.timeS, done, work.timeS, 0, left);
            System.arraycopy(work.angleDeg, done, work.angleDeg, 0, left);
            System.arraycopy(work.state, done, work.state, 0, left);
            System.arraycopy(work.powered, done, work.powered, 0, left);
            System.arraycopy(work.currentA, done, work.currentA, 0, left);
            System.arraycopy(work.supplyV, done, work.supplyV, 0, left);
            System.arraycopy(work.radius, done, work.radius, 0, left);
            System.arraycopy(window, done, window, 0, left);
        }
        filled = left;
        done = 0;
        given = 0;
    }

    private void append() {
        int n = raw.size();
        phase.decode(raw, n, work, filled);
        System.arraycopy(raw.timeS, 0, work.timeS, filled, n);
        System.arraycopy(raw.powered, 0, work.powered, filled, n);
        System.arraycopy(raw.currentA, 0, work.currentA, filled, n);
        System.arraycopy(raw.supplyV, 0, work.supplyV, filled, n);
        System.arraycopy(raw.window, 0, window, filled, n);
        filled += n;
    }

    private void copy(int from, AngleBlock to, int n) {
        System.arraycopy(work.timeS, from, to.timeS, 0, n);
        System.arraycopy(work.angleDeg, from, to.angleDeg, 0, n);
        System.arraycopy(work.state, from, to.state, 0, n);
        System.arraycopy(work.edge, from, to.edge, 0, n);
        System.arraycopy(work.powered, from, to.powered, 0, n);
        System.arraycopy(work.currentA, from, to.currentA, 0, n);
        System.arraycopy(work.supplyV, from, to.supplyV, 0, n);
        System.arraycopy(work.radius, from, to.radius, 0, n);
    }

    @Override
    public void close() {
        in.close();
    }
}
