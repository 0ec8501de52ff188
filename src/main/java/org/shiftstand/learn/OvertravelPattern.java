package org.shiftstand.learn;

/**
 * What was learned of the overtravel of one row of the table.
 *
 * <p>Overtravel below the settle band cannot be told from none: two rests less than the band apart are one rest.
 */
public sealed interface OvertravelPattern {
    <R> R match(Cases<R> cases);

    /**
     * A plateau in all of n shifts.
     *
     * @param achieved what the shaft did, degrees
     * @param programmedDeg what the firmware asked for: achieved with the stopping bias taken back; equal to achieved where
     *     the bias is not known
     * @param programmedHalfWidthDeg of its confidence interval; infinite where the bias is not known
     * @param largestUnseenRate of shifts without a plateau: 1 − (1 − confidence)^(1/n)
     */
    record Programmed(
            Estimated.Estimate achieved, double programmedDeg, double programmedHalfWidthDeg, double largestUnseenRate)
            implements OvertravelPattern {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.programmed(this);
        }
    }

    /**
     * No plateau in all of n shifts.
     *
     * @param n above 0
     * @param largestUnseenRate of shifts with one: 1 − (1 − confidence)^(1/n)
     */
    record None(int n, double largestUnseenRate) implements OvertravelPattern {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.none(this);
        }
    }

    /**
     * With a plateau in some shifts and without in others.
     *
     * @param with shifts with a plateau
     * @param without shifts without
     * @param achieved of those with one
     * @param programmedDeg as in {@link Programmed}, of those with one
     * @param programmedHalfWidthDeg likewise
     * @param rateLow confidence interval of the rate of those with one (Clopper–Pearson)
     * @param rateHigh likewise
     * @param follows what it follows, such as {@code every shift of unit TD-2}, where one thing explains all; empty where
     *     nothing does: not decided
     */
    record Irregular(
            int with,
            int without,
            Estimated.Estimate achieved,
            double programmedDeg,
            double programmedHalfWidthDeg,
            double rateLow,
            double rateHigh,
            java.util.Optional<String> follows)
            implements OvertravelPattern {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.irregular(this);
        }
    }

    /** A gap in the table. @param reason why, such as {@code no shift from 7 to 8 was seen} */
    record Gap(String reason) implements OvertravelPattern {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.gap(this);
        }
    }

    interface Cases<R> {
        R programmed(Programmed row);

        R none(None row);

        R irregular(Irregular row);

        R gap(Gap row);
    }
}
