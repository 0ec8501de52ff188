package org.shiftstand.record;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** One pass over all rows of a record: their digest, and which samples are missing or damaged. */
final class RecordScan {
    private static final int BLOCKS_A_MARK = 512;

    private final BlockRow block = new BlockRow();
    private final List<Missing> missing = new ArrayList<>();
    private final List<Mark> marks = new ArrayList<>();
    private long samples;
    private long good;
    private long lastNumber = -1;
    private long lastNanos;
    private long lastInterval;
    private long damaged;
    private String sha256 = "";

    /**
     * Samples that the block numbers or check sums tell to be missing.
     *
     * @param fromNanos last sample before, nanoseconds after the first of the run
     * @param toNanos first sample after
     */
    record Missing(long fromNanos, long toNanos, long samples, String cause) {}

    /**
     * A place to start reading at.
     *
     * @param seq of a good block
     * @param samples that can be read before it
     */
    record Mark(long seq, long samples) {}

    /** Digest of all rows in the stated order. */
    static String digest(String file, Connection connection) throws SQLException {
        return digest(file, connection, rows -> rows.skip(7));
    }

    static RecordScan of(String file, Connection connection) throws SQLException {
        RecordScan scan = new RecordScan();
        scan.sha256 = digest(file, connection, scan::block);
        scan.end();
        return scan;
    }

    String sha256() {
        return sha256;
    }

    /** The rig's clock at the first sample; 0 without samples. */
    long originMicros() {
        return block.originMicros();
    }

    /** How many can be read. */
    long samples() {
        return samples;
    }

    /** The last mark at or before a sample; at the first row without samples. */
    Mark markBefore(long sample) {
        Mark before = new Mark(Long.MIN_VALUE, 0);
        for (Mark mark : marks) {
            if (mark.samples() <= sample) {
                before = mark;
            }
        }
        return before;
    }

    /** In time order. */
    List<Missing> missing() {
        return missing;
    }

    private static String digest(String file, Connection connection, RowReader blocks) throws SQLException {
        RowDigest digest = new RowDigest();
        for (RecordSchema.Table table : RecordSchema.TABLES) {
            try (Statement sql = connection.createStatement();
                    ResultSet result = sql.executeQuery(table.select())) {
                Rows rows = new Rows(file, table.name(), result, Optional.of(digest));
                int columns = result.getMetaData().getColumnCount();
                RowReader reader = table.name().equals("block") ? blocks : r -> r.skip(columns);
                while (rows.next()) {
                    reader.read(rows);
                }
            }
        }
        return digest.hex();
    }

    private void block(Rows rows) throws SQLException {
        block.read(rows);
        if (block.damaged) {
            damaged++;
            return;
        }
        if (samples > 0 && (damaged > 0 || block.number > lastNumber + 1)) {
            missing(lastNanos, block.firstNanos, block.intervalNanos);
        } else if (damaged > 0) {
            // before the first sample that can be read: as long as so many blocks like this one
            missing(-damaged * block.count * block.intervalNanos, 0, block.intervalNanos);
        }
        damaged = 0;
        if (good++ % BLOCKS_A_MARK == 0) {
            marks.add(new Mark(block.seq, samples));
        }
        samples += block.count;
        lastNumber = block.number;
        lastNanos = block.lastNanos();
        lastInterval = block.intervalNanos;
    }

    private void end() {
        if (damaged > 0 && samples > 0) {
            missing(lastNanos, lastNanos + (damaged * block.count + 1) * lastInterval, lastInterval);
        }
    }

    private void missing(long fromNanos, long toNanos, long intervalNanos) {
        long n = Math.round((toNanos - fromNanos) / (double) intervalNanos) - (fromNanos < 0 ? 0 : 1);
        if (n > 0) {
            missing.add(new Missing(fromNanos, toNanos, n, damaged > 0 ? "damaged block" : "lost block"));
        }
    }

    /** What is done with each row. */
    private interface RowReader {
        void read(Rows rows) throws SQLException;
    }
}
