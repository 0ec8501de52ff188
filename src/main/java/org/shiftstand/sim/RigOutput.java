package org.shiftstand.sim;

import java.util.Iterator;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;

/** The rig's way out: counts its frames, turns them into bytes, and does to them what the line was told to do. */
final class RigOutput {
    private static final int FLIPPED_BITS = 0x10;

    private final int version;
    private final boolean silent;
    private final Iterator<Double> loseAtS;
    private final Iterator<Double> flipAtS;
    private long nextLossNanos;
    private long nextFlipNanos;
    private int blocksToLose;
    private int sequence;
    private int sent;

    RigOutput(SimOptions.Line line) {
        version = line.protocol() == 0 ? MessageCodec.MAJOR : line.protocol();
        silent = line.silent();
        loseAtS = line.loseFrameAtS().stream().sorted().iterator();
        flipAtS = line.flipByteAtS().stream().sorted().iterator();
        nextLossNanos = next(loseAtS);
        nextFlipNanos = next(flipAtS);
    }

    private static long next(Iterator<Double> seconds) {
        return seconds.hasNext() ? Math.round(seconds.next() * 1e9) : Long.MAX_VALUE;
    }

    /** Major version spoken. */
    int version() {
        return version;
    }

    /** Counts the frames that went out. */
    int sent() {
        return sent;
    }

    /** So many sample blocks from now on never arrive. */
    void loseBlocks(int n) {
        blocksToLose += n;
    }

    void send(RigMessage message, long nanos, SimulatedRig.Sink sink) {
        Frame frame = MessageCodec.encode(message, sequence);
        sequence = sequence == 0xFFFE ? 0 : sequence + 1;
        boolean block = message instanceof RigMessage.Samples;
        if (silent || lost(block, nanos)) {
            return;
        }
        byte[] bytes = FrameCodec.encode(new Frame(version, frame.type(), frame.sequence(), frame.payload()));
        if (block && nanos >= nextFlipNanos) {
            nextFlipNanos = next(flipAtS);
            flip(bytes);
        }
        sent++;
        sink.bytes(bytes);
    }

    private boolean lost(boolean block, long nanos) {
        if (nanos >= nextLossNanos) {
            nextLossNanos = next(loseAtS);
            return true;
        }
        if (block && blocksToLose > 0) {
            blocksToLose--;
            return true;
        }
        return false;
    }

    /** Changes one byte near the middle, so that it stays inside its frame: neither it nor the new byte is a 0x00. */
    private static void flip(byte[] bytes) {
        int i = bytes.length / 2;
        while (bytes[i] == 0 || (bytes[i] ^ FLIPPED_BITS) == 0) {
            i++;
        }
        bytes[i] ^= FLIPPED_BITS;
    }
}
