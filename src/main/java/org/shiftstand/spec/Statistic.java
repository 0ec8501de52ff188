package org.shiftstand.spec;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * What is judged of a group's values.
 *
 * @param kind which statistic
 * @param settings what it was told beside its name
 */
public record Statistic(Kind kind, Settings settings) {
    /** A statistic that is told a fraction, or nothing. */
    public Statistic(Kind kind, double fraction) {
        this(kind, fraction == 0 ? new Settings.None() : new Settings.Fraction(fraction));
    }

    /** Of a percentile its fraction, 0…1; 0 for all others. */
    public double fraction() {
        return settings instanceof Settings.Fraction f ? f.fraction() : 0;
    }

    /** How its value comes about, which decides how missing shifts bear on it. */
    public enum Nature {
        /** One shift alone can make the value. */
        EXTREME,
        /** Shifts are counted. */
        COUNTED,
        /** All shifts make the value together; a few may miss. */
        ESTIMATOR
    }

    /** The statistics this version has. */
    public enum Kind {
        EVERY("every", 1, 1, Nature.EXTREME),
        MINIMUM("minimum", 1, 1, Nature.EXTREME),
        MAXIMUM("maximum", 1, 1, Nature.EXTREME),
        MEAN("mean", 8, 1, Nature.ESTIMATOR),
        MEDIAN("median", 8, 1, Nature.ESTIMATOR),
        STANDARD_DEVIATION("standard-deviation", 20, 2, Nature.ESTIMATOR),
        POOLED_STANDARD_DEVIATION("pooled-standard-deviation", 20, 2, Nature.ESTIMATOR),
        RANGE("range", 20, 2, Nature.ESTIMATOR),
        PERCENTILE("percentile", 20, 1, Nature.ESTIMATOR),
        COUNT("count", 1, 1, Nature.COUNTED),
        PROPORTION("proportion", 20, 1, Nature.COUNTED),
        /** The normal tolerance interval of stated coverage and confidence; its end nearest to a limit. */
        TOLERANCE_INTERVAL("tolerance-interval", 20, 2, Nature.ESTIMATOR),
        /** ISO 230-2: unidirectional per direction, else bidirectional, of several sprockets the largest. */
        REPEATABILITY("repeatability", 20, 2, Nature.ESTIMATOR),
        /** ISO 230-2: mean inboard minus mean outboard of one sprocket; of several the one farthest from 0. */
        REVERSAL("reversal", 16, 2, Nature.ESTIMATOR),
        /** Cp, Cpk, Pp or Ppk against limits of its own. */
        CAPABILITY("capability", 30, 2, Nature.ESTIMATOR),
        /** Robust change over the run: Theil–Sen slope times the cycles spanned. */
        DRIFT("drift", 20, 2, Nature.ESTIMATOR),
        /** Step between the medians before and after Pettitt's place where it is significant, else 0. */
        CHANGE_POINT("change-point", 20, 2, Nature.ESTIMATOR),
        /** First cycle in which a shift breaks limits of its own; the cycle after the last where none does. */
        FIRST_FAILURE("first-failure", 1, 1, Nature.EXTREME),
        /** How far mean, spread or share may be from those of a base run; only a comparison of two runs has it. */
        EQUIVALENT_TO("equivalent-to", 8, 2, Nature.ESTIMATOR);

        private final String word;
        private final int defaultNeeds;
        private final int least;
        private final Nature nature;

        Kind(String word, int defaultNeeds, int least, Nature nature) {
            this.word = word;
            this.defaultNeeds = defaultNeeds;
            this.least = least;
            this.nature = nature;
        }

        public String word() {
            return word;
        }

        /** How many measured shifts a group needs where the clause does not say. */
        public int defaultNeeds() {
            return defaultNeeds;
        }

        /** Values that it needs to exist at all. */
        public int least() {
            return least;
        }

        public Nature nature() {
            return nature;
        }

        /** Whether it keeps values of one sprocket, reached in one direction, apart from all others, or follows the cycles. */
        boolean bySprocket() {
            return switch (this) {
                case POOLED_STANDARD_DEVIATION,
                        REPEATABILITY,
                        REVERSAL,
                        CAPABILITY,
                        DRIFT,
                        CHANGE_POINT,
                        FIRST_FAILURE,
                        EQUIVALENT_TO -> true;
                case EVERY,
                        MINIMUM,
                        MAXIMUM,
                        MEAN,
                        MEDIAN,
                        STANDARD_DEVIATION,
                        RANGE,
                        PERCENTILE,
                        COUNT,
                        PROPORTION,
                        TOLERANCE_INTERVAL -> false;
            };
        }

