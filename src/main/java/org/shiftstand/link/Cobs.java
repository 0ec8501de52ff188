package org.shiftstand.link;

import java.util.OptionalInt;

/**
 * Consistent Overhead Byte Stuffing: takes every 0x00 out of a frame, so that 0x00 can close it.
 *
 * <p>Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999. The stuffed bytes here are without the closing
 * 0x00.
 */
final class Cobs {
    private static final int LONGEST_RUN = 254;

    private Cobs() {}

    /** Most bytes that {@code n} bytes become: one code byte for each begun run of 254, at least one. */
    static int mostStuffed(int n) {
        return n + Math.max(1, (n + LONGEST_RUN - 1) / LONGEST_RUN);
    }

    /**
     * Stuffs the first {@code n} bytes of {@code raw}.
     *
     * @param out room for {@link #mostStuffed}, from {@code at}
     * @return how many bytes were written; a last run of exactly 254 gets no empty run behind it
     */
    static int stuff(byte[] raw, int n, byte[] out, int at) {
        int codeAt = at;
        int to = at + 1;
        for (int i = 0; i < n; i++) {
            if (raw[i] == 0) {
                out[codeAt] = (byte) (to - codeAt);
                codeAt = to++;
            } else {
                out[to++] = raw[i];
                if (to - codeAt == LONGEST_RUN + 1 && i + 1 < n) {
                    out[codeAt] = (byte) (LONGEST_RUN + 1);
                    codeAt = to++;
                }
            }
        }
        out[codeAt] = (byte) (to - codeAt);
        return to - at;
    }

    /**
     * Takes the stuffing off the first {@code n} bytes of {@code stuffed}, which hold no 0x00.
     *
     * @param out room for {@code n} bytes
     * @return how many bytes came out; empty where a code byte points behind the end
     */
    static OptionalInt unstuff(byte[] stuffed, int n, byte[] out) {
        int from = 0;
        int to = 0;
        while (from < n) {
            int code = stuffed[from++] & 0xFF;
            int run = code - 1;
            if (from + run > n) {
                return OptionalInt.empty();
            }
            System.arraycopy(stuffed, from, out, to, run);
            from += run;
            to += run;
            // a full run stands for no zero; nor does the end
            if (run < LONGEST_RUN && from < n) {
                out[to++] = 0;
            }
        }
        return OptionalInt.of(to);
    }
}
