package org.shiftstand.link;

import java.util.zip.CRC32C;

/** Check sum of a frame: CRC-32C, also called CRC-32/ISCSI (RFC 3720, 12.1; check value of "123456789" is E3069283). */
final class Crc32c {
    private Crc32c() {}

    /** Check sum of {@code length} bytes from {@code from}; 0 for none. All 32 bits are used: compare as int. */
    static int of(byte[] bytes, int from, int length) {
        CRC32C crc = new CRC32C();
        crc.update(bytes, from, length);
        return (int) crc.getValue();
    }
}
