package org.shiftstand.stats;

import java.util.OptionalDouble;

/** How values of one series go with those before them. */
public final class Autocorrelation {
    private Autocorrelation() {}

    /**
     * r = Σ (yᵢ − ȳ)(yᵢ₊ₖ − ȳ) / Σ (yᵢ − ȳ)² (NIST/SEMATECH e-Handbook 1.3.5.12).
     *
     * @param values in their order; not changed
     * @param lag k, 1 or more
     * @return empty for values that are all the same, or not more than the lag
     */
    public static OptionalDouble of(double[] values, int lag) {
        if (lag < 1) {
            throw new IllegalArgumentException("a lag is 1 or more: lag=" + lag);
        }
        if (values.length <= lag) {
            return OptionalDouble.empty();
        }
        double mean = Sample.of(values).mean().orElseThrow();
        double together = 0;
        double all = 0;
        for (int i = 0; i < values.length; i++) {
            double off = values[i] - mean;
            all += off * off;
            together += i + lag < values.length ? off * (values[i + lag] - mean) : 0;
        }
        return all > 0 ? OptionalDouble.of(together / all) : OptionalDouble.empty();
    }
}
