package org.shiftstand.stats;

/**
 * What a result proves beside its limits, by the default rules of ISO 14253-1.
 *
 * <p>Convention at equality: a result equal to a limit reduced by U conforms; one equal to a limit enlarged by U is
 * undecided. With U = 0 this is simple acceptance: on the limit conforms.
 */
public enum ProofOfConformity {
    /** Inside the tolerance reduced by U at each limit. */
    CONFORMS("conforms"),
    /** Outside the tolerance enlarged by U at each limit. */
    DOES_NOT_CONFORM("does not conform"),
    /** Between: neither is proven. */
    UNDECIDED("undecided");

    private final String words;

    ProofOfConformity(String words) {
        this.words = words;
    }

    /** In words, such as {@code does not conform}. */
    public String words() {
        return words;
    }

    /**
     * Decides.
     *
     * @param expanded U, or another guard band; 0 or more
     * @param lower −∞ for none
     * @param upper +∞ for none
     */
    public static ProofOfConformity of(double result, double expanded, double lower, double upper) {
        return of(result, expanded, expanded, lower, upper);
    }

    /**
     * As {@link #of(double, double, double, double)}, with guard bands that differ.
     *
     * @param inside guard band for conformity; 0 or more
     * @param outside guard band for non-conformity; 0 or more
     */
    public static ProofOfConformity of(double result, double inside, double outside, double lower, double upper) {
        if (!Double.isFinite(result) || !(inside >= 0) || !(outside >= 0) || !(lower <= upper)) {
            throw new IllegalArgumentException(
                    "a finite result, guard bands of 0 or more, the lower limit first: result=" + result + ", inside="
                            + inside + ", outside=" + outside + ", lower=" + lower + ", upper=" + upper);
        }
        if (result >= lower + inside && result <= upper - inside) {
            return CONFORMS;
        }
        return result < lower - outside || result > upper + outside ? DOES_NOT_CONFORM : UNDECIDED;
    }
}
