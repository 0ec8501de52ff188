package org.shiftstand.stats;

import java.util.Arrays;
import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Conformance probability, guard bands and risks of a measured item (JCGM 106:2012, clauses 7 to 9).
 *
 * <p>Limits that do not exist are infinite. What is known after a measurement with little prior knowledge: (value −
 * estimate) / u follows the normal distribution, or Student's where u has finite degrees of freedom (JCGM 101, 6.4.9).
 *
 * @param lower limit of what is tolerated; −∞ for none
 * @param upper +∞ for none
 * @param u standard uncertainty; 0 or more
 * @param freedom of u, above 0, not truncated; may be infinite
 */
public record Conformance(double lower, double upper, double u, double freedom) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    public Conformance {
        if (!(lower < upper) || !(u >= 0) || Double.isInfinite(u) || !(freedom > 0)) {
            throw new IllegalArgumentException("limits in order, u of 0 or more, freedom above 0: lower=" + lower
                    + ", upper=" + upper + ", u=" + u + ", freedom=" + freedom);
        }
    }

    /** Of a normal state of knowledge. */
    public static Conformance normal(double lower, double upper, double u) {
        return new Conformance(lower, upper, u, Double.POSITIVE_INFINITY);
    }

    /** Probability that the true value is inside both limits (JCGM 106, 7.2 to 7.4). */
    public double probability(double estimate) {
        if (u == 0) {
            return estimate >= lower && estimate <= upper ? 1 : 0;
        }
        return between((lower - estimate) / u, (upper - estimate) / u);
    }

    /**
     * The smallest guard band at which an accepted item is nonconforming with at most this probability (specific risk):
     * 1 − probability = risk at the acceptance limits. Both limits count. Below 0 where more risk than that of simple
     * acceptance is allowed. Empty where no estimate between the limits keeps to the risk.
     *
     * @param risk above 0, below 1
     */
    public OptionalDouble guardBand(double risk) {
        if (!(risk > 0 && risk < 1)) {
            throw new IllegalArgumentException("a risk lies between 0 and 1: risk=" + risk);
        }
        double oneSided = u == 0 ? 0 : u * Gum.quantile(freedom, 1 - risk);
        if (u == 0 || Double.isInfinite(lower) || Double.isInfinite(upper)) {
            return OptionalDouble.of(oneSided);
        }
        double half = (upper - lower) / 2;
        if (1 - probability(lower + half) > risk) {
            return OptionalDouble.empty();
        }
        // probability falls from the middle outwards, so the acceptance limit lies where it crosses 1 − risk
        double safe = half;
        double risky = Math.min(oneSided, half);
        for (int i = 0; i < 200 && safe - risky > 1e-15 * Math.max(half, u); i++) {
            double g = (safe + risky) / 2;
            if (1 - probability(upper - g) <= risk) {
                safe = g;
            } else {
                risky = g;
            }
        }
        return OptionalDouble.of(safe);
    }

    /**
     * Before anything is measured: what share of all items will be judged wrongly.
     *
     * @param consumer share that is nonconforming and accepted
     * @param producer share that is conforming and rejected
     * @param conforming share that conforms
     * @param accepted share that is accepted
     */
    public record Risks(double consumer, double producer, double conforming, double accepted) {}

    /**
     * Global risks where items come from a normal process (JCGM 106, 9.5), by numerical integration; absolute error below
     * 1e-9.
     *
     * @param processMean of the items' true values
     * @param processSd above 0
     * @param guardBand above 0 moves the acceptance limits inside, below 0 outside
     */
    public Risks risks(double processMean, double processSd, double guardBand) {
        if (!(processSd > 0) || !Double.isFinite(processMean) || !Double.isFinite(guardBand)) {
            throw new IllegalArgumentException("a process has a finite mean and an sd above 0: processMean="
                    + processMean + ", processSd=" + processSd + ", guardBand=" + guardBand);
        }
        double low = lower + guardBand;
        double high = upper - guardBand;
        double consumer = 0;
        double producer = 0;
        double[] knots = knots(processMean, processSd, low, high);
        for (int i = 0; i + 1 < knots.length; i++) {
            double from = knots[i];
            double to = knots[i + 1];
            boolean good = (from + to) / 2 >= lower && (from + to) / 2 <= upper;
            double share = GaussLegendre.integral(
                    v -> density((v - processMean) / processSd) / processSd * chance(v, low, high, good), from, to);
            consumer += good ? 0 : share;
            producer += good ? share : 0;
        }
        double conforming = NORMAL.cumulativeProbability((upper - processMean) / processSd)
                - NORMAL.cumulativeProbability((lower - processMean) / processSd);
        return new Risks(consumer, producer, conforming, conforming - producer + consumer);
    }

    /** Of a true value being judged wrongly: rejected if it is good, accepted if it is not. */
    private double chance(double value, double low, double high, boolean good) {
        double accepted;
        if (low > high) {
            accepted = 0; // the guard bands meet: nothing is accepted
        } else if (u == 0) {
            accepted = value >= low && value <= high ? 1 : 0;
        } else {
            accepted = between((low - value) / u, (high - value) / u);
        }
        return good ? 1 - accepted : accepted;
    }

    /** Where the integrand bends: at limits, around acceptance limits within a few u, and over the process. */
    private double[] knots(double mean, double sd, double low, double high) {
        double[] reach = {0, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9, 10};
        double[] knots = new double[6 * reach.length + 2];
        int n = 0;
        for (double r : reach) {
            for (double sign : new double[] {-1, 1}) {
                knots[n++] = mean + sign * r * sd;
                knots[n++] = low + sign * r * u;
                knots[n++] = high + sign * r * u;
            }
        }
        knots[n++] = lower;
        knots[n++] = upper;
        return Arrays.stream(knots)
                .filter(k -> k >= mean - 10 * sd && k <= mean + 10 * sd) // beyond is less than 1e-22 of the items
                .sorted()
                .distinct()
                .toArray();
    }

    private double between(double from, double to) {
        // both in the upper tail: by symmetry in the lower one, where small shares keep their digits
        return from > 0 ? cumulative(-from) - cumulative(-to) : cumulative(to) - cumulative(from);
    }

    private double cumulative(double z) {
        if (Double.isInfinite(z)) {
            return z > 0 ? 1 : 0;
        }
        return Double.isInfinite(freedom)
                ? NORMAL.cumulativeProbability(z)
                : new TDistribution(null, freedom).cumulativeProbability(z);
    }

    private static double density(double z) {
        return Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
    }
}
