package org.shiftstand.archive;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/** What stands before and behind the data of a gzip file (RFC 1952), with every field fixed that the content does not decide. */
final class GzipFrame {
    /** Magic, deflate, no flags, no time, no extra flags, operating system unknown. */
    private static final byte[] HEADER = {0x1f, (byte) 0x8b, 8, 0, 0, 0, 0, 0, 0, (byte) 0xff};

    private GzipFrame() {}

    static byte[] header() {
        return HEADER.clone();
    }

    /** CRC-32 and size modulo 2^32, little endian. */
    static byte[] trailer(long crc, long octets) {
        return ByteBuffer.allocate(8)
                .order(ByteOrder.LITTLE_ENDIAN)
                .putInt((int) crc)
                .putInt((int) octets)
                .array();
    }
}
