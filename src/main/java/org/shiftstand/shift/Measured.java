package org.shiftstand.shift;

import java.util.OptionalDouble;

/** A measure of one shift: a number, the reason why there is none, or not applicable. */
public sealed interface Measured {
    <R> R match(Cases<R> cases);

    /** The number where there is one. */
    default OptionalDouble number() {
        return OptionalDouble.empty();
    }

    /** A number in the base unit of the measure; finite. */
    record Value(double value) implements Measured {
        public Value {
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("a measured value must be finite: value=" + value);
            }
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.value(value);
        }

        @Override
        public OptionalDouble number() {
            return OptionalDouble.of(value);
        }
    }

    /** What the capture cannot support, with its reason in a few words. */
    record NotMeasured(String reason) implements Measured {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.notMeasured(reason);
        }
    }

    /** What does not exist by definition, such as hold without a plateau. */
    record NotApplicable() implements Measured {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.notApplicable();
        }
    }

    /** One answer for each kind. */
    interface Cases<R> {
        R value(double value);

        R notMeasured(String reason);

        R notApplicable();
    }
}
