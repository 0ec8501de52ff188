package org.shiftstand.stats;

import java.util.Comparator;
import java.util.stream.IntStream;

/** Many tests at once, by Holm (Scandinavian Journal of Statistics 6, 65–70, 1979). */
public final class Holm {
    private Holm() {}

    /**
     * Adjusted p-values, in the order given: those at most α belong to hypotheses that are rejected while the chance of any
     * wrong rejection stays at most α, whatever the tests depend on each other.
     *
     * @param p each 0…1; not changed
     */
    public static double[] adjusted(double... p) {
        int m = p.length;
        for (int i = 0; i < m; i++) {
            if (!(p[i] >= 0 && p[i] <= 1)) {
                throw new IllegalArgumentException("a p-value lies in 0…1: p[" + i + "]=" + p[i]);
            }
        }
        int[] ascending = IntStream.range(0, m)
                .boxed()
                .sorted(Comparator.comparingDouble(i -> p[i]))
                .mapToInt(i -> i)
                .toArray();
        double[] adjusted = new double[m];
        double largest = 0;
        for (int rank = 0; rank < m; rank++) {
            int i = ascending[rank];
            largest = Math.max(largest, Math.min(1, (m - rank) * p[i]));
            adjusted[i] = largest;
        }
        return adjusted;
    }
}
