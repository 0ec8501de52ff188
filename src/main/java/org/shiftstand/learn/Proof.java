package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.judge.Plan;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Supply;
import org.shiftstand.spec.Verdict;

/**
 * Whether the draft spec passes the shifts of one source that nothing was learned from.
 *
 * @param source its name
 * @param shifts held back
 * @param verdict empty where nothing was held back
 * @param reason in words
 * @param clauses results of those clauses that the source can show
 * @param notShown ids of clauses that select no shift the source shows: not judged here
 */
public record Proof(
        String source,
        int shifts,
        Optional<Verdict> verdict,
        String reason,
        List<ClauseResult> clauses,
        List<String> notShown) {
    public Proof {
        clauses = List.copyOf(clauses);
        notShown = List.copyOf(notShown);
    }

    /**
     * Judges the draft on what was held back.
     *
     * @param spec the draft, read
     * @param profile the learned one
     */
    public static Proof of(Spec spec, Profile profile, Remeasured source) {
        ShiftTable held = source.heldBack();
        if (held.shifts().isEmpty()) {
            return new Proof(
                    source.name(),
                    0,
                    Optional.empty(),
                    "nothing was held back: it takes three cycles or more",
                    List.of(),
                    List.of());
        }
        List<PlannedShift> plan = Plan.seen(source.table());
        List<Clause> judged = new ArrayList<>();
        List<String> notShown = new ArrayList<>();
        for (Clause clause : spec.clauses()) {
            if (Supply.selected(clause, plan, Optional.of(profile)).isEmpty()) {
                notShown.add(clause.id());
            } else {
                judged.add(clause);
            }
        }
        List<ClauseResult> results = Evaluation.evaluate(only(spec, judged), held, Optional.of(profile), plan);
        Verdict verdict = Evaluation.verdict(results);
        return new Proof(
                source.name(),
                held.shifts().size(),
                Optional.of(verdict),
                reason(results, verdict, held.shifts().size(), notShown.size()),
                results,
                notShown);
    }

    private static Spec only(Spec spec, List<Clause> clauses) {
        return new Spec(
                spec.name(),
                spec.version(),
                spec.title(),
                spec.profile(),
                spec.bandDeg(),
                spec.stallCurrentA(),
                spec.decision(),
                clauses,
                spec.sha256());
    }

    private static String reason(List<ClauseResult> results, Verdict verdict, int shifts, int notShown) {
        String on = " on " + Provenance.shifts(shifts) + " held back";
        String apart = notShown == 0 ? "" : "; " + notShown + " more are about shifts that it does not show";
        if (verdict == Verdict.PASS) {
            return "all " + results.size() + " clauses pass" + on + apart;
        }
        List<ClauseResult> deciding =
                results.stream().filter(r -> r.verdict() == verdict).toList();
        ClauseResult first = deciding.get(0);
        return deciding.size() + " of " + results.size() + " clauses "
                + (verdict == Verdict.FAIL
                        ? deciding.size() == 1 ? "fails" : "fail"
                        : deciding.size() == 1 ? "has no verdict" : "have no verdict")
                + on + "; " + first.clause().id() + ": " + first.reason() + apart;
    }
}