        /** Whether it tells how far values lie apart, wherever they lie. */
        public boolean spread() {
            return switch (this) {
                case STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE, REPEATABILITY -> true;
                case EVERY,
                        MINIMUM,
                        MAXIMUM,
                        MEAN,
                        MEDIAN,
                        PERCENTILE,
                        COUNT,
                        PROPORTION,
                        TOLERANCE_INTERVAL,
                        REVERSAL,
                        CAPABILITY,
                        DRIFT,
                        CHANGE_POINT,
                        FIRST_FAILURE,
                        EQUIVALENT_TO -> false;
            };
        }

        /** Whether a shift of all values by one amount changes it. */
        public boolean placed() {
            return switch (this) {
                case EVERY, MINIMUM, MAXIMUM, MEAN, MEDIAN, PERCENTILE, TOLERANCE_INTERVAL, CAPABILITY, FIRST_FAILURE ->
                    true;
                case STANDARD_DEVIATION,
                        POOLED_STANDARD_DEVIATION,
                        RANGE,
                        COUNT,
                        PROPORTION,
                        REPEATABILITY,
                        REVERSAL,
                        DRIFT,
                        CHANGE_POINT,
                        EQUIVALENT_TO -> false;
            };
        }

        /** Whether a unit has a long-run value of it, of which the observed one is an estimate with limits. */
        public boolean longRun() {
            return switch (this) {
                case MEAN,
                        MEDIAN,
                        STANDARD_DEVIATION,
                        POOLED_STANDARD_DEVIATION,
                        PERCENTILE,
                        PROPORTION,
                        TOLERANCE_INTERVAL,
                        REPEATABILITY,
                        REVERSAL,
                        CAPABILITY,
                        DRIFT,
                        EQUIVALENT_TO -> true;
                case EVERY, MINIMUM, MAXIMUM, RANGE, COUNT, CHANGE_POINT, FIRST_FAILURE -> false;
            };
        }

        /** Whether what is claimed with it rests on normally distributed values. */
        public boolean normalTheory(Decision.Claim claim) {
            return switch (this) {
                case TOLERANCE_INTERVAL, CAPABILITY -> true;
                case STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, REPEATABILITY -> claim == Decision.Claim.PROCESS;
                // a mean of eight or more is near enough to normal
                case EVERY,
                        MINIMUM,
                        MAXIMUM,
                        MEAN,
                        MEDIAN,
                        RANGE,
                        PERCENTILE,
                        COUNT,
                        PROPORTION,
                        REVERSAL,
                        DRIFT,
                        CHANGE_POINT,
                        FIRST_FAILURE,
                        EQUIVALENT_TO -> false;
            };
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Kind::word).toList();
        }

        static Optional<Kind> of(String word) {
            return Arrays.stream(values()).filter(k -> k.word.equals(word)).findFirst();
        }
    }

    /** What a statistic was told beside its name. */
    public sealed interface Settings {
        record None() implements Settings {}

        /**
         * Of a percentile.
         *
         * @param fraction in 0…1
         */
        record Fraction(double fraction) implements Settings {}

        /**
         * Of a tolerance interval.
         *
         * @param coverage share of all values that it holds, in 0…1
         * @param confidence that it does, in 0…1
         */
        record Coverage(double coverage, double confidence) implements Settings {}

        /**
         * Of a capability: which index, against which limits.
         *
         * @param limits in the base unit of the measure
         */
        record Limits(Index index, Bound limits) implements Settings {}

        /**
         * Of a first failure: what a shift must not break.
         *
         * @param limits in the base unit of the measure
         */
        record Broken(Bound limits) implements Settings {}

        /**
         * Of a change point.
         *
         * @param alpha below which a step is taken for one
         */
        record Significance(double alpha) implements Settings {}

        /**
         * Of an equivalence: what of the two runs is held side by side.
         *
         * @param of mean, spread or share
         */
        record Alike(Likeness of) implements Settings {}
    }

    /** What of a group's values has to stay as it was in a base run. */
    public enum Likeness {
        /** The clause's bound is the largest difference of means that is allowed, in the measure's unit. */
        MEAN("mean"),
        /** The largest ratio of standard deviations, the larger over the smaller; above 1. */
        SPREAD("spread"),
        /** The largest difference of shares: of an outcome, or of shifts that have a plateau. */
        PROPORTION("proportion");

        private final String word;

        Likeness(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Likeness::word).toList();
        }

        static Optional<Likeness> of(String word) {
            return Arrays.stream(values()).filter(l -> l.word.equals(word)).findFirst();
        }
    }

    /** Which index of capability. */
    public enum Index {
        CP("cp"),
        CPK("cpk"),
        PP("pp"),
        PPK("ppk");

        private final String word;

        Index(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Index::word).toList();
        }

        static Optional<Index> of(String word) {
            return Arrays.stream(values()).filter(i -> i.word.equals(word)).findFirst();
        }
    }
}
