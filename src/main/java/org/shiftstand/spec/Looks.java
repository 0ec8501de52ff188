package org.shiftstand.spec;

import java.util.Comparator;
import java.util.stream.IntStream;

/** Many tests at once: p with regard to all of them. */
final class Looks {
    private Looks() {}

    /**
     * Adjusted p by S. Holm, Scand. J. Statist. 6, 65–70, 1979: of m, in ascending order, max over j ≤ i of (m − j)pⱼ. The
     * probability of any false one is at most alpha, however the tests depend on each other and whatever else is true.
     */
    static double[] adjusted(double[] p) {
        int[] order = IntStream.range(0, p.length)
                .boxed()
                .sorted(Comparator.comparingDouble(i -> p[i]))
                .mapToInt(Integer::intValue)
                .toArray();
        double[] adjusted = new double[p.length];
        double largest = 0;
        for (int i = 0; i < order.length; i++) {
            largest = Math.max(largest, Math.min(1, (p.length - i) * p[order[i]]));
            adjusted[order[i]] = largest;
        }
        return adjusted;
    }
}
