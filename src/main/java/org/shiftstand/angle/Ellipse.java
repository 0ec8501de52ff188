package org.shiftstand.angle;

import java.util.Arrays;
import java.util.Optional;

/**
 * Ellipse of a Hall pair and its parameters after Heydemann, Applied Optics 20 (1981) 3382: offset, gain ratio, phase.
 *
 * @param cosOffset offset p of the cosine channel
 * @param sinOffset offset q of the sine channel
 * @param gainRatio r, gain of the cosine over the sine channel; above 0
 * @param phaseRad α, departure from quadrature, radians
 * @param radius of the corrected pair; above 0
 */
record Ellipse(double cosOffset, double sinOffset, double gainRatio, double phaseRad, double radius) {
    /** Residual (radius over mean radius, minus 1) beyond which a point is a sensor fault and not fitted. */
    private static final double OUTLIER = 0.1;

    /** Distance from the rough centre over the median distance beyond which a point is of no ellipse. */
    private static final double WILD = 3;

    private static final int ROUNDS = 6;

    /**
     * Algebraic fit of A x² + B y² + C xy + D x + E y = 1, rough centre subtracted first: with the origin outside the
     * ellipse the textbook phase formula would lose its sign. Points far from the fitted ellipse are left out and the
     * fit is repeated, so that a channel that drops out for a while does not bend it.
     *
     * @param x cosine channel
     * @param y sine channel
     * @param n points
     * @return empty where the points are no ellipse or too few
     */
    static Optional<Ellipse> fit(double[] x, double[] y, int n) {
        if (n < 8) {
            return Optional.empty();
        }
        double x0 = middle(x, n);
        double y0 = middle(y, n);
        double[] distance = new double[n];
        for (int i = 0; i < n; i++) {
            distance[i] = Math.hypot(x[i] - x0, y[i] - y0);
        }
        double scale = middling(distance);
        if (!(scale > 0)) {
            return Optional.empty();
        }
        boolean[] used = new boolean[n];
        for (int i = 0; i < n; i++) {
            used[i] = distance[i] <= WILD * scale;
        }
        double tolerance = 0.5;
        Optional<Ellipse> fitted = Optional.empty();
        for (int round = 0; round < ROUNDS; round++) {
            fitted = solve(x, y, n, used, x0, y0, scale);
            if (fitted.isEmpty() || !fitted.get().select(x, y, n, used, tolerance)) {
                break;
            }
            tolerance = Math.max(OUTLIER, tolerance / 2);
        }
        return fitted;
    }

