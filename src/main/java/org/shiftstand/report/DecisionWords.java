package org.shiftstand.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import org.shiftstand.judge.Judgement;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.Decision.Claim;
import org.shiftstand.spec.Decision.Rule;

/**
 * Decision rules and claims in words, with the risk that they leave: ISO/IEC 17025:2017, 7.8.6.
 *
 * @param rule how a value and its bound become met or not met
 * @param claim what the statement is about
 * @param risk of a false accept and a false reject
 */
record DecisionWords(String rule, String claim, String risk) {
    static DecisionWords of(Judgement judgement) {
        Map<Decision, List<String>> clauses = new LinkedHashMap<>();
        for (ClauseResult result : judgement.clauses()) {
            clauses.computeIfAbsent(result.clause().decision(), d -> new ArrayList<>())
                    .add(result.clause().id());
        }
        if (clauses.isEmpty()) {
            clauses.put(judgement.spec().decision(), List.of());
        }
        return new DecisionWords(
                told(clauses, DecisionWords::rule),
                told(clauses, DecisionWords::claim),
                told(clauses, DecisionWords::risk));
    }

    /** Once where all clauses have the same words, else with the clauses that they hold for. */
    private static String told(Map<Decision, List<String>> clauses, Function<Decision, String> words) {
        Map<String, Set<String>> byWords = new LinkedHashMap<>();
        clauses.forEach((decision, ids) -> byWords.computeIfAbsent(words.apply(decision), w -> new LinkedHashSet<>())
                .addAll(ids));
        if (byWords.size() == 1) {
            return byWords.keySet().iterator().next();
        }
        List<String> told = new ArrayList<>();
        byWords.forEach((text, ids) -> told.add(text + " [for " + String.join(", ", ids) + "]"));
        return String.join("; ", told);
    }

    private static String rule(Decision decision) {
        return switch (decision.rule()) {
            case SIMPLE ->
                "simple: a value inside its bound or on it is met, one outside is not met; no guard band is taken off"
                        + " for measurement uncertainty";
            case GUARDED ->
                "guarded: met inside the bound by a guard band, not met outside it by one, no verdict between; the band"
                        + " is "
                        + (decision.falseAccept().isPresent()
                                ? "that of a wanted false-accept risk of "
                                        + percent(decision.falseAccept().getAsDouble())
                                : "the expanded uncertainty at " + percent(decision.confidence()))
                        + ", and without an uncertainty there is no verdict";
        };
    }

    private static String claim(Decision decision) {
        return switch (decision.claim()) {
            case OBSERVED ->
                "observed: the statement is about the shifts that were recorded, not about what the unit does in the"
                        + " long run";
            case PROCESS ->
                "process: the statement is about the unit's long-run value, of which the recorded shifts are a sample;"
                        + " met only where its confidence limit at " + percent(decision.confidence())
                        + " is inside the bound, not met only where the opposite one is outside";
        };
    }

    private static String risk(Decision decision) {
        if (decision.claim() == Claim.PROCESS) {
            return "false accept and false reject of at most " + percent(1 - decision.confidence())
                    + " a clause, that of its confidence limits";
        }
        if (decision.rule() == Rule.GUARDED) {
            // JCGM 106:2012, 8.3.2: with a guard band of U the risk of a value on the acceptance limit is half of 1 - p
            return "false accept and false reject of at most "
                    + percent(decision.falseAccept().orElse((1 - decision.confidence()) / 2))
                    + ", reached by a measured value on the edge of its guard band (JCGM 106)";
        }
        // JCGM 106:2012, 8.2: simple acceptance; a symmetric distribution about a value on its bound
        return "false accept or false reject of up to 50 %, reached by a measured value on its bound; it falls with the"
                + " margin, counted in standard uncertainties (simple acceptance, JCGM 106)";
    }

    private static String percent(double share) {
        return Figures.asWritten(share * 100).replace(Figures.NO_BREAK, " ") + " %";
    }
}
