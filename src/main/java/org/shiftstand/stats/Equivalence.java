package org.shiftstand.stats;

import java.util.List;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Whether two means are alike within a stated bound: two one-sided tests (Schuirmann, J. Pharmacokin. Biopharm. 15, 657–680,
 * 1987; Lakens, Soc. Psychol. Personal. Sci. 8, 355–362, 2017).
 *
 * @param difference of the means, first − second
 * @param standardError of it
 * @param freedom of Student's t
 * @param bound Δ above 0: alike means −Δ &lt; difference &lt; Δ
 */
public record Equivalence(double difference, double standardError, double freedom, double bound) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    private static final int PIECES = 6;

    public Equivalence {
        if (!(bound > 0) || !(standardError > 0) || !(freedom > 0) || !Double.isFinite(difference)) {
            throw new IllegalArgumentException("a bound, an error and a freedom above 0: bound=" + bound
                    + ", standardError=" + standardError + ", freedom=" + freedom + ", difference=" + difference);
        }
    }

    /**
     * What is known of one side.
     *
     * @param sd divisor n − 1
     * @param n two or more
     */
    public record Side(double mean, double sd, int n) {
        double variance() {
            return sd * sd;
        }

        /** Of n independent values. */
        public Estimated estimated() {
            return new Estimated(mean, variance() / n, n - 1.0);
        }
    }

    /**
     * A mean as it was estimated, whatever from.
     *
     * @param variance square of its standard error
     * @param freedom of that variance, above 0; need not be whole
     */
    public record Estimated(double mean, double variance, double freedom) {}

    /** Spreads not taken to be equal (Welch). */
    public static Equivalence welch(Side a, Side b, double bound) {
        return welch(List.of(a.estimated()), List.of(b.estimated()), bound);
    }

    /**
     * Of two averages of independent means, each mean with the same weight, however many values it is from: so that a
     * bench which drifts evenly through runs A, B, A bears on both averages alike. Freedom by Satterthwaite (Biometrics
     * Bulletin 2, 110–114, 1946), which for one mean a side is Welch's.
     *
     * @param a one or more
     * @param b one or more
     * @throws IllegalArgumentException where no mean has a variance above 0: there is no test then
     */
    public static Equivalence welch(List<Estimated> a, List<Estimated> b, double bound) {
        double variance = 0;
        double perFreedom = 0;
        for (List<Estimated> side : List.of(a, b)) {
            for (Estimated e : side) {
                double part = e.variance() / ((double) side.size() * side.size());
                variance += part;
                perFreedom += part * part / e.freedom();
            }
        }
        return new Equivalence(average(a) - average(b), Math.sqrt(variance), variance * variance / perFreedom, bound);
    }

    private static double average(List<Estimated> side) {
        double sum = 0;
        for (Estimated e : side) {
            sum += e.mean();
        }
        return sum / side.size();
    }

    /** Spreads taken to be equal (Student). */
    public static Equivalence student(Side a, Side b, double bound) {
        double freedom = a.n() + b.n() - 2.0;
        double pooled = ((a.n() - 1) * a.variance() + (b.n() - 1) * b.variance()) / freedom;
        return new Equivalence(a.mean() - b.mean(), Math.sqrt(pooled * (1.0 / a.n() + 1.0 / b.n())), freedom, bound);
    }

    /** Of the test against −Δ; large and positive where the difference is surely above it. */
    public double tLower() {
        return (difference + bound) / standardError;
    }

    /** Of the test against Δ; large and negative where the difference is surely below it. */
    public double tUpper() {
        return (difference - bound) / standardError;
    }

    public double pLower() {
        return student().cumulativeProbability(-tLower());
    }

    public double pUpper() {
        return student().cumulativeProbability(tUpper());
    }

    /** Of means that are not alike: the larger of the two. */
    public double pValue() {
        return Math.max(pLower(), pUpper());
    }

    /** Of means that are the same: the usual test of a difference, two-sided. */
    public double pOfNoDifference() {
        return Math.min(1, 2 * student().cumulativeProbability(-Math.abs(difference) / standardError));
    }

    /**
     * Chance that this comparison, made again with the same spread and as many values, shows the means to be alike.
     *
     * <p>Exact for a variance that is χ² with these degrees of freedom: the error that a repetition will find is
     * integrated over (Phillips, J. Pharmacokin. Biopharm. 18, 137–144, 1990).
     *
     * @param trueDifference of the means
     * @param alpha of each one-sided test
     */
    public double power(double trueDifference, double alpha) {
        double t = Quantile.t(freedom, 1 - alpha);
        ChiSquaredDistribution squares = new ChiSquaredDistribution(null, freedom);
        // beyond this error found by chance the tests can never both reject: t·error ≥ Δ
        double most = freedom * Math.pow(bound / (t * standardError), 2);
        // outside of this a χ² lies with a chance below 1e-9
        double end = Math.min(most, freedom + 10 * Math.sqrt(2 * freedom) + 40);
        double from = Math.max(0, freedom - 7 * Math.sqrt(2 * freedom));
        return end <= from
                ? 0
                : GaussLegendre.integral(
                        u -> squares.density(u) * inside(t * Math.sqrt(u / freedom), trueDifference),
                        from,
                        end,
                        PIECES);
    }

    /** Chance of a difference that lies inside both limits, at this width in true standard errors. */
    private double inside(double width, double trueDifference) {
        double high = (bound - trueDifference) / standardError - width;
        double low = -(bound + trueDifference) / standardError + width;
        return high <= low ? 0 : NORMAL.cumulativeProbability(high) - NORMAL.cumulativeProbability(low);
    }

    /** The same with other numbers of values: standard error and freedom go as if each value stood for so many. */
    public Equivalence times(double more) {
        return new Equivalence(difference, standardError / Math.sqrt(more), freedom * more, bound);
    }

    /** Each limit one-sided at this confidence: alike at 1 − confidence where both lie within ± Δ. */
    public ConfidenceLimits.Limits limits(double confidence) {
        double half = Quantile.t(freedom, confidence) * standardError;
        return new ConfidenceLimits.Limits(difference - half, difference + half);
    }

    private TDistribution student() {
        return new TDistribution(null, freedom);
    }
}
