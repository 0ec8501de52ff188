package org.shiftstand.stats;

import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Whether values may come from a normal distribution: Anderson and Darling's A² with mean and standard deviation estimated,
 * modified for the number of values, with its p-value (D'Agostino and Stephens, Goodness-of-Fit Techniques, 1986, tables 4.7
 * and 4.9).
 *
 * @param modified A² (1 + 0.75/n + 2.25/n²); empty for fewer than {@value #LEAST} values, or values that are all the same
 * @param pValue chance of such a value or a larger one from normal values; empty likewise
 */
public record Normality(OptionalDouble modified, OptionalDouble pValue) {
    static final int LEAST = 8;
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    /** @param values finite; not changed */
    public static Normality of(double[] values) {
        Sample sample = Sample.of(values);
        double sd = sample.standardDeviation().orElse(0);
        if (values.length < LEAST || sd == 0) {
            return new Normality(OptionalDouble.empty(), OptionalDouble.empty());
        }
        double n = values.length;
        double squared = squared(sample.sorted(), sample.mean().orElseThrow(), sd) * (1 + 0.75 / n + 2.25 / (n * n));
        return new Normality(OptionalDouble.of(squared), OptionalDouble.of(p(squared)));
    }

    /** A² = −n − Σ (2i − 1)/n · (ln Φ(zᵢ) + ln Φ(−zₙ₊₁₋ᵢ)). */
    private static double squared(double[] sorted, double mean, double sd) {
        int n = sorted.length;
        double sum = 0;
        for (int i = 0; i < n; i++) {
            double low = (sorted[i] - mean) / sd;
            double high = (sorted[n - 1 - i] - mean) / sd;
            sum += (2 * i + 1.0) * (logTail(low) + logTail(-high));
        }
        return -n - sum / n;
    }

    /** ln Φ(z), which is finite also far out. */
    private static double logTail(double z) {
        double tail = NORMAL.cumulativeProbability(z);
        return tail > 0 ? Math.log(tail) : -z * z / 2 - Math.log(-z * Math.sqrt(2 * Math.PI));
    }

    private static double p(double a) {
        if (a < 0.2) {
            return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
        }
        if (a < 0.34) {
            return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
        }
        if (a < 0.6) {
            return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
        }
        // the fit turns upwards far beyond all tables (A² above 150): there it is as good as nothing
        return a > 100 ? 0 : Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
    }
}
