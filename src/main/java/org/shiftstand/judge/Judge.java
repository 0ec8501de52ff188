package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.Budgets;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Verdict;

/**
 * Measures a source and judges it by a spec.
 *
 * <p>The same source, spec, profile and options give the same judgement to the last digit, whenever and wherever.
 */
public final class Judge {
    private Judge() {}

    /** Judges a case; see {@link Measuring#measure} for how the source is read. */
    public static Judged judge(SampleSource source, JudgeCase of) {
        return judge(source, of.spec(), of.profile(), of.options()).in(of.circumstances());
    }

    /** Judges; see {@link Measuring#measure} for how the source is read. */
    public static Judged judge(SampleSource source, Spec spec, Optional<Profile> profile, JudgeOptions options) {
        JudgeOptions banded = options.bandSet() ? options : options.withBandDeg(spec.bandDeg());
        boolean stallAsked = options.shifts().stallCurrentA().isEmpty()
                && spec.stallCurrentA().isPresent();
        JudgeOptions asked =
                stallAsked ? banded.withStallCurrentA(spec.stallCurrentA().getAsDouble()) : banded;
        Measurement measured = Measuring.measure(source, profile, asked);
        ShiftTable table = measured.table();
        List<PlannedShift> plan =
                options.plan().or(() -> profile.map(Plan::ofProfile)).orElseGet(() -> Plan.seen(table));
        Optional<Budgets> budgets =
                BudgetOfRun.of(options.bench(), measured.track().correction(), source, table);
        List<ClauseResult> clauses = Evaluation.evaluate(spec, table, profile, plan, budgets);
        Verdict verdict = Evaluation.verdict(clauses);
        Judgement judgement = new Judgement(
                verdict,
                reason(clauses, verdict),
                options.unit(),
                options.identity(),
                measured.source(),
                spec,
                profile,
                measured.track().correction(),
                table,
                options.runEnd(),
                limits(profile, options),
                counts(table),
                clauses,
                notices(measured, spec, options));
        return new Judged(judgement.with(budgets), measured.track());
    }

    /** The clause that decided, in its own words. */
    private static String reason(List<ClauseResult> clauses, Verdict verdict) {
        if (clauses.isEmpty()) {
            return "the spec has no clauses: nothing was demanded";
        }
        List<ClauseResult> deciding =
                clauses.stream().filter(clause -> clause.verdict() == verdict).toList();
        ClauseResult first = deciding.get(0);
        String told = told(first);
        return switch (verdict) {
            case PASS -> clauses.size() == 1 ? told : "all " + clauses.size() + " clauses pass";
            case FAIL -> among(deciding, clauses, "fails", "fail") + told;
            case NO_VERDICT -> among(deciding, clauses, "has no verdict", "have no verdict") + told;
        };
    }

    /** {@code landing-spread, sprocket 4 inboard: 15.8 deg, …}; without a group {@code all-land: 1 shift not landed, …}. */
    private static String told(ClauseResult clause) {
        boolean ofAGroup = clause.groups().stream()
                .anyMatch(group -> !group.key().isEmpty() && clause.reason().startsWith(group.reason()));
        return clause.clause().id() + (ofAGroup ? ", " : ": ") + clause.reason();
    }

    private static String among(List<ClauseResult> some, List<ClauseResult> all, String one, String more) {
        return all.size() == 1
                ? ""
                : some.size() + " of " + all.size() + " clauses " + (some.size() == 1 ? one : more) + "; ";
    }

    private static String limits(Optional<Profile> profile, JudgeOptions options) {
        Optional<String> known = profile.filter(p ->
                        p.outboardLimitDeg().isPresent() || p.inboardLimitDeg().isPresent())
                .map(p -> "mechanical limits of profile " + p.name() + " version " + p.version());
        return options.limitsFrom().or(() -> known).orElse("no mechanical limits are known: clearance is not measured");
    }

    /** By outcome, in its order; homing apart. */
    private static Map<String, Integer> counts(ShiftTable table) {
        Map<String, Integer> counts = new LinkedHashMap<>();
        for (Outcome outcome : Outcome.values()) {
            int n = (int) table.shifts().stream()
                    .filter(shift -> shift.cycle() > 0 && shift.outcome() == outcome)
                    .count();
            if (n > 0) {
                counts.put(outcome.word(), n);
            }
        }
        return counts;
    }

    private static List<String> notices(Measurement measured, Spec spec, JudgeOptions options) {
        List<String> notices = new ArrayList<>();
        options.runEnd().ifPresent(reason -> notices.add("the run ended early: " + reason));
        notices.addAll(measured.notices());
        ShiftTable table = measured.table();
        if (table.alignmentDeg().isPresent() && !table.originMeasured()) {
            notices.add("angles are aligned to the profile, not measured from an origin: a bias common to all sprockets"
                    + " cannot be seen");
        }
        if (options.bandSet() && options.shifts().bandDeg() != spec.bandDeg()) {
            notices.add("the settle band was set to " + degrees(options.shifts().bandDeg()) + "; the spec asks for "
                    + degrees(spec.bandDeg()));
        }
        for (Evidence evidence : Evidence.values()) {
            long seen = table.shifts().stream()
                    .filter(shift -> shift.evidence() == evidence && !table.brokenOff(shift))
                    .count();
            if (evidence != Evidence.COMPLETE && seen > 0) {
                notices.add("evidence is not complete in " + seen + (seen == 1 ? " shift" : " shifts") + " ("
                        + evidence.word().replace('-', ' ') + "): what it touches is not measured");
            }
        }
        long homing = table.shifts().stream()
                .filter(shift -> shift.cycle() == 0 && !table.brokenOff(shift))
                .count();
        if (homing > 0) {
            notices.add(homing + (homing == 1 ? " request" : " requests")
                    + " before the first cycle brought the unit home;" + " no clause is about them");
        }
        long displaced = table.shifts().stream().filter(Shift::displaced).count();
        if (displaced > 0) {
            notices.add(displaced + (displaced == 1 ? " shift" : " shifts")
                    + " did not start on their sprocket (displaced): left out of landing and overtravel groups");
        }
        return notices.stream().distinct().toList();
    }

    private static String degrees(double deg) {
        return org.shiftstand.quantity.Decimal.text(deg) + " deg";
    }
}