    private static double middle(double[] values, int n) {
        double[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        // not the extremes: a channel at 0 for a few samples must not move the centre
        return (sorted[n / 50] + sorted[n - 1 - n / 50]) / 2;
    }

    /** Median: a wild value of any size must not set the scale. */
    private static double middling(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }

    private static Optional<Ellipse> solve(
            double[] x, double[] y, int n, boolean[] used, double x0, double y0, double scale) {
        double[][] normal = new double[5][6];
        double[] row = new double[5];
        for (int i = 0; i < n; i++) {
            if (!used[i]) {
                continue;
            }
            double px = (x[i] - x0) / scale;
            double py = (y[i] - y0) / scale;
            row[0] = px * px;
            row[1] = py * py;
            row[2] = px * py;
            row[3] = px;
            row[4] = py;
            for (int j = 0; j < 5; j++) {
                for (int k = 0; k < 5; k++) {
                    normal[j][k] += row[j] * row[k];
                }
                normal[j][5] += row[j];
            }
        }
        if (!eliminate(normal)) {
            return Optional.empty();
        }
        double a = normal[0][5];
        double b = normal[1][5];
        double c = normal[2][5];
        double d = normal[3][5];
        double e = normal[4][5];
        double discriminant = c * c - 4 * a * b;
        if (!(discriminant < 0) || !(a * b > 0)) {
            return Optional.empty(); // parabola, hyperbola, or NaN
        }
        double p = (2 * b * d - e * c) / discriminant;
        double q = (2 * a * e - d * c) / discriminant;
        double phase = Math.asin(Math.signum(a) * c / Math.sqrt(4 * a * b));
        // value of the form at the centre gives the size: A (x−p)² + … = 1 + A p² + B q² + C p q
        double size = (1 + a * p * p + b * q * q + c * p * q) / a;
        double radius = Math.sqrt(size) / Math.cos(phase); // u² + v² = R² has x² / cos² α
        if (!(radius > 0)) {
            return Optional.empty();
        }
        return Optional.of(new Ellipse(x0 + scale * p, y0 + scale * q, Math.sqrt(b / a), phase, scale * radius));
    }

    /** Gauss elimination with row pivoting on the augmented normal equations; false where they are singular. */
    private static boolean eliminate(double[][] m) {
        int n = m.length;
        for (int k = 0; k < n; k++) {
            int pivot = k;
            for (int i = k + 1; i < n; i++) {
                if (Math.abs(m[i][k]) > Math.abs(m[pivot][k])) {
                    pivot = i;
                }
            }
            double[] swap = m[k];
            m[k] = m[pivot];
            m[pivot] = swap;
            if (!(Math.abs(m[k][k]) > 1e-13 * Math.max(1, Math.abs(m[0][0])))) {
                return false;
            }
            for (int i = 0; i < n; i++) {
                if (i == k) {
                    continue;
                }
                double factor = m[i][k] / m[k][k];
                for (int j = k; j <= n; j++) {
                    m[i][j] -= factor * m[k][j];
                }
            }
        }
        for (int k = 0; k < n; k++) {
            m[k][n] /= m[k][k];
        }
        return true;
    }

    /** Marks the points within {@code tolerance} of the ellipse; false where nothing changed or too few are left. */
    private boolean select(double[] x, double[] y, int n, boolean[] used, double tolerance) {
        boolean changed = false;
        int left = 0;
        for (int i = 0; i < n; i++) {
            boolean near = Math.abs(radius(x[i], y[i]) / radius - 1) <= tolerance;
            changed |= near != used[i];
            used[i] = near;
            left += near ? 1 : 0;
        }
        return left >= 8 && (changed || tolerance > OUTLIER);
    }

    /** Root mean square of radius over mean radius minus 1, of the points that are no outliers; NaN without any. */
    double radialResidual(double[] x, double[] y, int n) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < n; i++) {
            double residual = radius(x[i], y[i]) / radius - 1;
            if (Math.abs(residual) <= OUTLIER) {
                sum += residual * residual;
                count++;
            }
        }
        return Math.sqrt(sum / count);
    }

    /** Which part of the points lies on it, as near as a sound reading does; 0 without any. */
    double share(double[] x, double[] y, int n) {
        int count = 0;
        for (int i = 0; i < n; i++) {
            count += Math.abs(radius(x[i], y[i]) / radius - 1) <= OUTLIER ? 1 : 0;
        }
        return n == 0 ? 0 : count / (double) n;
    }

    /** Corrected cosine, centred. */
    double u(double x) {
        return x - cosOffset;
    }

    /** Corrected sine, centred, of the gain of the cosine. */
    double v(double x, double y) {
        return (u(x) * Math.sin(phaseRad) + gainRatio * (y - sinOffset)) / Math.cos(phaseRad);
    }

    double radius(double x, double y) {
        return Math.hypot(u(x), v(x, y));
    }

    /** The same where an output is clipped: from the other one, which is steep there; NaN where both are. */
    double phi(double x, double y, Rails rails) {
        int cosSide = rails.ofCos(x);
        int sinSide = rails.ofSin(y);
        if (cosSide == 0 && sinSide == 0) {
            return phi(x, y);
        }
        if (cosSide != 0 && sinSide != 0) {
            return Double.NaN;
        }
        double part = cosSide != 0 ? gainRatio * (y - sinOffset) / radius : u(x) / radius;
        double rest = Math.sqrt(Math.max(0, 1 - part * part));
        return cosSide != 0 ? phaseRad + Math.atan2(part, cosSide * rest) : Math.atan2(sinSide * rest, part);
    }

    /** Angle of the corrected pair, radians in (−π, π]. */
    double phi(double x, double y) {
        return Math.atan2(v(x, y), u(x));
    }
}
