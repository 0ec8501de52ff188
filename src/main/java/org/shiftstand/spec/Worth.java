package org.shiftstand.spec;

import java.util.List;
import org.shiftstand.stats.Persistence;

/**
 * How many shifts a shift is worth where values follow each other over cycles: a unit that creeps about slowly shows less in
 * a hundred cycles than one that scatters afresh each time.
 */
final class Worth {
    /** One-sided 5 % point of the normal distribution. */
    private static final double SIGNIFICANT = 1.645;

    private Worth() {}

    /**
     * Effective over actual number of shifts, above 0 to 1, of all groups together: few values each would not tell.
     *
     * <p>(1 − φ)/(1 + φ) of a first-order process, φ by {@link Persistence} over the cycles of each sprocket and direction;
     * 1 where φ is not significantly above 0: of N independent values it scatters by about √(2/N).
     */
    static double of(Clause clause, List<GroupValues> values) {
        if (clause.outcome().isPresent() || clause.decision().claim() != Decision.Claim.PROCESS) {
            return 1;
        }
        List<double[]> series = values.stream()
                .flatMap(group -> group.natural().stream())
                .map(GroupValues.Natural::values)
                .filter(group -> group.length >= 3)
                .toList();
        int n = series.stream().mapToInt(group -> group.length).sum();
        Persistence persistence = Persistence.of(series);
        boolean follows = n > 0 && persistence.phi() > SIGNIFICANT * Math.sqrt(2.0 / n);
        return follows ? 1 / persistence.ofSums() : 1;
    }
}
