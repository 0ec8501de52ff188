package org.shiftstand.learn.compare;

import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;

/**
 * What the values of one group show, whatever is held side by side.
 *
 * @param base of the base: mean, standard deviation or share; base unit
 * @param candidate likewise
 * @param difference candidate − base; of spreads the ratio candidate / base
 * @param low limit of the difference, one-sided at the confidence of the clause
 * @param high likewise
 * @param pEquivalent of a difference outside the margin; empty without a margin
 * @param pDifference of no difference
 * @param effective effective over actual number of shifts, 1 where they do not follow each other
 * @param power chance that so many shifts show equivalence where nothing changed; empty without a margin
 * @param powerWith the same with so many times the shifts
 */
record Tested(
        double base,
        double candidate,
        double difference,
        double low,
        double high,
        OptionalDouble pEquivalent,
        double pDifference,
        double effective,
        OptionalDouble power,
        DoubleUnaryOperator powerWith) {
    private static final double WANTED_POWER = 0.9;
    private static final double MOST = 1000;

    /** How many times the shifts that there are show equivalence with 90 % chance where nothing changed; empty beyond 1000. */
    OptionalDouble timesNeeded() {
        if (power.isEmpty() || !(powerWith.applyAsDouble(MOST) >= WANTED_POWER)) {
            return OptionalDouble.empty();
        }
        double few = 1;
        double enough = MOST;
        while (enough / few > 1.01) {
            double middle = Math.sqrt(few * enough);
            if (powerWith.applyAsDouble(middle) >= WANTED_POWER) {
                enough = middle;
            } else {
                few = middle;
            }
        }
        return OptionalDouble.of(enough);
    }
}
