package org.shiftstand.planning;

import java.util.List;
import java.util.Optional;
import org.shiftstand.spec.Clause;

/**
 * One clause, explained.
 *
 * @param needs shifts and time; empty without a profile, since nothing can be laid out
 * @param curve its operating characteristic; empty where there is none
 * @param noCurve why there is none
 * @param place where a fault stands, in words: {@code sprocket 4 inboard}
 * @param power how many cycles a wanted chance takes; empty where nobody asked
 */
public record ClauseExplanation(
        Clause clause,
        int each,
        Optional<ClauseNeeds> needs,
        Optional<OperatingCurve> curve,
        Optional<String> noCurve,
        String place,
        Optional<Power> power) {
    static ClauseExplanation withoutCurve(Clause clause, int each, Optional<ClauseNeeds> needs, String why) {
        return new ClauseExplanation(clause, each, needs, Optional.empty(), Optional.of(why), "", Optional.empty());
    }

    /** The same figures for the clause as it is written. */
    ClauseExplanation about(Clause written) {
        return new ClauseExplanation(written, each, needs, curve, noCurve, place, power);
    }

    /** Names of the clauses among some that no length of the procedure supplies. */
    static List<String> neverSupplied(List<ClauseExplanation> clauses) {
        return clauses.stream()
                .filter(c -> c.needs().flatMap(ClauseNeeds::never).isPresent())
                .map(c -> c.clause().id())
                .toList();
    }
}
