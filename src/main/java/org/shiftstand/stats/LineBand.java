package org.shiftstand.stats;

import java.util.Optional;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * How well a line of median slope is known: at abscissa x within ± √(dm² + (db·(x − c))²).
 *
 * <p>At the middle c of the abscissas height and slope are independent, or nearly so. dm = z · 1.2533 s √(f/n), since a
 * median's spread is √(π/2) that of a mean, for normal residuals; s from their median distance. db is half of
 * {@link TheilSen#limits}.
 *
 * @param centre c, median abscissa
 * @param height dm, half interval of the line's height at c
 * @param slope db, half interval of its slope
 * @param confidence two-sided, 0…1
 */
public record LineBand(double centre, double height, double slope, double confidence) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    private static final double OF_MEDIAN = Math.sqrt(Math.PI / 2);
    /** 1/Φ⁻¹(3/4): from the median distance to the standard deviation, normal values. */
    private static final double OF_DISTANCE = 1.482602218505602;

    /**
     * The band of a line; empty where the points are too few for this confidence.
     *
     * @param limits of the line's slope
     * @param ofSums by how much the variance of sums grows, 1 or more
     */
    public static Optional<LineBand> of(
            TheilSen line, Optional<TheilSen.Limits> limits, double confidence, double ofSums) {
        double z = NORMAL.inverseCumulativeProbability((1 + confidence) / 2);
        double height = z * OF_MEDIAN * spread(line.residuals()) * Math.sqrt(ofSums / line.n());
        return limits.map(l -> new LineBand(line.centre(), height, (l.high() - l.low()) / 2, confidence));
    }

    /** Half the width at an abscissa. */
    public double half(double abscissa) {
        return Math.hypot(height, slope * (abscissa - centre));
    }

    private static double spread(double[] residuals) {
        double[] distances = new double[residuals.length];
        for (int i = 0; i < distances.length; i++) {
            distances[i] = Math.abs(residuals[i]);
        }
        return OF_DISTANCE * Sample.of(distances).median().orElse(0);
    }
}
