package org.shiftstand.archive;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * The records around the files of a ZIP (PKWARE APPNOTE 6.3, clauses 4.3.7 to 4.3.16), with every field fixed that the
 * content does not decide: deflate, sizes behind the data, UTF-8 names, 1980-01-01 00:00:00, Unix mode 0644, no comments.
 * Own code: a reader that finds each changed byte needs each byte decided, which no library promises across versions.
 */
final class ZipRecords {
    static final int LOCAL = 0x04034b50;
    static final int DESCRIPTOR = 0x08074b50;
    static final int CENTRAL = 0x02014b50;
    static final int LOCAL_OCTETS = 30;
    static final int CENTRAL_OCTETS = 46;

    /** From this size on, sizes take 64 bits: below it, even data that deflate makes longer stays under 2^32 − 1. */
    static final long LARGE = 4_290_000_000L;

    private static final long MOST_32 = 0xFFFFFFFFL;
    private static final short FLAGS = 0x0808; // sizes behind the data, UTF-8
    private static final short DEFLATED = 8;
    private static final int TIME = 0x0021 << 16; // 1980-01-01 00:00:00
    private static final int FROM_UNIX = 3 << 8;
    private static final int MODE = 0100644 << 16;

    private ZipRecords() {}

    /**
     * A file as the central directory tells it.
     *
     * @param offset of its local header
     */
    record Entry(String name, boolean large, long crc, long compressed, long octets, long offset) {}

    /**
     * <pre>
     * 0 "PK\3\4"  4 version  6 flags  8 method  10 time, date  14 crc 0  18 sizes 0 or ff…  26 name  28 extra  30 …
     * </pre>
     */
    static byte[] local(String name, boolean large) {
        byte[] text = name.getBytes(StandardCharsets.UTF_8);
        ByteBuffer to = buffer(LOCAL_OCTETS + text.length + (large ? 20 : 0));
        to.putInt(LOCAL)
                .putShort(version(large))
                .putShort(FLAGS)
                .putShort(DEFLATED)
                .putInt(TIME);
        int size = large ? -1 : 0;
        to.putInt(0).putInt(size).putInt(size).putShort((short) text.length).putShort((short) (large ? 20 : 0));
        to.put(text);
        if (large) {
            to.putShort((short) 1).putShort((short) 16).putLong(0).putLong(0);
        }
        return to.array();
    }

    /** Behind the data: crc, compressed size, size. */
    static byte[] descriptor(Entry entry) {
        ByteBuffer to = buffer(entry.large() ? 24 : 16);
        to.putInt(DESCRIPTOR).putInt((int) entry.crc());
        if (entry.large()) {
            to.putLong(entry.compressed()).putLong(entry.octets());
        } else {
            to.putInt((int) entry.compressed()).putInt((int) entry.octets());
        }
        return to.array();
    }

    static byte[] central(Entry entry) {
        byte[] text = entry.name().getBytes(StandardCharsets.UTF_8);
        boolean far = entry.offset() >= MOST_32;
        boolean large = entry.large() || far;
        int extra = (entry.large() ? 16 : 0) + (far ? 8 : 0);
        ByteBuffer to = buffer(CENTRAL_OCTETS + text.length + (extra > 0 ? 4 + extra : 0));
        to.putInt(CENTRAL).putShort((short) (FROM_UNIX | version(large))).putShort(version(large));
        to.putShort(FLAGS).putShort(DEFLATED).putInt(TIME).putInt((int) entry.crc());
        to.putInt(entry.large() ? -1 : (int) entry.compressed()).putInt(entry.large() ? -1 : (int) entry.octets());
        to.putShort((short) text.length)
                .putShort((short) (extra > 0 ? 4 + extra : 0))
                .putShort((short) 0);
        to.putShort((short) 0)
                .putShort((short) 0)
                .putInt(MODE)
                .putInt(far ? -1 : (int) entry.offset())
                .put(text);
        if (extra > 0) {
            to.putShort((short) 1).putShort((short) extra);
        }
        if (entry.large()) {
            to.putLong(entry.octets()).putLong(entry.compressed());
        }
        if (far) {
            to.putLong(entry.offset());
        }
        return to.array();
    }

    /** What ends the file. */
    static byte[] end(int count, long size, long offset) {
        boolean far = offset >= MOST_32 || size >= MOST_32;
        ByteBuffer to = buffer(22 + (far ? 76 : 0));
        if (far) {
            to.putInt(0x06064b50)
                    .putLong(44)
                    .putShort((short) (FROM_UNIX | 45))
                    .putShort((short) 45)
                    .putInt(0)
                    .putInt(0);
            to.putLong(count).putLong(count).putLong(size).putLong(offset);
            to.putInt(0x07064b50).putInt(0).putLong(offset + size).putInt(1);
        }
        to.putInt(0x06054b50)
                .putShort((short) 0)
                .putShort((short) 0)
                .putShort((short) count)
                .putShort((short) count);
        to.putInt(far ? -1 : (int) size).putInt(far ? -1 : (int) offset).putShort((short) 0);
        return to.array();
    }

    private static short version(boolean large) {
        return (short) (large ? 45 : 20);
    }

    static ByteBuffer buffer(int octets) {
        return ByteBuffer.allocate(octets).order(ByteOrder.LITTLE_ENDIAN);
    }
}
