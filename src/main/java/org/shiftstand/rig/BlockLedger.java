package org.shiftstand.rig;

import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.RigMessage.Samples;
import org.shiftstand.record.RunWriter;

/** Follows block numbers and times, and says what is missing. Invents nothing in its place. */
final class BlockLedger {
    private static final String LOST = "lost-blocks";
    private static final String REPEATED = "repeated-blocks";

    private final int samplesPerBlock;
    private long expected;
    private final Map<String, Long> counters;
    private @Nullable Samples last;

    /** @param counters {@code lost-blocks} and {@code repeated-blocks} go on from where an earlier session left them */
    BlockLedger(int samplesPerBlock, Map<String, Long> counters) {
        this.samplesPerBlock = samplesPerBlock;
        this.counters = counters;
        counters.putIfAbsent(LOST, 0L);
        counters.putIfAbsent(REPEATED, 0L);
    }

    /** Whether the block is one that was here before, such as a doubled frame. */
    boolean repeated(Samples block) {
        boolean repeated = block.blockNumber() < expected;
        if (repeated) {
            counters.merge(REPEATED, 1L, Long::sum);
        }
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
            counters.merge(LOST, missing, Long::sum);
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

    /** Rig's clock at the last sample that came; 0 before the first. */
    long lastMicros() {
        Samples block = last;
        return block == null ? 0 : lastMicros(block);
    }

    private static long lastMicros(Samples block) {
        return block.firstMicros() + (block.count() - 1) * block.intervalNanos() / 1000;
    }
}
