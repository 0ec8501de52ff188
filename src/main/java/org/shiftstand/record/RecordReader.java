package org.shiftstand.record;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.Optional;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;

/** One pass over the blocks of a record, decoded; damaged blocks are left out. */
final class RecordReader implements SampleReader {
    private final Path file;
    private final PreparedStatement sql;
    private final ResultSet result;
    private final Rows rows;
    private final HallPower power;
    private final double currentScale;
    private final double supplyScale;
    private final BlockRow row;
    private int taken; // samples of the row already given

    /** @param fromSample of the samples that can be read, 0 for the first */
    RecordReader(
            Path file,
            Connection connection,
            RunHeader header,
            RecordScan scan,
            long fromSample,
            long[] hallEdgesNanos,
            boolean hallOnAtStart)
            throws SQLException {
        this.file = file;
        power = new HallPower(hallEdgesNanos, hallOnAtStart);
        currentScale = header.currentAPerCount() == 0 ? Double.NaN : header.currentAPerCount();
        supplyScale = header.supplyVPerCount() == 0 ? Double.NaN : header.supplyVPerCount();
        RecordScan.Mark mark = scan.markBefore(fromSample);
        row = new BlockRow(scan.originMicros());
        sql = connection.prepareStatement(RecordSchema.table("block").selectFrom());
        sql.setLong(1, mark.seq());
        result = sql.executeQuery();
        rows = new Rows(file.toString(), "block", result, Optional.empty());
        skip(fromSample - mark.samples());
    }

    @Override
    public boolean next(SampleBlock block) {
        int n = 0;
        try {
            while (n < block.capacity() && (taken < row.count || nextRow())) {
                int some = Math.min(block.capacity() - n, row.count - taken);
                decode(block, n, some);
                n += some;
                taken += some;
            }
        } catch (SQLException e) {
            throw RecordFile.unreadable(file, e, false);
        }
        block.size(n);
        return n > 0;
    }

    private void skip(long samples) throws SQLException {
        long left = samples;
        while (left > 0 && nextRow()) {
            taken = (int) Math.min(left, row.count);
            left -= taken;
        }
    }

    private boolean nextRow() throws SQLException {
        while (!result.isClosed() && rows.next()) {
            row.read(rows);
            if (!row.damaged) {
                taken = 0;
                return true;
            }
        }
        row.count = 0;
        taken = 0;
        return false;
    }

    private void decode(SampleBlock block, int at, int some) {
        int to = at + some;
        long interval = row.intervalNanos;
        long nanos = row.firstNanos + taken * interval;
        short[] values = row.values();
        int from = taken * 4;
        for (int i = at; i < to; i++) {
            block.timeS[i] = (nanos + (i - at) * interval) / 1e9;
        }
        for (int i = at; i < to; i++, from += 4) {
            block.hallSin[i] = values[from];
            block.hallCos[i] = values[from + 1];
            block.currentA[i] = values[from + 2] * currentScale;
            block.supplyV[i] = values[from + 3] * supplyScale;
        }
        for (int i = at; i < to; ) {
            int until = at + (int) Math.min(some, power.samplesBefore(nanos, interval, i - at));
            Arrays.fill(block.powered, i, until, power.on);
            i = until;
        }
        Arrays.fill(block.window, at, to, 0);
    }

    @Override
    public void close() {
        try (sql) {
            result.close();
        } catch (SQLException e) {
            throw RecordFile.unreadable(file, e, false);
        }
    }

    /** Whether the sensors are powered, asked in time order. */
    private static final class HallPower {
        private final long[] edges;
        private boolean on;
        private int next;

        /** Each edge turns the state over. */
        HallPower(long[] edges, boolean onAtStart) {
            this.edges = edges;
            on = onAtStart;
        }

        /**
         * Goes on to what holds at a sample, and says which sample is the first where something else may hold.
         *
         * @param firstNanos of sample 0
         * @return above {@code sample}
         */
        long samplesBefore(long firstNanos, long interval, int sample) {
            long nanos = firstNanos + sample * interval;
            while (next < edges.length && edges[next] <= nanos) {
                on = !on;
                next++;
            }
            if (next == edges.length) {
                return Long.MAX_VALUE;
            }
            return sample + 1 + (edges[next] - nanos - 1) / interval;
        }
    }
}
