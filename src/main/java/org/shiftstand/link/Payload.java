package org.shiftstand.link;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/** Writes fields in wire order; refuses values that do not fit, with the value in the message. */
final class Payload {
    /** Longest text in a message, bytes of UTF-8. */
    static final int MOST_TEXT = 64;

    private final ByteBuffer to;

    Payload(int length) {
        to = ByteBuffer.allocate(length).order(ByteOrder.LITTLE_ENDIAN);
    }

    Payload u8(long value) {
        to.put((byte) fitting(value, 0, 0xFF));
        return this;
    }

    Payload i8(long value) {
        to.put((byte) fitting(value, Byte.MIN_VALUE, Byte.MAX_VALUE));
        return this;
    }

    Payload u16(long value) {
        to.putShort((short) fitting(value, 0, 0xFFFF));
        return this;
    }

    Payload i16(long value) {
        to.putShort((short) fitting(value, Short.MIN_VALUE, Short.MAX_VALUE));
        return this;
    }

    Payload u32(long value) {
        to.putInt((int) fitting(value, 0, 0xFFFFFFFFL));
        return this;
    }

    Payload i32(int value) {
        to.putInt(value);
        return this;
    }

    /** A time; negative ones do not exist. */
    Payload u64(long value) {
        to.putLong(fitting(value, 0, Long.MAX_VALUE));
        return this;
    }

    Payload bytes(byte[] value) {
        to.put(value);
        return this;
    }

    Payload samples(short[] value) {
        for (short s : value) {
            to.putShort(s);
        }
        return this;
    }

    /** Length u8, then UTF-8; cut to {@link #MOST_TEXT} bytes is refused rather than done. */
    Payload text(byte[] utf8) {
        fitting(utf8.length, 0, MOST_TEXT);
        return u8(utf8.length).bytes(utf8);
    }

    static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    byte[] array() {
        return to.array();
    }

    private static long fitting(long value, long least, long most) {
        if (value < least || value > most) {
            throw new IllegalArgumentException("a field must be " + least + " to " + most + ": value=" + value);
        }
        return value;
    }
}
