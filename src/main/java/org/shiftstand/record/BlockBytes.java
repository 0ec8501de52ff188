package org.shiftstand.record;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.CRC32C;

/**
 * Bytes and check sum of one block of samples. Not thread-safe: its buffers are reused.
 *
 * <pre>
 * check sum, CRC-32C (RFC 3720, B.4), over, little-endian:
 *   0  number          int64
 *   8  first_micros    int64
 *  16  interval_nanos  int64
 *  24  count           int64
 *  32  samples         int16 × 4 × count: hall sine, hall cosine, current, supply
 * </pre>
 */
final class BlockBytes {
    private final ByteBuffer head = ByteBuffer.allocate(32).order(ByteOrder.LITTLE_ENDIAN);
    private final CRC32C crc = new CRC32C();

    static byte[] bytes(short[] samples) {
        byte[] bytes = new byte[samples.length * Short.BYTES];
        ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN).asShortBuffer().put(samples);
        return bytes;
    }

    long crc32c(long number, long firstMicros, long intervalNanos, long count, byte[] samples) {
        head.clear();
        head.putLong(number).putLong(firstMicros).putLong(intervalNanos).putLong(count);
        crc.reset();
        crc.update(head.array());
        crc.update(samples);
        return crc.getValue();
    }
}
