package org.shiftstand.stats;

/** Refuses what is no number. */
final class Finite {
    private Finite() {}

    /** @throws IllegalArgumentException where a value is NaN or infinite; says which */
    static void check(double... values) {
        for (int i = 0; i < values.length; i++) {
            if (!Double.isFinite(values[i])) {
                throw new IllegalArgumentException("only finite values are taken: value[" + i + "]=" + values[i]);
            }
        }
    }
}
