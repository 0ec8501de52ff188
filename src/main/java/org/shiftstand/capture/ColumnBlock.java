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
        switch (kind) {
            case INT16 -> {
                short[] shorts = stage.shorts;
                for (int i = 0; i < n; i++) {
                    shorts[i] = (short) mantissa[i];
                }
                put(shorts, n, out);
            }
            case DELTA16 -> {
                short[] shorts = stage.shorts;
                out.putLong(mantissa[0]);
                shorts[0] = 0;
                for (int i = 1; i < n; i++) {
                    shorts[i] = (short) (mantissa[i] - mantissa[i - 1]);
                }
                put(shorts, n, out);
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

    private static void put(short[] shorts, int n, ByteBuffer out) {
        out.slice().order(out.order()).asShortBuffer().put(shorts, 0, n);
        out.position(out.position() + 2 * n);
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
        byte first = decimals[0];
        int unlike = 0;
        int any = 0;
        for (int i = 0; i < n; i++) { // bits only: the compiler makes it a vector loop
            unlike |= decimals[i] ^ first;
            any |= decimals[i];
        }
        if (any < 0) {
            return -1;
        }
        if (unlike == 0) {
            return first;
        }
        int most = 0;
        for (int i = 0; i < n; i++) {
            most = Math.max(most, decimals[i]);
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

    /** A whole number fits into 16 bits where no bit beyond is left once it is moved to 0 and up; 32 bits likewise. */
    private static byte kind(long[] mantissa, int n) {
        long beyondShort = 0;
        long beyondInt = 0;
        long stepsBeyondShort = 0;
        for (int i = 0; i < n; i++) { // bits only: the compiler makes it a vector loop
            beyondShort |= (mantissa[i] - Short.MIN_VALUE) & ~0xffffL;
            beyondInt |= (mantissa[i] - Integer.MIN_VALUE) & ~0xffff_ffffL;
        }
        for (int i = 1; i < n; i++) {
            stepsBeyondShort |= (mantissa[i] - mantissa[i - 1] - Short.MIN_VALUE) & ~0xffffL;
        }
        if (beyondShort == 0) {
            return INT16;
        }
        if (stepsBeyondShort == 0) {
            return DELTA16;
        }
        return beyondInt == 0 ? INT32 : DOUBLE;
    }
}
