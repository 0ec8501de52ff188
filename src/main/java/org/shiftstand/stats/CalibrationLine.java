package org.shiftstand.stats;

import java.util.Arrays;

/**
 * A straight line y = a + b (x − x₀) by least squares, with the covariance of its two parameters (JCGM 100:2008, H.3).
 *
 * @param origin x₀
 * @param intercept a, at x₀
 * @param slope b
 * @param interceptSd standard uncertainty of a
 * @param slopeSd standard uncertainty of b
 * @param correlation of a and b, −1…1
 * @param residualSd of the points about the line, n − 2 degrees of freedom
 * @param residualSquares their sum of squares
 * @param explainedSquares sum of squares of the line about the mean
 */
public record CalibrationLine(
        double origin,
        double intercept,
        double slope,
        double interceptSd,
        double slopeSd,
        double correlation,
        double residualSd,
        double residualSquares,
        double explainedSquares,
        int freedom) {
    /**
     * Fits.
     *
     * @param x three or more, finite, not all the same; not changed
     * @param y as many, finite; not changed
     */
    public static CalibrationLine of(double[] x, double[] y, double origin) {
        int n = x.length;
        if (n < 3 || y.length != n) {
            throw new IllegalArgumentException("three points or more, as many x as y: x=" + n + ", y=" + y.length);
        }
        Finite.check(x);
        Finite.check(y);
        // about the means, so that nothing is lost where all x are far from 0
        double meanX = mean(x);
        double meanY = mean(y);
        double sxx = 0;
        double sxy = 0;
        for (int i = 0; i < n; i++) {
            double dx = x[i] - meanX;
            double dy = y[i] - meanY;
            sxx += dx * dx;
            sxy += dx * dy;
        }
        if (!(sxx > 0)) {
            throw new IllegalArgumentException("the x must differ: x=" + x[0]);
        }
        double slope = sxy / sxx;
        double residual = 0;
        for (int i = 0; i < n; i++) {
            double off = y[i] - meanY - slope * (x[i] - meanX);
            residual += off * off;
        }
        double s = Math.sqrt(residual / (n - 2));
        double away = origin - meanX;
        double spread = Math.sqrt(1.0 / n + away * away / sxx);
        return new CalibrationLine(
                origin,
                meanY + slope * away,
                slope,
                s * spread,
                s / Math.sqrt(sxx),
                away / Math.sqrt(sxx) / spread,
                s,
                residual,
                slope * sxy, // not what is left of the whole: of a flat line that would be rounding alone
                n - 2);
    }

    /** In two passes: the second takes off what rounding left in the first. */
    private static double mean(double[] values) {
        double first = Arrays.stream(values).sum() / values.length;
        return first + Arrays.stream(values).map(v -> v - first).sum() / values.length;
    }

    public double at(double x) {
        return intercept + slope * (x - origin);
    }

    /** Standard uncertainty of the line at x, covariance included. */
    public double uncertaintyAt(double x) {
        double d = x - origin;
        double variance =
                interceptSd * interceptSd + d * d * slopeSd * slopeSd + 2 * d * correlation * interceptSd * slopeSd;
        return Math.sqrt(Math.max(0, variance));
    }

    /** Share of the variation that the line explains; NaN where nothing varies. */
    public double rSquared() {
        return explainedSquares / (explainedSquares + residualSquares);
    }

    /** Of a line without slope. */
    public double f() {
        return explainedSquares / (residualSquares / freedom);
    }
}
