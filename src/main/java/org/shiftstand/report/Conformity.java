package org.shiftstand.report;

import java.util.List;
import org.shiftstand.judge.Judgement;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Verdict;

/**
 * The statement of conformity: ISO/IEC 17025:2017, 7.8.6.
 *
 * @param statement whether the spec is met, a sentence
 * @param covers which results it is about
 * @param spec what is met or not, with version and digest
 * @param met clauses that are met, in the spec's order
 * @param notMet clauses that are not met
 * @param undecided clauses of which the evidence does not decide
 * @param decision by which rule, about what, with which risk
 */
record Conformity(
        String statement,
        String covers,
        String spec,
        List<String> met,
        List<String> notMet,
        List<String> undecided,
        DecisionWords decision) {
    static Conformity of(Judgement judgement) {
        Spec spec = judgement.spec();
        return new Conformity(
                statement(judgement),
                covers(judgement),
                spec.name() + " version " + spec.version() + ", SHA-256 " + spec.sha256(),
                with(judgement, Verdict.PASS),
                with(judgement, Verdict.FAIL),
                with(judgement, Verdict.NO_VERDICT),
                DecisionWords.of(judgement));
    }

    private static String statement(Judgement judgement) {
        String subject = judgement.unit().map(id -> "Unit " + id).orElse("The unit, which is not named,");
        String spec = judgement.spec().name() + " version " + judgement.spec().version();
        return switch (judgement.verdict()) {
            case PASS -> subject + " meets " + spec + ": every clause of it is met";
            case FAIL -> subject + " does not meet " + spec;
            case NO_VERDICT ->
                "Whether " + subject.replaceFirst("^The unit", "the unit").replaceFirst("^Unit", "unit") + " meets "
                        + spec + " is not decided by the evidence";
        };
    }

    private static String covers(Judgement judgement) {
        int clauses = judgement.clauses().size();
        long shifts =
                judgement.table().shifts().stream().filter(Findings::scripted).count();
        return clauses == 0
                ? "no result: the spec has no clauses"
                : "the results of all clauses of the spec, " + clauses + ", over " + Figures.count(shifts, "shift")
                        + " in "
                        + (judgement.source().kind().equals("csv") ? "the capture " : "the run record ")
                        + judgement.source().name();
    }

    private static List<String> with(Judgement judgement, Verdict verdict) {
        return judgement.clauses().stream()
                .filter(result -> result.verdict() == verdict)
                .map(ClauseResult::clause)
                .map(clause -> clause.id())
                .toList();
    }

    /** {@code landing-spread, hold}; {@code all 16 clauses}; what to say where there are none. */
    String list(List<String> ids) {
        int all = met.size() + notMet.size() + undecided.size();
        if (ids.isEmpty()) {
            return "none";
        }
        return ids.size() == all && all > 1 ? "all " + all + " clauses" : String.join(", ", ids);
    }
}
