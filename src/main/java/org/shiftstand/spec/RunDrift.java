package org.shiftstand.spec;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.stats.Projection;

/**
 * What happened to a unit over the cycles of a run.
 *
 * @param cycles how many cycles have shifts
 * @param alpha probability that a unit without any drift shows some somewhere, at most
 * @param confidence of all intervals, two-sided
 * @param groups those looked at, in the order of measure, pair and supply
 * @param tooShort groups with fewer than {@link DriftAnalysis#LEAST_CYCLES} cycles with a value, not looked at
 * @param clauses groups of clauses that failed at some cycle or are expected to, in the order of the spec
 */
public record RunDrift(
        int cycles,
        double alpha,
        double confidence,
        List<DriftGroup> groups,
        int tooShort,
        List<ClauseCourse> clauses) {
    public RunDrift {
        groups = List.copyOf(groups);
        clauses = List.copyOf(clauses);
    }

    /**
     * One group of a clause over the cycles.
     *
     * @param clause id
     * @param key as in {@link GroupResult#key()}
     * @param firstFailed first cycle after which its value broke the bound, guard bands apart; for an estimator as soon as it had the
     *     shifts it needs
     * @param projected cycle at which a significant drift will make it break the bound, with its interval; only for what
     *     has not failed
     * @param driftGroup place in {@link RunDrift#groups()} of the drift that leads there
     */
    public record ClauseCourse(
            String clause,
            Map<String, String> key,
            OptionalInt firstFailed,
            Optional<Projection> projected,
            OptionalInt driftGroup) {}

    /** Nothing was looked at: too few cycles. */
    public static RunDrift none(int cycles) {
        return new RunDrift(cycles, DriftAnalysis.ALPHA, DriftAnalysis.CONFIDENCE, List.of(), 0, List.of());
    }

    /** Groups with a significant drift or step, the clearest first. */
    public List<DriftGroup> significant() {
        return groups.stream()
                .filter(DriftGroup::significant)
                .sorted(Comparator.comparingDouble(g -> Math.min(g.trendP(), g.changeP())))
                .toList();
    }
}
