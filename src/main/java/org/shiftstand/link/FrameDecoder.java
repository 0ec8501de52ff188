package org.shiftstand.link;

import java.util.Arrays;
import java.util.OptionalInt;
import java.util.function.Consumer;
import org.shiftstand.link.Arrival.Damaged.Kind;

/**
 * Finds frames in a stream of bytes, however it is cut into pieces.
 *
 * <p>Each 0x00 ends a frame and starts the next, so that damage costs no more than the frames it touches. Bytes between
 * two 0x00 that are no frame become one {@link Arrival.Damaged} with its kind and their count; empty frames are
 * skipped. Memory is one frame, whatever comes: what is longer is dropped up to the next 0x00. Not thread-safe.
 */
public final class FrameDecoder {
    private final byte[] stuffed = new byte[Cobs.mostStuffed(FrameCodec.MOST_BYTES) + 1];
    private final byte[] raw = new byte[stuffed.length];
    private int held;
    private int dropped;

    /** Takes bytes and hands on every frame that they complete, in order. */
    public void feed(byte[] bytes, int from, int length, Consumer<Arrival> to) {
        for (int i = from; i < from + length; i++) {
            if (bytes[i] == 0) {
                end(to);
            } else if (held < stuffed.length) {
                stuffed[held++] = bytes[i];
            } else if (dropped < Integer.MAX_VALUE - stuffed.length) {
                dropped++;
            }
        }
    }

    /** Feeds a whole array. */
    public void feed(byte[] bytes, Consumer<Arrival> to) {
        feed(bytes, 0, bytes.length, to);
    }

    private void end(Consumer<Arrival> to) {
        if (held > 0) {
            to.accept(decoded());
        }
        held = 0;
        dropped = 0;
    }

    private Arrival decoded() {
        if (dropped > 0) {
            return damaged(Kind.TOO_LONG);
        }
        OptionalInt length = Cobs.unstuff(stuffed, held, raw);
        if (length.isEmpty()) {
            return damaged(Kind.STUFFING);
        }
        int n = length.getAsInt() - FrameCodec.TAIL;
        if (n < FrameCodec.HEAD) {
            return damaged(Kind.TOO_SHORT);
        }
        if (n + FrameCodec.TAIL > FrameCodec.MOST_BYTES) {
            return damaged(Kind.TOO_LONG);
        }
        PayloadReader fields = new PayloadReader(Arrays.copyOf(raw, n + FrameCodec.TAIL));
        int version = fields.u8();
        int type = fields.u8();
        int sequence = fields.u16();
        byte[] payload = fields.bytes(n - FrameCodec.HEAD);
        if ((int) fields.u32() != Crc32c.of(raw, 0, n)) {
            return damaged(Kind.CHECK_SUM);
        }
        return new Arrival.Received(new Frame(version, type, sequence, payload));
    }

    private Arrival damaged(Kind kind) {
        return new Arrival.Damaged(kind, held + dropped);
    }
}
