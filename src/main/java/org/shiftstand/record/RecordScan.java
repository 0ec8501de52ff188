package org.shiftstand.record;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** One pass over all rows of a record: their digest, its sessions, and which samples are missing or damaged. */
final class RecordScan {
    private static final int BLOCKS_A_MARK = 512;

    private final BlockRow block = new BlockRow();
    private final List<Missing> missing = new ArrayList<>();
    private final List<Mark> marks = new ArrayList<>();
    private final Sessions sessions = new Sessions();
    private final List<Interruption> interruptions = new ArrayList<>();
    private final List<String> causes = new ArrayList<>(); // of the sessions that began since the last good block
    private List<Session> ahead = List.of();
    private int begun;
    private long samples;
    private long good;
    private long lastNumber = -1;
    private long lastNanos;
    private long lastInterval;
    private long damaged;
    private long damagedBlocks;
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

    /**
     * What lies between two sessions that both have samples.
     *
     * @param fromNanos last sample before, nanoseconds after the first of the run
     * @param toNanos first sample after
     * @param cause of all sessions that began in between
     */
    record Interruption(long fromNanos, long toNanos, String cause) {}

    /** Digest of all rows in the stated order. */
    static String digest(String file, Connection connection, int version) throws SQLException {
        return digest(file, connection, version, Map.of());
    }

    /** @param events looks at each event, which comes after all blocks */
    static RecordScan of(String file, Connection connection, int version, EventReader events) throws SQLException {
        RecordScan scan = new RecordScan();
        scan.sha256 = digest(
                file,
                connection,
                version,
                Map.of(
                        "session",
                        scan.sessions::add,
                        "block",
                        scan::block,
                        "event",
                        rows -> events.read(rows, scan.originMicros())));
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

    /** The record's clock at the last sample that can be read; 0 without samples. */
    long lastMicros() {
        return samples == 0 ? 0 : block.originMicros() + lastNanos / 1000;
    }

    /** As the table states them; empty in version 1. */
    List<Session> sessions() {
        return sessions.all();
    }

    /** In time order. */
    List<Interruption> interruptions() {
        return interruptions;
    }

    /** Blocks whose check sum does not hold. */
    long damagedBlocks() {
        return damagedBlocks;
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

    private static String digest(String file, Connection connection, int version, Map<String, RowReader> readers)
            throws SQLException {
        RowReader unseen = rows -> rows.skip();
        try (RowDigest digest = new RowDigest()) {
            for (RecordSchema.Table table : RecordSchema.tables(version)) {
                RowReader reader = readers.getOrDefault(table.name(), unseen);
                try (Statement sql = connection.createStatement();
                        ResultSet result = sql.executeQuery(table.select())) {
                    Rows rows = new Rows(file, table.name(), result, Optional.of(digest));
                    while (rows.next()) {
                        reader.read(rows);
                    }
                }
            }
            return digest.hex();
        }
    }

    private void block(Rows rows) throws SQLException {
        block.read(rows);
        beginSessions(block.seq);
        if (block.damaged) {
            damaged++;
            damagedBlocks++;
            return;
        }
        boolean first = samples == 0 || !causes.isEmpty(); // of the run, or of a session
        if (samples > 0 && !causes.isEmpty()) {
            interruptions.add(new Interruption(lastNanos, block.firstNanos, String.join("; ", causes)));
        }
        causes.clear();
        if (first && damaged > 0) {
            // before the first sample that can be read: as long as so many blocks like this one
            long lost = damaged * block.count;
            missing.add(new Missing(
                    block.firstNanos - span(lost, block.intervalNanos), block.firstNanos, lost, "damaged block"));
        } else if (!first && (damaged > 0 || block.number > lastNumber + 1)) {
            missing(lastNanos, block.firstNanos, block.intervalNanos);
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

    /** Every session that begins with this block or had none before it. */
    private void beginSessions(long seq) {
        if (ahead.isEmpty()) {
            ahead = sessions.all();
            begun = 1;
        }
        while (begun < ahead.size() && ahead.get(begun).firstBlock() <= seq) {
            if (samples > 0) {
                end();
                damaged = 0;
            }
            causes.add(ahead.get(begun++).cause());
        }
    }

    private void end() {
        if (damaged > 0 && samples > 0) {
            missing(lastNanos, lastNanos + span(damaged * block.count + 1, lastInterval), lastInterval);
        }
    }

    private void missing(long fromNanos, long toNanos, long intervalNanos) {
        long n = Math.round((toNanos - fromNanos) / (double) intervalNanos) - 1;
        if (n > 0) {
            missing.add(new Missing(fromNanos, toNanos, n, damaged > 0 ? "damaged block" : "lost block"));
        }
    }

    /** So many intervals, nanoseconds; bounded, since the numbers of a damaged file can be anything. */
    private static long span(long samples, long intervalNanos) {
        return (long) Math.min(samples * (double) intervalNanos, 1e18);
    }

    /** What is done with each event. */
    interface EventReader {
        void read(Rows rows, long originMicros) throws SQLException;
    }

    /** What is done with each row; must read all its columns. */
    private interface RowReader {
        void read(Rows rows) throws SQLException;
    }
}
