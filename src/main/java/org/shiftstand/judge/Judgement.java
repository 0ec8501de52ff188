package org.shiftstand.judge;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.angle.Correction;
import org.shiftstand.bench.Budgets;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.DriftAnalysis;
import org.shiftstand.spec.RunDrift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Verdict;

/**
 * A source measured and judged: everything that {@code result.json} and the report show.
 *
 * @param unit id, empty for a capture that does not say
 * @param identity further facts of the run in reading order: firmware, operator, rig, procedure, start in UTC …
 * @param runEnd why the run ended early, where it did
 * @param limitsFrom which mechanical limits were used: a sentence
 * @param counts shifts by outcome word, in the order of {@code Outcome}; only those seen
 * @param drift what happened over the cycles
 * @param notices everything a reader should be told once
 * @param circumstances what the report tells beside the results
 * @param budgets uncertainty of measurement of single shifts, where it is known
 */
public record Judgement(
        Verdict verdict,
        String reason,
        Optional<String> unit,
        Map<String, String> identity,
        SourceIdentity source,
        Spec spec,
        Optional<Profile> profile,
        Correction correction,
        ShiftTable table,
        Optional<String> runEnd,
        String limitsFrom,
        Map<String, Integer> counts,
        List<ClauseResult> clauses,
        List<String> notices,
        RunDrift drift,
        Circumstances circumstances,
        Optional<Budgets> budgets) {
    /** Drift is found in the table; of circumstances and uncertainty nothing is known. */
    public Judgement(
            Verdict verdict,
            String reason,
            Optional<String> unit,
            Map<String, String> identity,
            SourceIdentity source,
            Spec spec,
            Optional<Profile> profile,
            Correction correction,
            ShiftTable table,
            Optional<String> runEnd,
            String limitsFrom,
            Map<String, Integer> counts,
            List<ClauseResult> clauses,
            List<String> notices) {
        this(
                verdict,
                reason,
                unit,
                identity,
                source,
                spec,
                profile,
                correction,
                table,
                runEnd,
                limitsFrom,
                counts,
                clauses,
                notices,
                DriftAnalysis.of(table, clauses),
                Circumstances.unknown(),
                Optional.empty());
    }

    /**
     * The same with names in the place of their digests among the facts of the run.
     *
     * @param names by digest
     */
    public Judgement naming(Map<String, String> names) {
        Map<String, String> named = new LinkedHashMap<>();
        identity.forEach((fact, value) -> named.put(fact, names.getOrDefault(value, value)));
        return new Judgement(
                verdict,
                reason,
                unit,
                Collections.unmodifiableMap(named),
                source,
                spec,
                profile,
                correction,
                table,
                runEnd,
                limitsFrom,
                counts,
                clauses,
                notices,
                drift,
                circumstances,
                budgets);
    }

    /** The same in these circumstances. */
    public Judgement in(Circumstances now) {
        return new Judgement(
                verdict,
                reason,
                unit,
                identity,
                source,
                spec,
                profile,
                correction,
                table,
                runEnd,
                limitsFrom,
                counts,
                clauses,
                notices,
                drift,
                now,
                budgets);
    }

    /** The same with its budgets of uncertainty. */
    public Judgement with(Optional<Budgets> known) {
        return new Judgement(
                verdict,
                reason,
                unit,
                identity,
                source,
                spec,
                profile,
                correction,
                table,
                runEnd,
                limitsFrom,
                counts,
                clauses,
                notices,
                drift,
                circumstances,
                known);
    }
}
