package org.shiftstand.spec;

import java.util.OptionalDouble;

/**
 * What is known of a group's value beside the value: how sure it is, and what its verdict risks. In the unit of {@link
 * ClauseResult#unit()}; risks and probabilities in 0…1; empty where it does not apply or cannot be had.
 *
 * @param standardUncertainty of measurement alone
 * @param expandedUncertainty of measurement alone, two-sided at the decision's confidence
 * @param coverageFactor expanded over standard uncertainty
 * @param degreesOfFreedom effective ones of the uncertainty of measurement; infinite ones are empty
 * @param guardBand by which the limits move; 0 under rule {@code simple}
 * @param conformanceProbability that the true value (claim {@code observed}) or the long-run value ({@code process})
 *     meets the bound, JCGM 106:2012, 7.2 to 7.5
 * @param consumersRisk chance that an accepted value is outside all the same; only of a pass
 * @param producersRisk chance that a rejected value is inside all the same; only of a fail
 * @param lowLimit one-sided confidence limit of the long-run value, claim {@code process}
 * @param highLimit likewise
 * @param effectiveN shifts that the values are worth, where they are autocorrelated over cycles
 * @param pValue of the long-run value being inside, by Holm over the clause's groups; claim {@code process}
 */
public record Assessment(
        OptionalDouble standardUncertainty,
        OptionalDouble expandedUncertainty,
        OptionalDouble coverageFactor,
        OptionalDouble degreesOfFreedom,
        OptionalDouble guardBand,
        OptionalDouble conformanceProbability,
        OptionalDouble consumersRisk,
        OptionalDouble producersRisk,
        OptionalDouble lowLimit,
        OptionalDouble highLimit,
        OptionalDouble effectiveN,
        OptionalDouble pValue) {
    /** Nothing beside the value. */
    public static final Assessment NONE = new Assessment(
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty());

    /** The same with what its verdict risks. */
    Assessment withRisks(OptionalDouble consumers, OptionalDouble producers) {
        return new Assessment(
                standardUncertainty,
                expandedUncertainty,
                coverageFactor,
                degreesOfFreedom,
                guardBand,
                conformanceProbability,
                consumers,
                producers,
                lowLimit,
                highLimit,
                effectiveN,
                pValue);
    }

    /** The same with a p-value. */
    Assessment withPValue(double p) {
        return new Assessment(
                standardUncertainty,
                expandedUncertainty,
                coverageFactor,
                degreesOfFreedom,
                guardBand,
                conformanceProbability,
                consumersRisk,
                producersRisk,
                lowLimit,
                highLimit,
                effectiveN,
                OptionalDouble.of(p));
    }

    /** From base units to those of the figures. */
    Assessment in(Figures figures) {
        return new Assessment(
                figures.in(standardUncertainty),
                figures.in(expandedUncertainty),
                coverageFactor,
                degreesOfFreedom,
                figures.in(guardBand),
                conformanceProbability,
                consumersRisk,
                producersRisk,
                figures.in(lowLimit),
                figures.in(highLimit),
                effectiveN,
                pValue);
    }
}
