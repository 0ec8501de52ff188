package org.shiftstand.planning;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.shiftstand.planning.Fault.Pair;
import org.shiftstand.planning.ShiftMaker.Placed;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Supply;
import org.shiftstand.spec.Verdict;

/**
 * Judges one clause on made-up runs of one plan.
 *
 * <p>A fault stands in one place, the shifts of the group that is nearest to its bound, unless it is to stand everywhere.
 * Where each group stands for itself, the others are judged once a repetition and only the faulty place again at each size
 * of the fault: the same verdicts for a fraction of the work.
 */
final class ClauseTrials {
    private final Spec spec;
    private final Optional<Profile> profile;
    private final ShiftMaker maker;
    private final Fault none;
    private final List<Placed> faulty;
    private final List<Placed> others;
    private final Map<Integer, Verdict> ofTheOthers = new HashMap<>();

    /** @param everywhere whether a fault stands in every group */
    ClauseTrials(
            Spec whole, Clause clause, Profile profile, SoundUnit unit, List<PlannedShift> plan, boolean everywhere) {
        this.spec = whole.only(clause);
        this.profile = Optional.of(profile);
        this.maker = new ShiftMaker(profile, unit, whole.bandDeg(), wanted(List.of(clause)), wrong(clause));
        List<PlannedShift> selected = Supply.selected(clause, plan, this.profile);
        Set<PlannedShift> taken = Set.copyOf(selected);
        List<Placed> placed =
                placed(plan).stream().filter(p -> taken.contains(p.shift())).toList();
        Set<Pair> place = everywhere ? pairs(selected) : worstPlace(clause, selected, placed);
        int cycles = plan.stream().mapToInt(PlannedShift::cycle).max().orElse(0);
        this.none = new Fault(clause.measure().isEmpty() ? Worsening.SHARE : Worsening.BIAS, 1, 0, place, cycles);
        boolean alone = groupsStandAlone(clause);
        this.faulty = placed.stream().filter(p -> !alone || none.at(p.shift())).toList();
        this.others = placed.stream().filter(p -> alone && !none.at(p.shift())).toList();
    }

    /** Whether the verdict on one group never depends on another group. */
    private static boolean groupsStandAlone(Clause clause) {
        return clause.decision().claim() == Decision.Claim.OBSERVED; // of a process many groups share one risk
    }

    static List<Placed> placed(List<PlannedShift> plan) {
        return IntStream.range(0, plan.size())
                .mapToObj(i -> new Placed(i, plan.get(i)))
                .toList();
    }

    /** Every measure that some clause judges. */
    static Set<Measure> wanted(List<Clause> clauses) {
        Set<Measure> wanted = EnumSet.noneOf(Measure.class);
        clauses.forEach(clause -> clause.measure().ifPresent(wanted::add));
        return wanted;
    }

    /** An outcome that the clause holds against a unit where it does not hold a landed shift against it, or else. */
    private static Outcome wrong(Clause clause) {
        return clause.outcome()
                .flatMap(test -> Arrays.stream(Outcome.values())
                        .filter(outcome -> outcome != Outcome.UNKNOWN)
                        .filter(outcome -> test.counts(outcome) != test.counts(Outcome.LANDED))
                        .findFirst())
                .orElse(Outcome.MISSED);
    }

    private static Set<Pair> pairs(List<PlannedShift> shifts) {
        return shifts.stream().map(Pair::of).collect(Collectors.toUnmodifiableSet());
    }

    /** Where a unit that scatters evenly is nearest to failing; of several groups alike the first. */
    private Set<Pair> worstPlace(Clause clause, List<PlannedShift> selected, List<Placed> placed) {
        List<Supply.Group> groups =
                Supply.groups(clause, selected, profile.orElseThrow().sprockets());
        ClauseResult even = judge(placed, Scores.EVEN, Optional.empty());
        Optional<Map<String, String>> worst = even.groups().stream()
                .filter(group -> group.margin().isPresent())
                .min(java.util.Comparator.comparingDouble(
                        group -> round(group.margin().getAsDouble())))
                .map(GroupResult::key);
        return groups.stream()
                .filter(group -> worst.isEmpty() || worst.get().equals(group.key()))
                .findFirst()
                .map(group -> pairs(group.shifts()))
                .orElse(pairs(selected));
    }

    /** Margins that differ by rounding only are alike. */
    private static double round(double margin) {
        return Math.rint(margin * 1e6) / 1e6;
    }

    /** Whether the clause tells how far values lie apart, wherever they lie. */
    boolean aboutSpread() {
        return spec.clauses().get(0).statistic().kind().spread();
    }

    /** Nothing is wrong, in the place where something may be. */
    Fault none() {
        return none;
    }

    /** The clause's verdict on one unit in one repetition. */
    Verdict verdict(Fault fault, long seed, int repetition) {
        Scores scores = Scores.of(seed, repetition);
        Verdict verdict = judge(faulty, scores, Optional.of(fault)).verdict();
        return others.isEmpty()
                ? verdict
                : verdict.and(ofTheOthers.computeIfAbsent(
                        repetition, r -> judge(others, scores, Optional.empty()).verdict()));
    }

    /** The clause's verdict on a unit that scatters as these scores say, in the faulty place alone. */
    Verdict verdict(Fault fault, Scores scores) {
        return judge(faulty, scores, Optional.of(fault)).verdict();
    }

    /** Verdicts on many units alike. */
    Tally tally(Fault fault, long seed, int repetitions) {
        Tally tally = Tally.NONE;
        for (int i = 0; i < repetitions; i++) {
            tally = tally.plus(verdict(fault, seed, i));
        }
        return tally;
    }

    /** How many shifts stand in the place where a fault may be. */
    List<PlannedShift> place() {
        return faulty.stream().map(Placed::shift).filter(none::at).toList();
    }

    /** Why a sound unit that scatters evenly does not pass; empty where it does. */
    Optional<String> neverPasses() {
        ClauseResult result = judge(faulty, Scores.EVEN, Optional.empty());
        return result.verdict() == Verdict.PASS ? Optional.empty() : Optional.of(result.reason());
    }

    private ClauseResult judge(List<Placed> shifts, Scores scores, Optional<Fault> fault) {
        return Evaluation.evaluate(
                        spec,
                        maker.make(shifts, scores, 1, fault),
                        profile,
                        shifts.stream().map(Placed::shift).toList())
                .get(0);
    }
}
