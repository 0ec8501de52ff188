package org.shiftstand.angle;

import java.util.Arrays;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;

/**
 * Finds samples at which a logger or a converter hangs: both outputs stay the same to the last digit, while their noise hardly
 * ever leaves them alike elsewhere in the capture ({@link Repeats}). They look like a rest, and whole turns may hide in them.
 * The first {@value #SAMPLES} of a run are not told from chance.
 */
final class Frozen {
    static final int SAMPLES = 32;

    private final boolean told;
    private final boolean alsoUnpowered;
    private final boolean[] frozen;
    private double lastCos = Double.NaN;
    private double lastSin = Double.NaN;
    /** Samples up to the last one that are as the one before. */
    private int run;

    /**
     * @param told whether the capture tells them at all
     * @param alsoUnpowered whether samples that say that the sensors were off give angles too
     * @param capacity of the blocks to look at
     */
    Frozen(boolean told, boolean alsoUnpowered, int capacity) {
        this.told = told;
        this.alsoUnpowered = alsoUnpowered;
        frozen = new boolean[capacity];
    }

    /** Looks at samples that are not decoded, so that a pass which starts behind them finds what one from the start finds. */
    void lookAhead(SampleReader reader, int samples) {
        int left = samples;
        while (left > 0) {
            var before = new SampleBlock(left);
            if (!reader.next(before)) {
                return;
            }
            look(before);
            left -= before.size();
        }
    }

    /** Looks at the next samples, as they were read; whether any is frozen. */
    boolean look(SampleBlock block) {
        int n = block.size();
        if (!told || n == 0) {
            return false;
        }
        double[] cos = block.hallCos;
        double[] sin = block.hallSin;
        int alike = 1; // perhaps the first
        for (int i = 1; i < n; i++) {
            alike += cos[i] == cos[i - 1] & sin[i] == sin[i - 1] ? 1 : 0;
        }
        boolean any = false;
        if (run + alike >= SAMPLES) {
            any = mark(block, n);
        } else {
            int i = n - 1;
            while (i > 0 && counts(block, i) && cos[i] == cos[i - 1] && sin[i] == sin[i - 1]) {
                i--;
            }
            boolean before = i == 0 && counts(block, 0) && cos[0] == lastCos && sin[0] == lastSin;
            run = n - 1 - i + (before ? run + 1 : 0);
        }
        lastCos = cos[n - 1];
        lastSin = sin[n - 1];
        return any;
    }

    private boolean mark(SampleBlock block, int n) {
        Arrays.fill(frozen, 0, n, false);
        boolean any = false;
        double x = lastCos;
        double y = lastSin;
        for (int i = 0; i < n; i++) {
            boolean same = counts(block, i) && block.hallCos[i] == x && block.hallSin[i] == y;
            run = same ? run + 1 : 0;
            frozen[i] = run >= SAMPLES;
            any |= frozen[i];
            x = block.hallCos[i];
            y = block.hallSin[i];
        }
        return any;
    }

    private boolean counts(SampleBlock block, int i) {
        return alsoUnpowered || block.powered[i];
    }

    /** Makes faults of good samples that the last look found frozen. */
    void apply(byte[] state, int at, int n) {
        for (int i = 0; i < n; i++) {
            if (frozen[i] && state[at + i] == AngleBlock.GOOD) {
                state[at + i] = AngleBlock.FAULT;
            }
        }
    }
}
