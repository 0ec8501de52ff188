package org.shiftstand.planning;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.shiftstand.planning.ShiftMaker.Placed;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Supply;
import org.shiftstand.spec.Verdict;

/**
 * Explains a spec: pure, seeded; clauses are worked on by as many threads as there are, which changes no figure.
 *
 * <p>Guard bands are not simulated: their width comes from the uncertainty of a run, of which samples are needed.
 */
public final class Explainer {
    private static final int STEPS = 10;
    /** Everything scatters so many times wider than in a sound unit. */
    private static final List<Double> SPREADS = List.of(1.0, 1.125, 1.25, 1.375, 1.5, 1.75, 2.0, 2.5, 3.0);

    private final Spec spec;
    private final Profile profile;
    private final Schedule schedule;
    private final Assumptions given;
    private final List<Spec> single;

    private Explainer(Spec spec, Profile profile, Schedule schedule, Assumptions given) {
        this.spec = spec;
        this.profile = profile;
        this.schedule = schedule;
        this.given = given;
        this.single =
                spec.clauses().stream().map(Clause::unguarded).map(spec::only).toList();
    }

    /** What is demanded; without a profile nothing can be laid out, and no chance be known. */
    public static Explanation demands(Spec spec, Assumptions given) {
        List<ClauseExplanation> clauses = spec.clauses().stream()
                .map(clause -> ClauseExplanation.withoutCurve(
                        clause, clause.needed(), Optional.empty(), "no profile: nothing is known to be nominal"))
                .toList();
        return new Explanation(spec, Optional.empty(), Optional.empty(), 0, given, clauses, Optional.empty());
    }

    /**
     * What is demanded, how long it takes, and what the verdicts are worth.
     *
     * @param asItStands whether chances are about the procedure as it stands; else about as many cycles of it as supply
     *     every clause that can be supplied
     */
    public static Explanation explain(
            Spec spec, Profile profile, Schedule schedule, boolean asItStands, Assumptions given) {
        return new Explainer(spec, profile, schedule, given).explain(asItStands);
    }

    private Explanation explain(boolean asItStands) {
        List<ClauseNeeds> needs = spec.clauses().stream()
                .map(clause -> ClauseNeeds.of(clause, profile, schedule))
                .toList();
        int cycles = asItStands
                ? schedule.cycles()
                : needs.stream().flatMapToInt(n -> n.cycles().stream()).max().orElse(schedule.cycles());
        List<PlannedShift> plan = schedule.plan(cycles);
        List<ClauseExplanation> clauses = IntStream.range(0, needs.size())
                .parallel()
                .mapToObj(i -> explain(spec.clauses().get(i).unguarded(), needs.get(i), plan)
                        .about(spec.clauses().get(i)))
                .toList();
        return new Explanation(
                spec,
                Optional.of(profile),
                Optional.of(schedule),
                cycles,
                given,
                clauses,
                plan.isEmpty() ? Optional.empty() : Optional.of(whole(plan)));
    }

    private ClauseExplanation explain(Clause clause, ClauseNeeds needs, List<PlannedShift> plan) {
        Optional<ClauseNeeds> known = Optional.of(needs);
        if (Supply.selected(clause, plan, Optional.of(profile)).isEmpty()) {
            return ClauseExplanation.withoutCurve(
                    clause, needs.each(), known, "the procedure makes no shift that it selects");
        }
        var trials = new ClauseTrials(spec, clause, profile, given.unit(), plan, given.everywhere());
        Optional<String> never = trials.neverPasses();
        if (never.isPresent()) {
            return ClauseExplanation.withoutCurve(
                    clause, needs.each(), known, "a sound unit does not pass: " + never.get());
        }
        var qualities = new Qualities(trials, given.seed());
        Optional<Qualities.Guarded> guarded = qualities.guarded();
        if (guarded.isEmpty()) {
            return ClauseExplanation.withoutCurve(
                    clause, needs.each(), known, "no bias, spread, reversal, drift or step was found that it tells");
        }
        Fault bad = guarded.get().turn().sized(guarded.get().bad());
        return new ClauseExplanation(
                clause,
                needs.each(),
                known,
                Optional.of(curve(clause, trials, qualities, guarded.get())),
                Optional.empty(),
                place(clause, trials),
                given.power().isPresent() && needs.cycles().isPresent()
                        ? Optional.of(Power.of(spec, clause, profile, schedule, given, needs, bad))
                        : Optional.empty());
    }

