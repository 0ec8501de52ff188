package org.shiftstand.link;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * Reads fields in wire order.
 *
 * <p>Reading past the end throws {@link java.nio.BufferUnderflowException}; {@link MessageCodec} turns it into a
 * malformed message. Bytes left over are ignored: a later minor version may append fields.
 */
final class PayloadReader {
    private final ByteBuffer from;

    PayloadReader(byte[] bytes) {
        from = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
    }

    int u8() {
        return from.get() & 0xFF;
    }

    int i8() {
        return from.get();
    }

    int u16() {
        return from.getShort() & 0xFFFF;
    }

    int i16() {
        return from.getShort();
    }

    long u32() {
        return from.getInt() & 0xFFFFFFFFL;
    }

    /** A u32 that must fit 31 bits: all scales, rates and durations do. */
    int u31() {
        int value = from.getInt();
        if (value < 0) {
            throw new IllegalArgumentException("field too large: value=" + Integer.toUnsignedString(value));
        }
        return value;
    }

    int i32() {
        return from.getInt();
    }

    long u64() {
        long value = from.getLong();
        if (value < 0) {
            throw new IllegalArgumentException("time too large: value=" + Long.toUnsignedString(value));
        }
        return value;
    }

    byte[] bytes(int length) {
        byte[] value = new byte[length];
        from.get(value);
        return value;
    }

    short[] samples(int length) {
        if (from.remaining() < 2 * length) {
            throw new java.nio.BufferUnderflowException();
        }
        short[] value = new short[length];
        from.asShortBuffer().get(value);
        from.position(from.position() + 2 * length);
        return value;
    }

    String text() {
        return new String(bytes(u8()), StandardCharsets.UTF_8);
    }
}
