package org.shiftstand.stats;

/**
 * Pettitt's test for one change of level in values in their order.
 *
 * <p>U(k) = 2 Σ ranks of the first k values − k(n + 1), alike values sharing their ranks; K is the largest |U|, the change
 * lies after the first k that has it. p = 2 exp(−6K² / (f(n³ + n²))), two-sided, never above 1; some tools print half of it.
 * It is good for p below about 0.5. A plain trend is found as a change as well: look at both tests.
 * Source: A. N. Pettitt, J. R. Stat. Soc. C 28, 126–135, 1979.
 *
 * <p>f, at least 1, is by how much the variance of sums grows where values follow their predecessors: sums of ranks then
 * wander √f times as far.
 *
 * @param n how many values
 * @param k largest |U|, K
 * @param after how many values lie before the change, 1…n − 1; 0 where K is 0
 * @param rises whether values after it rank higher
 */
public record Pettitt(int n, double k, int after, boolean rises, double inflation, double p) {
    /** For values that are independent from one to the next; finite, in their order, not changed. */
    public static Pettitt of(double... values) {
        Finite.check(values);
        int n = values.length;
        double[] ranks = Ordered.ranks(values);
        double u = 0;
        double largest = 0;
        int after = 0;
        for (int i = 0; i < n - 1; i++) {
            u += 2 * ranks[i] - (n + 1);
            if (Math.abs(u) > Math.abs(largest)) {
                largest = u;
                after = i + 1;
            }
        }
        return tested(n, Math.abs(largest), after, largest < 0, 1);
    }

    /** The same K where sums have so many times the variance. */
    public Pettitt inflatedBy(double factor) {
        if (!(factor >= 1)) {
            throw new IllegalArgumentException("a variance is inflated by 1 or more: factor=" + factor);
        }
        return tested(n, k, after, rises, factor);
    }

    private static Pettitt tested(int n, double k, int after, boolean rises, double inflation) {
        double cube = Math.pow(n, 3) + Math.pow(n, 2);
        double p = k == 0 ? 1 : Math.min(1, 2 * Math.exp(-6 * k * k / (inflation * cube)));
        return new Pettitt(n, k, after, rises, inflation, p);
    }
}