    private OperatingCurve curve(Clause clause, ClauseTrials trials, Qualities qualities, Qualities.Guarded guarded) {
        Fault fault = guarded.turn();
        List<OperatingCurve.Point> points = new ArrayList<>();
        for (double size : qualities.sizes(guarded, STEPS)) {
            points.add(new OperatingCurve.Point(
                    quality(clause, fault.sized(size)),
                    trials.tally(fault.sized(size), given.seed(), given.repetitions())));
        }
        Fault bad = fault.sized(guarded.bad());
        return new OperatingCurve(
                fault.worsening(),
                fault.sign(),
                unit(clause),
                quality(clause, fault.sized(0)),
                quality(clause, bad),
                points,
                trials.tally(bad, given.seed(), given.repetitions()));
    }

    /** The author's unit where the bound is in the measure's dimension; shares in percent. */
    private static Unit unit(Clause clause) {
        if (clause.measure().isEmpty()) {
            return Unit.PERCENT;
        }
        Unit ofMeasure = clause.measure().map(Measure::unit).orElseThrow();
        Unit ofBound = clause.bound().unit();
        return ofBound.dimension() == ofMeasure.dimension() ? ofBound : ofMeasure;
    }

    /** In the curve's unit: of a spread the whole standard deviation, else what is added. */
    private double quality(Clause clause, Fault fault) {
        double base = clause.measure()
                .map(given.unit()::sd)
                .map(sd -> sd * (fault.worsening() == Worsening.SPREAD ? 1 + fault.size() : fault.size()))
                .orElse(fault.size());
        return unit(clause).fromBase(base);
    }

    private String place(Clause clause, ClauseTrials trials) {
        List<Supply.Group> groups = Supply.groups(clause, trials.place(), profile.sprockets());
        return groups.size() == 1 && !groups.get(0).key().isEmpty()
                ? groups.get(0).words()
                : given.everywhere() ? "every group" : "all its shifts";
    }

    /** Ends with the first spread that no unit passes with: it only gets worse. */
    private WholeSpec whole(List<PlannedShift> plan) {
        var maker = new ShiftMaker(
                profile, given.unit(), spec.bandDeg(), ClauseTrials.wanted(spec.clauses()), Outcome.MISSED);
        List<Placed> placed = ClauseTrials.placed(plan);
        List<OperatingCurve.Point> points = new ArrayList<>();
        for (double spread : SPREADS) {
            Tally tally = IntStream.range(0, given.repetitions())
                    .parallel()
                    .mapToObj(i ->
                            verdict(maker.make(placed, Scores.of(given.seed(), i), spread, Optional.empty()), plan))
                    .reduce(Tally.NONE, Tally::plus, Tally::plus);
            points.add(new OperatingCurve.Point(spread, tally));
            if (tally.pass() == 0) {
                break;
            }
        }
        return new WholeSpec(points);
    }

    /** Clause by clause: after one that fails the others change nothing. */
    private Verdict verdict(ShiftTable table, List<PlannedShift> plan) {
        Verdict verdict = Verdict.PASS;
        for (Spec one : single) {
            verdict = verdict.and(Evaluation.verdict(Evaluation.evaluate(one, table, Optional.of(profile), plan)));
            if (verdict == Verdict.FAIL) {
                break;
            }
        }
        return verdict;
    }
}
