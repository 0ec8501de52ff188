package org.shiftstand.stats;

import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Capability indices of a normal process against its limits (NIST/SEMATECH e-Handbook, 6.1.6).
 *
 * <p>Fed with the standard deviation within groups they are Cp and Cpk, with that of all values Pp and Ppk: the formulas are
 * the same.
 *
 * @param mean of the values
 * @param sd above 0
 * @param n values, or their effective number; above 1
 * @param freedom of the standard deviation: n − 1, or Σ(n − 1) of a pooled one; above 0
 * @param lower −∞ for none
 * @param upper +∞ for none
 */
public record Capability(double mean, double sd, double n, double freedom, double lower, double upper) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    public Capability {
        if (!Double.isFinite(mean)
                || !(sd > 0)
                || !(n > 1)
                || !(freedom > 0)
                || !(lower < upper)
                || Double.isInfinite(lower) && Double.isInfinite(upper)) {
            throw new IllegalArgumentException(
                    "a spread above 0, two values or more, limits in order, at least one of them: mean=" + mean
                            + ", sd=" + sd + ", n=" + n + ", freedom=" + freedom + ", lower=" + lower + ", upper="
                            + upper);
        }
    }

    /** (U − L)/6s; empty where there is one limit only. */
    public OptionalDouble cp() {
        return bothLimits() ? OptionalDouble.of((upper - lower) / (6 * sd)) : OptionalDouble.empty();
    }

    /** (x̄ − L)/3s; infinite without a lower limit. */
    public double cpl() {
        return (mean - lower) / (3 * sd);
    }

    /** (U − x̄)/3s; infinite without an upper limit. */
    public double cpu() {
        return (upper - mean) / (3 * sd);
    }

    /** The smaller of Cpl and Cpu. */
    public double cpk() {
        return Math.min(cpl(), cpu());
    }

    /** (U − L)/6√(s² + (x̄ − T)²), T the target; empty where there is one limit only. */
    public OptionalDouble cpm(double target) {
        double off = mean - target;
        return bothLimits()
                ? OptionalDouble.of((upper - lower) / (6 * Math.sqrt(sd * sd + off * off)))
                : OptionalDouble.empty();
    }

    /** Share of a normal population beyond the limits. */
    public double fractionOut() {
        return NORMAL.cumulativeProbability((lower - mean) / sd) + NORMAL.cumulativeProbability((mean - upper) / sd);
    }

    /** Of Cp: Cp √(χ²/ν); each limit one-sided at this confidence; none where there is no Cp. */
    public ConfidenceLimits.Limits ofCp(double confidence) {
        if (cp().isEmpty()) {
            return ConfidenceLimits.Limits.NONE;
        }
        // an index is the wider the smaller the spread
        ConfidenceLimits.Limits spread = ConfidenceLimits.standardDeviation(sd, freedom, confidence);
        return new ConfidenceLimits.Limits((upper - lower) / (6 * spread.high()), (upper - lower) / (6 * spread.low()));
    }

    /**
     * Of Cpk: Cpk ± z √(1/9n + Cpk²/2ν), the handbook's normal approximation; each limit one-sided at this confidence.
     */
    public ConfidenceLimits.Limits ofCpk(double confidence) {
        double index = cpk();
        double half = NORMAL.inverseCumulativeProbability(confidence)
                * Math.sqrt(1 / (9 * n) + index * index / (2 * freedom));
        return new ConfidenceLimits.Limits(index - half, index + half);
    }

    private boolean bothLimits() {
        return !Double.isInfinite(lower) && !Double.isInfinite(upper);
    }
}
