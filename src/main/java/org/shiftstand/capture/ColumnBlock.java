package org.shiftstand.capture;

import java.nio.ByteBuffer;

/**
 * One column of one spooled block: the smallest form that gives back every double bit for bit.
 *
 * <pre>
 * kind (1 byte), decimals (1 byte), then
 *   CONSTANT  the value, 8 bytes
 *   INT16     n mantissas, 2 bytes each:  value = mantissa / 10^decimals
 *   DELTA16   first mantissa, 8 bytes; n steps, 2 bytes each (the first is 0)
 *   INT32     n mantissas, 4 bytes each
 *   DOUBLE    n values, 8 bytes each
 * </pre>
 */
final class ColumnBlock {
    static final byte CONSTANT = 0;
    static final byte INT16 = 1;
    static final byte DELTA16 = 2;
    static final byte INT32 = 3;
    static final byte DOUBLE = 4;

    private ColumnBlock() {}

    /** Most bytes that one column of {@code rows} rows takes. */
    static int maxBytes(int rows) {
        return 2 + 8 + 8 * rows;
    }

    static void write(RowStage stage, int column, ByteBuffer out) {
        double[] value = stage.value[column];
        int n = stage.rows;
        if (isConstant(value, n)) {
            out.put(CONSTANT).put((byte) 0).putDouble(value[0]);
            return;
        }
        long[] mantissa = stage.mantissa[column];
        int decimals = commonDecimals(mantissa, stage.decimals[column], n);
        byte kind = decimals < 0 ? DOUBLE : kind(mantissa, n);
        out.put(kind).put((byte) Math.max(0, decimals));
        int at = out.position();
        switch (kind) {
            case INT16 -> {
                for (int i = 0; i < n; i++) {
                    out.putShort(at + 2 * i, (short) mantissa[i]);
                }
                out.position(at + 2 * n);
            }
            case DELTA16 -> {
                out.putLong(mantissa[0]);
                out.putShort((short) 0);
                for (int i = 1; i < n; i++) {
                    out.putShort((short) (mantissa[i] - mantissa[i - 1]));
                }
            }
            case INT32 -> {
                for (int i = 0; i < n; i++) {
                    out.putInt((int) mantissa[i]);
                }
            }
            default -> {
                for (int i = 0; i < n; i++) {
                    out.putDouble(value[i]);
                }
            }
        }
    }

    private static boolean isConstant(double[] value, int n) {
        long first = Double.doubleToRawLongBits(value[0]); // bits: 0.0 and −0.0 differ
        for (int i = 1; i < n; i++) {
            if (Double.doubleToRawLongBits(value[i]) != first) {
                return false;
            }
        }
        return true;
    }

    /** Brings all mantissas to one number of decimals, in place; −1 where that loses a value. */
    private static int commonDecimals(long[] mantissa, byte[] decimals, int n) {
        int most = 0;
        boolean mixed = false;
        for (int i = 0; i < n; i++) {
            if (decimals[i] < 0) {
                return -1;
            }
            mixed |= decimals[i] != decimals[0];
            most = Math.max(most, decimals[i]);
        }
        if (!mixed) {
            return most;
        }
        for (int i = 0; i < n; i++) {
            for (int k = decimals[i]; k < most; k++) {
                mantissa[i] *= 10;
                if (Math.abs(mantissa[i]) > Decimal.EXACT) {
                    return -1;
                }
            }
            decimals[i] = (byte) most;
        }
        return most;
    }

    private static byte kind(long[] mantissa, int n) {
        boolean shorts = true;
        boolean ints = true;
        boolean steps = true;
        for (int i = 0; i < n; i++) {
            shorts &= mantissa[i] == (short) mantissa[i];
            ints &= mantissa[i] == (int) mantissa[i];
            long step = i == 0 ? 0 : mantissa[i] - mantissa[i - 1];
            steps &= step == (short) step;
        }
        if (shorts) {
            return INT16;
        }
        if (steps) {
            return DELTA16;
        }
        return ints ? INT32 : DOUBLE;
    }
}
