package org.shiftstand.angle;

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
        boolean any = mayHold(block) && mark(block);
        run = trailing(block);
        lastCos = block.hallCos[n - 1];
        lastSin = block.hallSin[n - 1];
        return any;
    }

    /** Whether a run of {@value #SAMPLES} may end in these samples: it comes from before, or holds a stretch of them. */
    private boolean mayHold(SampleBlock block) {
        int n = block.size();
        int leading = 0;
        while (leading < n && isRepeated(block, leading)) {
            leading++;
        }
        boolean found = run + leading >= SAMPLES;
        for (int i = 0; i + Repeats.STRETCH <= n && !found; i += Repeats.STRETCH) {
            found = Repeats.standsStill(block, i);
        }
        return found;
    }

    /** The run that is going on behind the last sample. */
    private int trailing(SampleBlock block) {
        int i = block.size();
        while (i > 0 && isRepeated(block, i - 1)) {
            i--;
        }
        return block.size() - i + (i == 0 ? run : 0);
    }

    private boolean isRepeated(SampleBlock block, int i) {
        boolean counts = alsoUnpowered || block.powered[i];
        double cos = i == 0 ? lastCos : block.hallCos[i - 1];
        double sin = i == 0 ? lastSin : block.hallSin[i - 1];
        return counts && block.hallCos[i] == cos && block.hallSin[i] == sin;
    }

    /** Marks frozen samples; whether there are any. */
    private boolean mark(SampleBlock block) {
        int n = block.size();
        boolean any = false;
        int alike = run;
        for (int i = 0; i < n; i++) {
            alike = isRepeated(block, i) ? alike + 1 : 0;
            frozen[i] = alike >= SAMPLES;
            any |= frozen[i];
        }
        return any;
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
