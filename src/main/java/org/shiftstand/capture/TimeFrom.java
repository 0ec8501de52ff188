package org.shiftstand.capture;

import java.util.Optional;

/** Where the time of a sample is from. */
public sealed interface TimeFrom {
    <R> R match(Cases<R> cases);

    /**
     * A column of numbers.
     *
     * @param column its header
     * @param unit of its numbers
     * @param fromFirst whether the first sample's time is taken off: of an epoch time, exactly, before it is a double
     */
    record Numbers(String column, TimeUnit unit, boolean fromFirst) implements TimeFrom {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.numbers(this);
        }
    }

    /**
     * A column of dates with times (RFC 3339, also with a space and without a zone) or of times of day; counted from the
     * first sample.
     *
     * @param column its header
     */
    record Stamps(String column) implements TimeFrom {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.stamps(this);
        }
    }

    /**
     * The number of the sample, over a rate.
     *
     * @param column the column that counts samples, where there is one; what it leaves out is missing
     * @param rateHz samples a second, above 0
     */
    record Counted(Optional<String> column, double rateHz) implements TimeFrom {
        public Counted {
            if (!(rateHz > 0) || Double.isInfinite(rateHz)) {
                throw new IllegalArgumentException("a sample rate is above 0: rateHz=" + rateHz);
            }
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.counted(this);
        }
    }

    /** One for each. */
    interface Cases<R> {
        R numbers(Numbers from);

        R stamps(Stamps from);

        R counted(Counted from);
    }

    /** Units of time in captures. */
    enum TimeUnit {
        S("s", 0),
        MS("ms", 3),
        US("us", 6),
        NS("ns", 9);

        private final String word;
        private final int decimals;

        TimeUnit(String word, int decimals) {
            this.word = word;
            this.decimals = decimals;
        }

        public String word() {
            return word;
        }

        /** Its place behind the point of a second. */
        int decimals() {
            return decimals;
        }

        double seconds() {
            return 1 / Decimal.POWERS[decimals];
        }
    }
}
