package org.shiftstand.spec;

/**
 * What is judged of a group's values.
 *
 * @param kind which statistic
 * @param fraction of a percentile, 0…1; 0 for all others
 */
public record Statistic(Kind kind, double fraction) {
    /** The statistics this version has. */
    public enum Kind {
        EVERY("every", 1),
        MINIMUM("minimum", 1),
        MAXIMUM("maximum", 1),
        MEAN("mean", 8),
        MEDIAN("median", 8),
        STANDARD_DEVIATION("standard-deviation", 20),
        POOLED_STANDARD_DEVIATION("pooled-standard-deviation", 20),
        RANGE("range", 20),
        PERCENTILE("percentile", 20),
        COUNT("count", 1),
        PROPORTION("proportion", 20);

        private final String word;
        private final int defaultNeeds;

        Kind(String word, int defaultNeeds) {
            this.word = word;
            this.defaultNeeds = defaultNeeds;
        }

        public String word() {
            return word;
        }

        /** How many measured shifts a group needs where the clause does not say. */
        public int defaultNeeds() {
            return defaultNeeds;
        }
    }
}
