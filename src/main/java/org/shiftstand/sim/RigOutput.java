package org.shiftstand.sim;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;

/** The rig's way out: counts its frames, turns them into bytes, and does to them what the line was told to do. */
final class RigOutput {
    private static final int FLIPPED_BITS = 0x10;
    private static final int GARBAGE_BYTES = 3000; // three times what a frame can have

    private final int version;
    private final boolean silent;
    private final Due losses;
    private final Due flips;
    private final Due repeats;
    private final Due reorders;
    private final Due truncations;
    private final Due garbage;
    private final Due mutes;
    private boolean mute;
    private int blocksToLose;
    private byte @Nullable [] heldBack;
    private int sequence;
    private int sent;

    RigOutput(SimOptions.Line line) {
        version = line.protocol() == 0 ? MessageCodec.MAJOR : line.protocol();
        silent = line.silent();
        losses = line.due(Mishap.LOSE_FRAME);
        flips = line.due(Mishap.FLIP_BYTE);
        repeats = line.due(Mishap.REPEAT_FRAME);
        reorders = line.due(Mishap.REORDER_FRAME);
        truncations = line.due(Mishap.TRUNCATE_FRAME);
        garbage = line.due(Mishap.GARBAGE);
        mutes = line.due(Mishap.MUTE);
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

    /** Numbers start anew, and what was on its way is gone. */
    void boot() {
        mute = false;
        sequence = 0;
        heldBack = null;
    }

    void send(RigMessage message, long nanos, SimulatedRig.Sink sink) {
        Frame frame = MessageCodec.encode(message, sequence);
        sequence = sequence == 0xFFFE ? 0 : sequence + 1;
        boolean block = message instanceof RigMessage.Samples;
        mute |= mutes.strikes(nanos);
        if (silent || mute || lost(block, nanos)) {
            return;
        }
        byte[] bytes = FrameCodec.encode(new Frame(version, frame.type(), frame.sequence(), frame.payload()));
        sent++;
        if (garbage.strikes(nanos)) {
            sink.bytes(garbage());
        }
        if (block) {
            damage(bytes, nanos, sink);
        } else {
            sink.bytes(bytes);
        }
        byte[] late = heldBack;
        if (late != null && late != bytes) {
            heldBack = null;
            sink.bytes(late);
        }
    }

    private boolean lost(boolean block, long nanos) {
        if (losses.strikes(nanos)) {
            return true;
        }
        if (block && blocksToLose > 0) {
            blocksToLose--;
            return true;
        }
        return false;
    }

    /** Sends a block with at most one damage. */
    private void damage(byte[] bytes, long nanos, SimulatedRig.Sink sink) {
        if (flips.strikes(nanos)) {
            flip(bytes);
            sink.bytes(bytes);
        } else if (repeats.strikes(nanos)) {
            sink.bytes(bytes);
            sink.bytes(bytes);
        } else if (truncations.strikes(nanos)) {
            sink.bytes(Arrays.copyOf(bytes, bytes.length / 2));
        } else if (heldBack == null && reorders.strikes(nanos)) {
            heldBack = bytes;
        } else {
            sink.bytes(bytes);
        }
    }

    /** Changes one byte near the middle, so that it stays inside its frame: neither it nor the new byte is a 0x00. */
    private static void flip(byte[] bytes) {
        int i = bytes.length / 2;
        while (bytes[i] == 0 || (bytes[i] ^ FLIPPED_BITS) == 0) {
            i++;
        }
        bytes[i] ^= FLIPPED_BITS;
    }

    /** Bytes without a 0x00, then one, so that the frame after them is whole. */
    private static byte[] garbage() {
        byte[] bytes = new byte[GARBAGE_BYTES + 1];
        Arrays.fill(bytes, 0, GARBAGE_BYTES, (byte) 0x55);
        return bytes;
    }
}
