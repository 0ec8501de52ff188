package org.shiftstand.stats;

import java.util.List;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Ratio of two standard deviations, b over a, whatever the distribution: Bonett's interval (Applied Psychological
 * Measurement 30, 432–439, 2006), which takes the kurtosis of both sides together about trimmed means. An F interval would
 * take normal values for granted and be far too narrow where tails are heavy.
 *
 * @param ratio of the standard deviations
 * @param logError standard error of the logarithm of the ratio of variances
 * @param countA effective number of values of a
 * @param countB likewise of b
 */
public record SpreadRatio(double ratio, double logError, double countA, double countB) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    /** Fewer values a side say too little of a kurtosis; also where the trimming is not defined. */
    public static final int FEWEST = 8;

    /**
     * Of groups on each side, each about its own mean: their spreads are pooled.
     *
     * @param a groups of at least two values, together at least {@value #FEWEST}, not all the same
     * @param b likewise
     * @param share effective over actual number of values, above 0 to 1
     */
    public static SpreadRatio of(List<Sample> a, List<Sample> b, double share) {
        Moments ma = Moments.of(a);
        Moments mb = Moments.of(b);
        double squares = ma.freedom * ma.variance() + mb.freedom * mb.variance();
        double kurtosis = (ma.n + mb.n) * (ma.fourth + mb.fourth) / (squares * squares);
        double error = Math.sqrt((ma.part(kurtosis) + mb.part(kurtosis)) / share);
        return new SpreadRatio(Math.sqrt(mb.variance() / ma.variance()), error, share * ma.n, share * mb.n);
    }

    /** Each limit one-sided at this confidence. */
    public ConfidenceLimits.Limits limits(double confidence) {
        double z = NORMAL.inverseCumulativeProbability(confidence);
        double c = z < Math.min(countA, countB) ? countB / (countB - z) * (countA - z) / countA : 1;
        double middle = Math.log(c * ratio * ratio);
        return new ConfidenceLimits.Limits(
                Math.exp((middle - z * logError) / 2), Math.exp((middle + z * logError) / 2));
    }

    /** Chance that this comparison, made again, shows the spreads to be alike where they are the same. */
    public double power(double bound, double alpha) {
        double room = 2 * Math.log(bound) / logError - NORMAL.inverseCumulativeProbability(1 - alpha);
        return room <= 0 ? 0 : 2 * NORMAL.cumulativeProbability(room) - 1;
    }

    /** The same with so many times the values. */
    public SpreadRatio times(double more) {
        return new SpreadRatio(ratio, logError / Math.sqrt(more), countA * more, countB * more);
    }

    /** Sums of one side, each group about its own mean; fourth powers about trimmed means. */
    private record Moments(double n, double freedom, double squares, double fourth) {
        static Moments of(List<Sample> groups) {
            double n = 0;
            double squares = 0;
            double fourth = 0;
            for (Sample group : groups) {
                n += group.count();
                double sd = group.standardDeviation().orElseThrow();
                squares += sd * sd * (group.count() - 1);
                fourth += fourth(group);
            }
            return new Moments(n, n - groups.size(), squares, fourth);
        }

        private static double fourth(Sample group) {
            double[] x = group.sorted();
            double middle = trimmed(x);
            double sum = 0;
            for (double value : x) {
                sum += Math.pow(value - middle, 4);
            }
            return sum;
        }

        /** Without 1/(2√(n − 4)) of the values at either end. */
        private static double trimmed(double[] x) {
            int cut = x.length > 5 ? (int) Math.floor(x.length / (2 * Math.sqrt(x.length - 4.0))) : 0;
            cut = Math.min(cut, (x.length - 1) / 2);
            double sum = 0;
            for (int i = cut; i < x.length - cut; i++) {
                sum += x[i];
            }
            return sum / (x.length - 2 * cut);
        }

        double variance() {
            return squares / freedom;
        }

        double part(double kurtosis) {
            return Math.max(0, kurtosis - (n - 3) / n) / freedom;
        }
    }
}
