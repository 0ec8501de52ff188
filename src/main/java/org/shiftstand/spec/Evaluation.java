package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.Budgets;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.ShiftTable;

/** Judges a shift table by a spec: pure, one result a clause, in the order of the spec. */
public final class Evaluation {
    private final ShiftTable table;
    private final Optional<Profile> profile;
    private final List<PlannedShift> expected;
    private final Optional<Budgets> budgets;

    private Evaluation(
            ShiftTable table, Optional<Profile> profile, List<PlannedShift> expected, Optional<Budgets> budgets) {
        this.table = table;
        this.profile = profile;
        this.expected = expected;
        this.budgets = budgets;
    }

    /**
     * Judges every clause.
     *
     * <p>Groups come from what was expected, not only from what happened: an expected group without shifts has no
     * verdict. Shifts of cycle 0 (homing before the script) belong to no clause.
     *
     * @param profile what the shifts were numbered and aligned by; without one, landing errors show spread only
     * @param expected what the script planned; for a capture without a script each pair once, with cycle 0
     * @param budgets uncertainty of measurement of single shifts, where it is known
     */
    public static List<ClauseResult> evaluate(
            Spec spec,
            ShiftTable table,
            Optional<Profile> profile,
            List<PlannedShift> expected,
            Optional<Budgets> budgets) {
        Evaluation evaluation = new Evaluation(table, profile, expected, budgets);
        return spec.clauses().stream().map(evaluation::judge).toList();
    }

    /** As above, with nothing known of the uncertainty of measurement. */
    public static List<ClauseResult> evaluate(
            Spec spec, ShiftTable table, Optional<Profile> profile, List<PlannedShift> expected) {
        return evaluate(spec, table, profile, expected, Optional.empty());
    }

    /** Any fail is a fail, else any no verdict is no verdict, else pass; no clauses at all decide nothing. */
    public static Verdict verdict(List<ClauseResult> clauses) {
        return clauses.stream().map(ClauseResult::verdict).reduce(Verdict::and).orElse(Verdict.NO_VERDICT);
    }

    private ClauseResult judge(Clause clause) {
        if (clause.statistic().kind() == Statistic.Kind.EQUIVALENT_TO) {
            return withoutBase(clause);
        }
        List<Group> groups = Group.of(clause, table, expected);
        List<GroupValues> values =
                groups.stream().map(group -> GroupValues.of(clause, group)).toList();
        GroupJudge judge = new GroupJudge(clause, unmeasurable(clause), budgets, Worth.of(clause, values));
        List<GroupResult> results = new ArrayList<>();
        boolean selected = false;
        for (int i = 0; i < values.size(); i++) {
            Group group = groups.get(i);
            selected |= values.get(i).selected() || group.shifts().isEmpty();
            results.add(judge.judge(group.key(), values.get(i)));
        }
        if (!selected) {
            return nothing(clause, results);
        }
        if (clause.decision().claim() == Decision.Claim.PROCESS) {
            results = ManyGroups.corrected(clause, results);
        }
        Verdict verdict =
                results.stream().map(GroupResult::verdict).reduce(Verdict::and).orElse(Verdict.NO_VERDICT);
        GroupResult speaks = speaks(results, verdict);
        Optional<GroupResult> worst = worst(results, verdict);
        return new ClauseResult(
                clause,
                verdict,
                reason(results, verdict, speaks),
                Figures.shown(clause),
                worst.map(GroupResult::value).orElse(OptionalDouble.empty()),
                worst.map(GroupResult::margin).orElse(OptionalDouble.empty()),
                results,
                remarks(clause, results, values));
    }

    /** One run alone cannot show that nothing changed. */
    private static ClauseResult withoutBase(Clause clause) {
        return new ClauseResult(
                clause,
                Verdict.NO_VERDICT,
                "is about a change from a base run, and there is none here; compare two runs: shiftstand compare BASE"
                        + " CANDIDATE --spec SPEC",
                Figures.shown(clause),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                List.of(),
                List.of());
    }

    private static ClauseResult nothing(Clause clause, List<GroupResult> results) {
        int notApplicable =
                results.stream().mapToInt(GroupResult::notApplicable).sum();
        String reason = notApplicable == 0
                ? "no shift is selected: nothing to judge"
                : clause.measureKey() + " applies to none of the " + notApplicable
                        + " selected shifts: nothing to judge";
        return new ClauseResult(
                clause,
                Verdict.NO_VERDICT,
                reason,
                Figures.shown(clause),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                results,
                List.of());
    }

