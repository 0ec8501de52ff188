package org.shiftstand.judge;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.bench.StudyResult;
import org.shiftstand.judge.ClauseAbility.Word;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Statistic.Settings;
import org.shiftstand.stats.Gum;
import org.shiftstand.stats.MeanRange;

/**
 * Holds what a gauge study found against the bounds of a spec.
 *
 * <p>Errors that differ from shift to shift (repeatability) reach a mean of n shifts by 1/√n, a spread in full; what a mounting
 * adds (reproducibility) is the same in all shifts of a run, so that spreads and differences do not have it.
 */
public final class ClauseAbilities {
    private static final double CONFIDENCE = 0.95;

    /** Of a median against a mean of normal values, large n. */
    private static final double MEDIAN_OVER_MEAN = Math.sqrt(Math.PI / 2);

    private final StudyResult study;
    private final double mean;

    private ClauseAbilities(StudyResult study, double mean) {
        this.study = study;
        this.mean = mean;
    }

    /**
     * Of every clause on the measure that was studied; none where the spec has no such clause.
     *
     * @param mean of all values of the study, in the measure's unit: a bound on one side alone is held against it
     */
    public static List<ClauseAbility> of(StudyResult study, double mean, Spec spec) {
        var abilities = new ClauseAbilities(study, mean);
        return spec.clauses().stream()
                .filter(clause -> clause.measureKey().equals(study.measure()))
                .map(abilities::of)
                .toList();
    }

    private ClauseAbility of(Clause clause) {
        double n = Math.max(2, clause.needed());
        return switch (clause.statistic().kind()) {
            case EVERY, MINIMUM, MAXIMUM, PERCENTILE, TOLERANCE_INTERVAL -> placed(clause, clause.bound(), 1);
            case CAPABILITY, FIRST_FAILURE -> placed(clause, ownLimits(clause), 1);
            case MEAN -> placed(clause, clause.bound(), 1 / Math.sqrt(n));
            case MEDIAN -> placed(clause, clause.bound(), Math.min(1, MEDIAN_OVER_MEAN / Math.sqrt(n)));
            case STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION -> spread(clause, 1, n);
            case RANGE -> spread(clause, MeanRange.d2((int) Math.min(1000, n)), n);
            case REPEATABILITY -> spread(clause, 4, n); // ISO 230-2: four standard deviations
            case REVERSAL -> difference(clause, 2 / Math.sqrt(n)); // two means of n/2
            case DRIFT -> difference(clause, Math.sqrt(12 / n)); // a straight line's rise over the run
            case CHANGE_POINT -> difference(clause, MEDIAN_OVER_MEAN * Math.sqrt(16 / (3 * n)));
            case EQUIVALENT_TO -> notTold(clause, "about two runs, of which each has the gauge's errors");
            case COUNT, PROPORTION -> notTold(clause, "a count, which a gauge study does not bear on");
        };
    }

    private static Bound ownLimits(Clause clause) {
        Settings settings = clause.statistic().settings();
        if (settings instanceof Settings.Limits own) {
            return own.limits();
        }
        return settings instanceof Settings.Broken broken ? broken.limits() : clause.bound();
    }

    /** A value with a place between bounds: what a mounting adds is in it. */
    private ClauseAbility placed(Clause clause, Bound bound, double each) {
        if (!study.repeatabilityUsed() && each == 1) {
            return notTold(clause, "single shifts, and the repeats' spread here is the units' own");
        }
        double repeatability = study.repeatabilityUsed() ? each * study.repeatabilityOfOneShift() : 0;
        if (bound.atLeast().isPresent() && bound.atMost().isPresent()) {
            return held(
                    clause, repeatability, study.reproducibility(), bound.high() - bound.low(), "between the bounds");
        }
        double room = bound.margin(mean);
        return room > 0
                ? held(
                        clause,
                        repeatability,
                        study.reproducibility(),
                        2 * room,
                        "twice from the units' mean to the bound")
                : notTold(clause, "one bound, and the units' mean is beyond it");
    }

    /** A difference within a run: what a mounting adds is not in it. */
    private ClauseAbility difference(Clause clause, double each) {
        if (!study.repeatabilityUsed()) {
            return notTold(clause, "a difference within a run, and the repeats' spread here is the units' own");
        }
        Bound bound = clause.bound();
        boolean both = bound.atLeast().isPresent() && bound.atMost().isPresent();
        double width = both
                ? bound.high() - bound.low()
                : 2 * Math.abs(bound.atMost().orElse(bound.atLeast().orElse(0)));
        return width > 0
                ? held(
                        clause,
                        each * study.repeatabilityOfOneShift(),
                        0,
                        width,
                        both ? "between the bounds" : "twice the bound")
                : notTold(clause, "a bound at 0, which leaves no width");
    }

    /** Six standard deviations against the width (common practice, no published source). */
    private ClauseAbility held(Clause clause, double each, double common, double width, String what) {
        double gauge = Math.hypot(each, common);
        if (gauge == 0) {
            return notTold(clause, "nothing of the gauge was seen beside the repeats' spread");
        }
        double u = expanded(each, common);
        double share = width > 0 ? 6 * gauge / width : Double.POSITIVE_INFINITY;
        return new ClauseAbility(
                clause,
                OptionalDouble.of(gauge),
                OptionalDouble.of(u),
                OptionalDouble.of(width),
                what,
                OptionalDouble.of(share),
                ClauseAbility.word(share, 2 * u >= width));
    }

    /**
     * A spread of n shifts, bound above: the gauge's own spread against it.
     *
     * @param factor of the statistic over a standard deviation
     */
    private ClauseAbility spread(Clause clause, double factor, double n) {
        if (!study.repeatabilityUsed()) {
            return notTold(clause, "a spread, and the repeats' spread here is the units' own");
        }
        double bound = clause.bound().atMost().orElse(0);
        if (!(bound > 0)) {
            return notTold(clause, "a spread without an upper bound above 0");
        }
        double error = study.repeatabilityOfOneShift();
        // errors scatter a standard deviation s by e/√(n−1) and raise it by about e²/2s
        double onSpread = error * Math.min(1, Math.hypot(1 / Math.sqrt(n - 1), factor * error / (2 * bound)));
        double u = expanded(factor * onSpread, 0);
        double share = factor * error / bound;
        return new ClauseAbility(
                clause,
                OptionalDouble.of(factor * error),
                OptionalDouble.of(u),
                OptionalDouble.of(bound),
                "the bound of a spread",
                OptionalDouble.of(share),
                ClauseAbility.word(share, u >= bound));
    }

    private double expanded(double each, double common) {
        if (each == 0 && common == 0) {
            return 0;
        }
        return Gum.combine(
                        new double[] {each, common},
                        new double[] {study.repeatabilityFreedom(), study.reproducibilityFreedom()})
                .expanded(CONFIDENCE);
    }

    private static ClauseAbility notTold(Clause clause, String why) {
        return new ClauseAbility(
                clause,
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                why,
                OptionalDouble.empty(),
                Word.NOT_TOLD);
    }
}
