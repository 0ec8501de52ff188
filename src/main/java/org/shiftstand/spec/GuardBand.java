package org.shiftstand.spec;

import java.util.OptionalDouble;
import org.shiftstand.stats.Conformance;
import org.shiftstand.stats.Gum;

/**
 * By how much the limits move for a value of stated uncertainty of measurement.
 *
 * @param width base unit; 0 under rule {@code simple}; infinite where no value between the limits keeps to the wanted risk
 */
record GuardBand(double width, Decision decision, MeasuringUncertainty uncertainty, Conformance conformance) {
    /**
     * The expanded uncertainty U (JCGM 106:2012, 8.3.2), or the band at which a value at its acceptance limit is outside with
     * the wanted risk.
     */
    static GuardBand of(Decision decision, MeasuringUncertainty uncertainty, Bound bound) {
        Conformance conformance = new Conformance(
                bound.low(),
                // a bound may have no width at all: 0 to 0
                bound.high() > bound.low() ? bound.high() : Math.nextUp(bound.low()),
                uncertainty.standard(),
                uncertainty.degreesOfFreedom());
        return new GuardBand(width(decision, uncertainty, conformance), decision, uncertainty, conformance);
    }

    private static double width(Decision decision, MeasuringUncertainty uncertainty, Conformance conformance) {
        return switch (decision.rule()) {
            case SIMPLE -> 0;
            case GUARDED ->
                decision.falseAccept().isPresent()
                        ? conformance
                                .guardBand(decision.falseAccept().getAsDouble())
                                .orElse(Double.POSITIVE_INFINITY)
                        : expanded(decision, uncertainty);
        };
    }

    private static double expanded(Decision decision, MeasuringUncertainty uncertainty) {
        return factor(decision, uncertainty) * uncertainty.standard();
    }

    private static double factor(Decision decision, MeasuringUncertainty uncertainty) {
        return Gum.coverageFactor(uncertainty.degreesOfFreedom(), decision.confidence());
    }

    /** What is known of a value in base units, without the risks, which depend on its verdict. */
    Assessment shown(double value) {
        double freedom = uncertainty.degreesOfFreedom();
        return new Assessment(
                OptionalDouble.of(uncertainty.standard()),
                OptionalDouble.of(expanded(decision, uncertainty)),
                OptionalDouble.of(factor(decision, uncertainty)),
                Double.isInfinite(freedom) ? OptionalDouble.empty() : OptionalDouble.of(freedom),
                Double.isInfinite(width) ? OptionalDouble.empty() : OptionalDouble.of(width),
                OptionalDouble.of(conformance.probability(value)),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }
}
