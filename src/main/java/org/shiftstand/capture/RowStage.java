package org.shiftstand.capture;

import java.nio.ByteBuffer;

/** One block of parsed rows before it is spooled: value, and where the text was short, mantissa and decimals. */
final class RowStage {
    static final int ROWS = 4096;

    final double[][] value = new double[Column.COUNT][];
    final long[][] mantissa = new long[Column.COUNT][];
    /** Decimals of the text, −1 where the value is not {@code mantissa / 10^decimals}. */
    final byte[][] decimals = new byte[Column.COUNT][];

    /** Room for a column as it is spooled. */
    final short[] shorts = new short[ROWS];

    int rows;

    /** Holds nothing, for what has not been given one yet. */
    static final RowStage NONE = new RowStage(new boolean[Column.COUNT]);

    RowStage(boolean[] present) {
        for (int c = 0; c < Column.COUNT; c++) {
            int length = present[c] ? ROWS : 0;
            value[c] = new double[length];
            mantissa[c] = new long[length];
            decimals[c] = new byte[length];
        }
    }

    void put(int column, double number) {
        value[column][rows] = number;
        decimals[column][rows] = -1;
    }

    /** Spools the rows, column by column, and is empty again. */
    void flush(boolean[] present, ByteBuffer block, Spool spool) {
        block.clear();
        block.putInt(rows);
        for (int c = 0; c < Column.COUNT; c++) {
            if (present[c]) {
                ColumnBlock.write(this, c, block);
            }
        }
        spool.append(block.flip());
        rows = 0;
    }
}
