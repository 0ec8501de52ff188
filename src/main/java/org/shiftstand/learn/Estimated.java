package org.shiftstand.learn;

/** A learned number: the mean of what was seen with its uncertainty, or the reason why there is none. */
public sealed interface Estimated {
    <R> R match(Cases<R> cases);

    /**
     * A mean.
     *
     * @param n shifts it rests on, above 0
     * @param mean in the measure's base unit
     * @param sd of single shifts within a unit, divisor n − 1 (pooled over units); 0 where n is 1
     * @param halfWidth of the confidence interval of the mean, measurement included; infinite where n is 1 and no other
     *     shift tells of spread
     * @param least smallest value seen
     * @param greatest largest value seen
     */
    record Estimate(int n, double mean, double sd, double halfWidth, double least, double greatest)
            implements Estimated {
        public Estimate {
            if (n < 1 || !Double.isFinite(mean) || !(sd >= 0) || !(halfWidth >= 0)) {
                throw new IllegalArgumentException("an estimate of seen shifts: n=" + n + ", mean=" + mean + ", sd="
                        + sd + ", halfWidth=" + halfWidth);
            }
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.estimate(this);
        }
    }

    /** @param reason why there is no number, a clause without a full stop */
    record NotEstimated(String reason) implements Estimated {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.notEstimated(reason);
        }
    }

    /** The number, where there is one. */
    default java.util.Optional<Estimate> estimate() {
        return match(new Cases<>() {
            @Override
            public java.util.Optional<Estimate> estimate(Estimate estimate) {
                return java.util.Optional.of(estimate);
            }

            @Override
            public java.util.Optional<Estimate> notEstimated(String reason) {
                return java.util.Optional.empty();
            }
        });
    }

    interface Cases<R> {
        R estimate(Estimate estimate);

        R notEstimated(String reason);
    }
}
