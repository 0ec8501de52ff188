package org.shiftstand.record;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;

/**
 * How far a record's samples go on its clock. A record whose times go back is refused as a whole by its readers, so that the
 * writer must not let such a block in.
 *
 * @param originMicros first sample of the record; meaningless where there is none
 * @param lastNanos last sample, after the first; negative where there is none
 */
record BlockTimes(long originMicros, long lastNanos) {
    /** What is in a record already. */
    static BlockTimes after(Connection connection) throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet row = sql.executeQuery("""
                        SELECT (SELECT first_micros FROM block ORDER BY seq LIMIT 1), first_micros, interval_nanos, count
                        FROM block ORDER BY seq DESC LIMIT 1""")) {
            if (!row.next()) {
                return new BlockTimes(0, -1);
            }
            long origin = row.getLong(1);
            return new BlockTimes(origin, last(row.getLong(2) - origin, row.getLong(3), row.getLong(4)));
        }
    }

    /** @throws IllegalArgumentException where a block of these times cannot follow */
    BlockTimes then(long firstMicros, long intervalNanos, int count) {
        if (lastNanos < 0) {
            return new BlockTimes(firstMicros, last(0, intervalNanos, count));
        }
        long since = firstMicros - originMicros;
        if (since < 0 || since * 1000 <= lastNanos) {
            throw new IllegalArgumentException("time goes back: firstMicros=" + firstMicros + ", lastMicros="
                    + lastMicros() + "; the block is not in the record");
        }
        return new BlockTimes(originMicros, last(since, intervalNanos, count));
    }

    /** @throws IllegalArgumentException where a session cannot begin then */
    void checkSession(long atMicros) {
        if (lastNanos >= 0 && atMicros < lastMicros()) {
            throw new IllegalArgumentException(
                    "a session begins before the last sample: atMicros=" + atMicros + ", lastMicros=" + lastMicros());
        }
    }

    private long lastMicros() {
        return originMicros + lastNanos / 1000;
    }

    private static long last(long sinceMicros, long intervalNanos, long count) {
        return sinceMicros * 1000 + (count - 1) * intervalNanos;
    }
}
