package org.shiftstand.record;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.sql.SQLException;
import org.shiftstand.document.BadInput;

/** One row of table {@code block}, read and checked; reused from row to row. */
final class BlockRow {
    // 31 years of the rig's clock: nanoseconds since the first sample stay within a long.
    private static final long LONGEST_RUN_MICROS = 1_000_000_000_000_000L;
    private static final long LONGEST_INTERVAL_NANOS = 10_000_000_000L;

    private final BlockBytes bytes = new BlockBytes();
    private boolean started;
    private long originMicros;
    private long lastNanos;

    /** To read from the first row on: its first good block is the origin of time. */
    BlockRow() {}

    /** To read from a later row on. */
    BlockRow(long originMicros) {
        this.originMicros = originMicros;
        started = true;
        lastNanos = -1;
    }

    /** Whether the check sum does not hold: then nothing else of the row is to be trusted. */
    boolean damaged;

    /** Orders the rows. */
    long seq;

    long number;
    long firstMicros;
    long intervalNanos;
    int count;
    byte[] samples = {};

    private short[] values = {};

    /** The first sample, nanoseconds after the first sample of the run. */
    long firstNanos;

    /** The rig's clock at the first sample that could be read. */
    long originMicros() {
        return originMicros;
    }

    /** The last sample of this row, nanoseconds after the first sample of the run. */
    long lastNanos() {
        return firstNanos + (count - 1) * intervalNanos;
    }

    /** Four values a sample; valid until the next row. */
    short[] values() {
        if (values.length < count * 4) {
            values = new short[count * 4];
        }
        ByteBuffer.wrap(samples).order(ByteOrder.LITTLE_ENDIAN).asShortBuffer().get(values, 0, count * 4);
        return values;
    }

    /**
     * Takes the current row.
     *
     * @throws BadInput where the check sum holds and the values cannot be: nobody's damage, but not our writing
     */
    void read(Rows rows) throws SQLException {
        seq = rows.checkedInteger();
        number = rows.checkedInteger();
        firstMicros = rows.checkedInteger();
        intervalNanos = rows.checkedInteger();
        long stated = rows.checkedInteger();
        long crc = rows.checkedInteger();
        samples = rows.blob();
        damaged = bytes.crc32c(number, firstMicros, intervalNanos, stated, samples) != crc;
        if (!damaged) {
            check(rows, stated);
        }
    }

    private void check(Rows rows, long stated) {
        if (stated < 1
                || stated > RecordSchema.MAX_BLOCK_SAMPLES
                || samples.length != stated * RecordSchema.SAMPLE_BYTES) {
            throw rows.bad("says " + stated + " samples and holds " + samples.length + " bytes; expected 1 to "
                    + RecordSchema.MAX_BLOCK_SAMPLES + " samples of " + RecordSchema.SAMPLE_BYTES + " bytes");
        }
        if (intervalNanos < 1 || intervalNanos > LONGEST_INTERVAL_NANOS) {
            throw rows.bad("sampling interval of " + intervalNanos + " ns; expected 1 ns to 10 s");
        }
        count = (int) stated;
        if (!started) {
            originMicros = firstMicros;
        }
        long sinceOrigin = firstMicros - originMicros;
        if (firstMicros < originMicros || sinceOrigin < 0 || sinceOrigin > LONGEST_RUN_MICROS) {
            throw rows.bad("first sample at " + firstMicros + " us; expected a time after the run's first sample at "
                    + originMicros + " us");
        }
        firstNanos = sinceOrigin * 1000;
        if (started && firstNanos <= lastNanos) {
            throw rows.bad("time goes back: first sample " + firstNanos / 1e9 + " s into the run, after one at "
                    + lastNanos / 1e9 + " s; times must increase");
        }
        started = true;
        lastNanos = lastNanos();
    }
}