    /** The least margin: among the failing groups where there are some, else among all that have one. */
    private static Optional<GroupResult> worst(List<GroupResult> results, Verdict verdict) {
        return results.stream()
                .filter(group -> group.margin().isPresent())
                .filter(group -> verdict != Verdict.FAIL || group.verdict() == Verdict.FAIL)
                .min(Comparator.comparingDouble(group -> group.margin().getAsDouble()));
    }

    /** The group whose reason is the clause's: the worst, or where the evidence does not decide the first that lacks it. */
    private static GroupResult speaks(List<GroupResult> results, Verdict verdict) {
        if (verdict == Verdict.NO_VERDICT) {
            return results.stream()
                    .filter(group -> group.verdict() == Verdict.NO_VERDICT)
                    .findFirst()
                    .orElseThrow();
        }
        return worst(results, verdict).orElse(results.get(0));
    }

    private static String reason(List<GroupResult> results, Verdict verdict, GroupResult speaks) {
        long alike =
                results.stream().filter(group -> group.verdict() == verdict).count();
        if (verdict == Verdict.PASS) {
            return (results.size() > 1 ? "closest is " : "") + speaks.reason();
        }
        if (alike == 1) {
            return speaks.reason();
        }
        return speaks.reason() + "; " + alike + " of " + results.size() + " groups "
                + (verdict == Verdict.FAIL ? "fail" : "have no verdict");
    }

    /** Landing errors from a sprocket's own centre show spread; where they lie cannot be seen in them. */
    private Optional<String> unmeasurable(Clause clause) {
        if (aligned() || !clause.measure().equals(Optional.of(Measure.LANDING_ERROR))) {
            return Optional.empty();
        }
        boolean location = switch (clause.statistic().kind()) {
            case MEAN, MEDIAN -> true;
            // without any profile these can only be meant about the centre, with one about the nominal position
            case EVERY, MINIMUM, MAXIMUM, PERCENTILE, TOLERANCE_INTERVAL, CAPABILITY, FIRST_FAILURE ->
                profile.isPresent();
            case STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    COUNT,
                    PROPORTION,
                    REPEATABILITY,
                    REVERSAL,
                    DRIFT,
                    CHANGE_POINT,
                    EQUIVALENT_TO -> false;
        };
        String subject = clause.statistic().kind() == Statistic.Kind.EVERY
                ? "landing errors are"
                : clause.statistic().kind().word() + " of landing errors is";
        String why = profile.isPresent() ? "while the profile is not aligned" : "without a profile";
        return location
                ? Optional.of(subject + " not measured " + why
                        + ": they are counted from the sprocket's own centre and show spread only")
                : Optional.empty();
    }

    private boolean aligned() {
        return profile.isPresent()
                && (table.originMeasured() || table.alignmentDeg().isPresent());
    }

    private List<String> remarks(Clause clause, List<GroupResult> results, List<GroupValues> values) {
        List<String> remarks = new ArrayList<>(StatisticRemarks.of(clause, results, values, budgets));
        if (bearsOnTheOrigin(clause) && !table.originMeasured()) {
            remarks.add(
                    table.alignmentDeg().isPresent()
                            ? "the origin is aligned to the profile, not measured: a bias common to all sprockets cannot be seen"
                            : "the origin is arbitrary: no profile, homing or calibration fixes it");
        }
        if (!aligned() && clause.measure().equals(Optional.of(Measure.LANDING_ERROR))) {
            remarks.add("landing errors are counted from each sprocket's own centre: they show spread only");
        }
        int displaced = results.stream().mapToInt(GroupResult::displaced).sum();
        if (displaced > 0) {
            remarks.add(Figures.shifts(displaced)
                    + (displaced == 1
                            ? " did not start on its sprocket and is left out"
                            : " did not start on their sprockets and are left out"));
        }
        int notApplicable =
                results.stream().mapToInt(GroupResult::notApplicable).sum();
        if (notApplicable > 0) {
            remarks.add(clause.measureKey() + " does not apply to " + Figures.shifts(notApplicable)
                    + ", outside the selection");
        }
        return remarks;
    }

    /** Whether a shift of all angles by one amount would change the value. */
    private static boolean bearsOnTheOrigin(Clause clause) {
        return clause.statistic().kind().placed()
                && clause.measure()
                        .map(measure -> measure == Measure.LANDING
                                || measure == Measure.LANDING_ERROR
                                || measure == Measure.EXTREME
                                || measure == Measure.CLEARANCE)
                        .orElse(false);
    }
}
