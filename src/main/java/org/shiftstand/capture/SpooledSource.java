package org.shiftstand.capture;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.List;

/** A parsed capture: its rows in a {@link Spool}, everything else in memory. */
final class SpooledSource implements SampleSource {
    private final Spool spool;
    private final boolean[] present;
    private final double[] scale;
    private final SourceIdentity identity;
    private final double intervalS;
    private final List<Request> requests;
    private final List<String> notices;

    /** What parsing gives; everything but the identity. */
    static final class Parsed {
        private final Spool spool;
        private final boolean[] present;
        private final double[] scale;
        private final double intervalS;
        private final List<Request> requests;
        private final List<String> notices;

        /**
         * @param present which columns are spooled
         * @param scale factor of each column
         */
        Parsed(
                Spool spool,
                boolean[] present,
                double[] scale,
                double intervalS,
                List<Request> requests,
                List<String> notices) {
            this.spool = spool;
            this.present = present;
            this.scale = scale;
            this.intervalS = intervalS;
            this.requests = List.copyOf(requests);
            this.notices = List.copyOf(notices);
        }
    }

    SpooledSource(Parsed parsed, SourceIdentity identity) {
        spool = parsed.spool;
        present = parsed.present;
        scale = parsed.scale;
        intervalS = parsed.intervalS;
        requests = parsed.requests;
        notices = parsed.notices;
        this.identity = identity;
    }

    @Override
    public SourceIdentity identity() {
        return identity;
    }

    @Override
    public Channels channels() {
        return new Channels(
                present[Column.POWER.index()],
                present[Column.WINDOW.index()],
                present[Column.CURRENT.index()],
                present[Column.SUPPLY.index()]);
    }

    @Override
    public double intervalS() {
        return intervalS;
    }

    @Override
    public SampleReader open() {
        return new Reader(0, 0);
    }

    @Override
    public SampleReader open(long fromSample) {
        return new Reader(
                (int) Math.min(spool.blocks(), fromSample / RowStage.ROWS), (int) (fromSample % RowStage.ROWS));
    }

    @Override
    public List<Request> requests() {
        return requests;
    }

    @Override
    public List<String> notices() {
        return notices;
    }

    boolean inFile() {
        return spool.inFile();
    }

    @Override
    public void close() {
        spool.close();
    }

    private final class Reader implements SampleReader {
        private final byte[] kind = new byte[Column.COUNT];
        private final byte[] decimals = new byte[Column.COUNT];
        private final int[] payload = new int[Column.COUNT];
        private final long[] running = new long[Column.COUNT];
        private final double[] scratch = new double[RowStage.ROWS];
        private final short[] shorts = new short[RowStage.ROWS];
        private final ByteBuffer buffer = ByteBuffer.allocate(8 + Column.COUNT * ColumnBlock.maxBytes(RowStage.ROWS))
                .order(ByteOrder.LITTLE_ENDIAN);
        private ByteBuffer bytes = buffer;
        private int nextBlock;
        private int rows;
        private int at;

        Reader(int block, int row) {
            nextBlock = block;
            if (row > 0 && block < spool.blocks()) {
                load();
                var skipped = new SampleBlock(row);
                next(skipped); // running sums of the steps need the rows before
            }
        }

        private void load() {
            bytes = spool.read(nextBlock++, buffer);
            rows = bytes.getInt(0);
            at = 0;
            int p = 4;
            for (int c = 0; c < Column.COUNT; c++) {
                if (!present[c]) {
                    continue;
                }
                kind[c] = bytes.get(p);
                decimals[c] = bytes.get(p + 1);
                payload[c] = p + 2;
                if (kind[c] == ColumnBlock.DELTA16) {
                    running[c] = bytes.getLong(payload[c]);
                    payload[c] += 8;
                }
                p = payload[c] + size(kind[c]);
            }
        }

        private int size(byte kindOfColumn) {
            return switch (kindOfColumn) {
                case ColumnBlock.CONSTANT -> 8;
                case ColumnBlock.INT16, ColumnBlock.DELTA16 -> 2 * rows;
                case ColumnBlock.INT32 -> 4 * rows;
                default -> 8 * rows;
            };
        }

        @Override
        public boolean next(SampleBlock block) {
            if (at == rows) {
                if (nextBlock >= spool.blocks()) {
                    block.size(0);
                    return false;
                }
                load();
            }
            int n = Math.min(block.capacity(), rows - at);
            fill(Column.TIME, block.timeS, n, Double.NaN);
            fill(Column.SIN, block.hallSin, n, Double.NaN);
            fill(Column.COS, block.hallCos, n, Double.NaN);
            fill(Column.CURRENT, block.currentA, n, Double.NaN);
            fill(Column.SUPPLY, block.supplyV, n, Double.NaN);
            fill(Column.POWER, scratch, n, 1);
            for (int i = 0; i < n; i++) {
                block.powered[i] = scratch[i] != 0;
            }
            fill(Column.WINDOW, scratch, n, 0);
            for (int i = 0; i < n; i++) {
                block.window[i] = (int) scratch[i];
            }
            at += n;
            block.size(n);
            return true;
        }

        private void fill(Column column, double[] out, int n, double absent) {
            int c = column.index();
            if (!present[c]) {
                Arrays.fill(out, 0, n, absent);
                return;
            }
            int from = payload[c];
            double divisor = Decimal.POWERS[decimals[c]];
            switch (kind[c]) {
                case ColumnBlock.CONSTANT -> Arrays.fill(out, 0, n, bytes.getDouble(from));
                case ColumnBlock.INT16 -> {
                    short[] mantissas = shorts(from + 2 * at, n);
                    for (int i = 0; i < n; i++) {
                        out[i] = mantissas[i];
                    }
                    divide(out, n, divisor);
                }
                case ColumnBlock.DELTA16 -> {
                    short[] steps = shorts(from + 2 * at, n);
                    long mantissa = running[c];
                    for (int i = 0; i < n; i++) {
                        mantissa += steps[i];
                        out[i] = mantissa;
                    }
                    running[c] = mantissa;
                    divide(out, n, divisor);
                }
                case ColumnBlock.INT32 -> {
                    from += 4 * at;
                    for (int i = 0; i < n; i++) {
                        out[i] = bytes.getInt(from + 4 * i) / divisor;
                    }
                }
                default -> {
                    from += 8 * at;
                    for (int i = 0; i < n; i++) {
                        out[i] = bytes.getDouble(from + 8 * i);
                    }
                }
            }
            if (scale[c] != 1) {
                for (int i = 0; i < n; i++) {
                    out[i] *= scale[c];
                }
            }
        }

        /** Copied at once: one by one from a buffer they took a fifth of the time that measuring takes. */
        private short[] shorts(int from, int n) {
            bytes.slice(from, 2 * n)
                    .order(ByteOrder.LITTLE_ENDIAN)
                    .asShortBuffer()
                    .get(shorts, 0, n);
            return shorts;
        }

        /** In a loop of its own, which the compiler makes a vector loop; whole numbers are as they are. */
        private static void divide(double[] out, int n, double divisor) {
            if (divisor != 1) {
                for (int i = 0; i < n; i++) {
                    out[i] /= divisor;
                }
            }
        }

        @Override
        public void close() {
            // holds nothing of its own: the spool belongs to the source
        }
    }
}
