package org.shiftstand.bench;

import java.util.Arrays;
import java.util.Optional;

/**
 * One thing that makes a measure uncertain.
 *
 * @param name as tables print it, such as {@code converter resolution}
 * @param standardUncertainty in the measure's base unit, its sensitivity included; a share of the value where the nature is
 *     {@link Nature#SCALE}; 0 or more
 * @param degreesOfFreedom how well the uncertainty itself is known; above 0, may be infinite
 * @param source where the figure comes from, in words
 */
public record Contribution(
        String name, double standardUncertainty, Nature nature, double degreesOfFreedom, String source) {
    public Contribution {
        if (!(standardUncertainty >= 0) || Double.isInfinite(standardUncertainty) || !(degreesOfFreedom > 0)) {
            throw new IllegalArgumentException("an uncertainty is 0 or more, its freedom above 0: name=" + name
                    + ", standardUncertainty=" + standardUncertainty + ", degreesOfFreedom=" + degreesOfFreedom);
        }
    }

    /** How the errors of several shifts go together. */
    public enum Nature {
        /** Another error in each shift, independent of the others: a mean of n shifts has 1/√n of it. */
        EACH("each"),
        /** The same offset in every shift of a run: a spread or a difference of shifts does not have it. */
        COMMON("common"),
        /** The same share of the value in every shift of a run. */
        SCALE("scale");

        private final String word;

        Nature(String word) {
            this.word = word;
        }

        /** As files write it. */
        public String word() {
            return word;
        }

        static Optional<Nature> of(String word) {
            return Arrays.stream(values()).filter(n -> n.word.equals(word)).findFirst();
        }
    }

    /** Its part in the uncertainty of one value, in the measure's base unit. */
    public double at(double value) {
        return nature == Nature.SCALE ? standardUncertainty * Math.abs(value) : standardUncertainty;
    }

    /** The same with a share of its uncertainty: a mean of n shifts has 1/√n of what is independent. */
    public Contribution times(double factor) {
        return new Contribution(name, standardUncertainty * factor, nature, degreesOfFreedom, source);
    }
}
