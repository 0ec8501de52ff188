package org.shiftstand.angle;

import java.util.Optional;

/**
 * The second-order angle term, estimated from stretches of near-constant speed.
 *
 * <p>Over such a stretch the true angle is a cubic in time to well below the term looked for. What a local cubic leaves
 * of the angle is regressed on what it leaves of sin 2φ and cos 2φ, all stretches together: least squares over two
 * coefficients common to all and four of each stretch.
 *
 * @param sin2Deg coefficient of sin 2φ, degrees
 * @param cos2Deg coefficient of cos 2φ, degrees
 * @param residualDeg root mean square of what is left
 * @param standardErrorDeg of the larger coefficient error
 * @param stretches how many were used
 */
record SecondOrder(double sin2Deg, double cos2Deg, double residualDeg, double standardErrorDeg, int stretches) {
    private static final int N = Stretches.KNOTS;
    /** Speeds of the four quarters of a stretch may differ by this part of their mean. */
    private static final double SPEED_SPREAD = 0.1;

    private static final int FEWEST = 8;
    private static final double LARGEST_ERROR_DEG = 0.1;
    private static final double LARGEST_RESIDUAL_DEG = 1.5;

    /** Empty where too few stretches support it, or they do not agree. */
    static Optional<SecondOrder> estimate(Stretches from, Ellipse ellipse) {
        var sums = new Sums();
        for (int s = 0; s < from.stretches(); s++) {
            sums.add(from, s * N, ellipse);
        }
        return sums.solve();
    }

    private static final class Sums {
        private final double[] angle = new double[N];
        private final double[] sin2 = new double[N];
        private final double[] cos2 = new double[N];
        private final double[][] cubic = new double[4][N];
        private double ss;
        private double sc;
        private double cc;
        private double sa;
        private double ca;
        private double aa;
        private int used;

        void add(Stretches from, int at, Ellipse ellipse) {
            if (!decode(from, at, ellipse) || !isNearConstantSpeed(from.timeS, at)) {
                return;
            }
            basis(from.timeS, at);
            leave(angle);
            leave(sin2);
            leave(cos2);
            ss += dot(sin2, sin2);
            sc += dot(sin2, cos2);
            cc += dot(cos2, cos2);
            sa += dot(sin2, angle);
            ca += dot(cos2, angle);
            aa += dot(angle, angle);
            used++;
        }

        /** Angles of the knots; false where a knot is a sensor fault or the turn is not sure. */
        private boolean decode(Stretches from, int at, Ellipse ellipse) {
            double last = 0;
            double unwrapped = 0;
            for (int i = 0; i < N; i++) {
                double x = from.cos[at + i];
                double y = from.sin[at + i];
                if (Math.abs(ellipse.radius(x, y) / ellipse.radius() - 1) > 0.1) {
                    return false;
                }
                double phi = ellipse.phi(x, y);
                double step = i == 0 ? 0 : Math.IEEEremainder(phi - last, 2 * Math.PI);
                if (Math.abs(step) > 2 * Math.PI / 3) {
                    return false;
                }
                unwrapped += step;
                last = phi;
                angle[i] = Math.toDegrees(unwrapped);
                sin2[i] = Math.sin(2 * phi);
                cos2[i] = Math.cos(2 * phi);
            }
            return Math.abs(angle[N - 1]) >= 180;
        }

        private boolean isNearConstantSpeed(double[] timeS, int at) {
            double least = Double.POSITIVE_INFINITY;
            double most = Double.NEGATIVE_INFINITY;
            int quarter = (N - 1) / 4;
            for (int k = 0; k < 4; k++) {
                int a = k * quarter;
                int b = a + quarter;
                double speed = (angle[b] - angle[a]) / (timeS[at + b] - timeS[at + a]);
                least = Math.min(least, speed);
                most = Math.max(most, speed);
            }
            return most - least <= SPEED_SPREAD * Math.abs(most + least) / 2;
        }

        /** Orthonormal polynomials of degree 0 to 3 on the knots' times (Gram and Schmidt, twice). */
        private void basis(double[] timeS, int at) {
            double mid = (timeS[at] + timeS[at + N - 1]) / 2;
            double half = (timeS[at + N - 1] - timeS[at]) / 2;
            for (int degree = 0; degree < 4; degree++) {
                double[] column = cubic[degree];
                for (int i = 0; i < N; i++) {
                    column[i] = degree == 0 ? 1 : cubic[degree - 1][i] * (timeS[at + i] - mid) / half;
                }
                for (int round = 0; round < 2; round++) {
                    for (int lower = 0; lower < degree; lower++) {
                        subtract(column, cubic[lower], dot(column, cubic[lower]));
                    }
                }
                double norm = Math.sqrt(dot(column, column));
                for (int i = 0; i < N; i++) {
                    column[i] /= norm;
                }
            }
        }

        private void leave(double[] values) {
            for (double[] column : cubic) {
                subtract(values, column, dot(values, column));
            }
        }

        private static void subtract(double[] from, double[] what, double factor) {
            for (int i = 0; i < N; i++) {
                from[i] -= factor * what[i];
            }
        }

        private static double dot(double[] a, double[] b) {
            double sum = 0;
            for (int i = 0; i < N; i++) {
                sum += a[i] * b[i];
            }
            return sum;
        }

        Optional<SecondOrder> solve() {
            double determinant = ss * cc - sc * sc;
            if (used < FEWEST || !(determinant > 0)) {
                return Optional.empty();
            }
            double s = (sa * cc - ca * sc) / determinant;
            double c = (ca * ss - sa * sc) / determinant;
            // each sample stands in two overlapping stretches: half as many are independent
            double freedom = Math.max(1, used * (N - 4) / 2.0 - 2);
            double squares = Math.max(0, aa - s * sa - c * ca) / 2;
            double residual = Math.sqrt(squares / freedom);
            double error = residual * Math.sqrt(2 * Math.max(ss, cc) / determinant);
            if (!(error <= LARGEST_ERROR_DEG) || !(residual <= LARGEST_RESIDUAL_DEG)) {
                return Optional.empty();
            }
            return Optional.of(new SecondOrder(s, c, residual, error, used));
        }
    }
}
