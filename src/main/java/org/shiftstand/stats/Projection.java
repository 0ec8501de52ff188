package org.shiftstand.stats;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Where a straight line will reach a limit if it goes on as it did, and how well that is known.
 *
 * <p>The line m + b(x − c) has its height m at the middle c of the abscissas, where height and slope are independent. With
 * half intervals dm and db both ends are where (limit − m − bd)² = dm² + (db·d)², d = x − c (E. C. Fieller, J. R. Stat. Soc. B
 * 16, 175–185, 1954, for the medians here): dm = z · 1.2533 s √(f/n), since a median's spread is √(π/2) that of a mean; s from
 * the median distance of the residuals, for normal ones; db from {@link TheilSen#limits}.
 *
 * @param at abscissa where the line reaches the limit
 * @param from nearer end of the interval
 * @param to farther end; empty where it never need reach it
 */
public record Projection(double at, double from, OptionalDouble to, double confidence) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    /** √(π/2): asymptotic spread of a median over that of a mean, normal values. */
    private static final double OF_MEDIAN = Math.sqrt(Math.PI / 2);
    /** 1/Φ⁻¹(3/4): from the median distance to the standard deviation, normal values. */
    private static final double OF_DISTANCE = 1.482602218505602;

    /**
     * Where the line reaches the limit, ahead of the abscissa given.
     *
     * <p>Empty where the line leads away from the limit, has passed it, or is not told from level at this confidence.
     *
     * @param inflation of the variance of S, as for {@link TheilSen#limits}
     * @param ofSums by how much the variance of sums grows since values follow their predecessors, 1 or more
     */
    public static Optional<Projection> of(
            TheilSen line, double limit, double ahead, double confidence, double inflation, double ofSums) {
        Optional<TheilSen.Limits> limits = line.limits(confidence, inflation);
        if (limits.isEmpty() || limits.get().hold(0)) {
            return Optional.empty();
        }
        double at = (limit - line.intercept()) / line.slope();
        if (!(at > ahead)) {
            return Optional.empty();
        }
        double z = NORMAL.inverseCumulativeProbability((1 + confidence) / 2);
        double dm = z * OF_MEDIAN * spread(line.residuals()) * Math.sqrt(ofSums / line.n());
        double b = line.slope();
        double db = (limits.get().high() - limits.get().low()) / 2;
        double gap = limit - line.at(line.centre());
        // (b² − db²) d² − 2 b gap d + gap² − dm² = 0
        double a = b * b == db * db ? -1e-12 * b * b : b * b - db * db;
        double root = Math.sqrt(Math.max(0, b * b * gap * gap - a * (gap * gap - dm * dm)));
        double one = (b * gap - root) / a;
        double two = (b * gap + root) / a;
        double from = a > 0 ? Math.min(one, two) : Math.max(one, two);
        OptionalDouble to = a > 0 ? OptionalDouble.of(line.centre() + Math.max(one, two)) : OptionalDouble.empty();
        return Optional.of(new Projection(at, line.centre() + from, to, confidence));
    }

    private static double spread(double[] residuals) {
        double[] distances = new double[residuals.length];
        for (int i = 0; i < distances.length; i++) {
            distances[i] = Math.abs(residuals[i]);
        }
        return OF_DISTANCE * Sample.of(distances).median().orElse(0);
    }
}
