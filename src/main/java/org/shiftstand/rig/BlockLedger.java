package org.shiftstand.rig;

import org.jspecify.annotations.Nullable;
import org.shiftstand.link.RigMessage.Samples;
import org.shiftstand.record.RunWriter;

/** Follows block numbers and times, and says what is missing. Invents nothing in its place. */
final class BlockLedger {
    private final int samplesPerBlock;
    private long expected;
    private long lostBlocks;
    private long repeatedBlocks;
    private @Nullable Samples last;

    BlockLedger(int samplesPerBlock) {
        this.samplesPerBlock = samplesPerBlock;
    }

    /** Whether the block is one that was here before, such as a doubled frame. */
    boolean repeated(Samples block) {
        boolean repeated = block.blockNumber() < expected;
        repeatedBlocks += repeated ? 1 : 0;
        return repeated;
    }

    /**
     * Writes the gap before a block, where there is one.
     *
     * @param lostFrames frames of any kind missing before it, by their sequence numbers
     */
    void enter(Samples block, long lostFrames, RunWriter writer) {
        long missing = block.blockNumber() - expected;
        long intervalNanos = block.intervalNanos();
        Samples before = last;
        long from = before == null
                ? block.firstMicros() - (missing * samplesPerBlock + 1) * intervalNanos / 1000
                : lastMicros(before);
        if (missing > 0) {
            writer.gap(from, block.firstMicros(), missing * samplesPerBlock, "lost block");
            lostBlocks += missing;
        } else if (before != null) {
            long between = Math.round((block.firstMicros() - from) * 1e3 / intervalNanos);
            if (between > 1) {
                writer.gap(from, block.firstMicros(), between - 1, "samples lost in the rig");
            }
        }
        if (lostFrames > missing) {
            // it may have said that the sensors went on or off: what these samples show is in doubt
            writer.gap(from, lastMicros(block), 0, "lost event");
        }
        last = block;
        expected = block.blockNumber() + 1;
    }

    long lostBlocks() {
        return lostBlocks;
    }

    long repeatedBlocks() {
        return repeatedBlocks;
    }

    /** Rig's clock at the last sample that came; 0 before the first. */
    long lastMicros() {
        Samples block = last;
        return block == null ? 0 : lastMicros(block);
    }

    private static long lastMicros(Samples block) {
        return block.firstMicros() + (block.count() - 1) * block.intervalNanos() / 1000;
    }
}
