package org.shiftstand.spec;

import java.util.List;
import org.shiftstand.stats.EffectiveSize;

/**
 * How many shifts a shift is worth where values follow each other over cycles: a unit that creeps about slowly shows less in
 * a hundred cycles than one that scatters afresh each time.
 */
final class Worth {
    private Worth() {}

    /**
     * Effective over actual number of shifts, above 0 to 1, of all groups together: few values each would not tell.
     *
     * <p>By {@link EffectiveSize} over the cycles of each sprocket and direction; 1 where nothing follows significantly.
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
        return EffectiveSize.of(series).share();
    }
}
