package org.shiftstand.angle;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What a cubic in time leaves of the angle, of sin 2φ and of cos 2φ, over one stretch of near-constant speed. */
final class SteadyStretch {
    private static final int N = Stretches.KNOTS;
    /** Speeds of the four quarters of a stretch may differ by this part of their mean. */
    private static final double SPEED_SPREAD = 0.1;

    private static final double SHORTEST_DEG = 180;
    private static final double RADIUS_TOLERANCE = 0.1;
    /** Between knots; beyond this the turn is not sure. */
    private static final double LONGEST_STEP = 2 * Math.PI / 3;

    final double[] angleDeg = new double[N];
    final double[] sin2 = new double[N];
    final double[] cos2 = new double[N];
    /** Sine and cosine of 3φ, then of 4φ; only on long records. */
    private final double[][] higher;

    /** Over the whole stretch, with its sense, degrees. */
    double travelDeg;

    private SteadyStretch(boolean withHigher) {
        higher = withHigher ? new double[4][N] : new double[0][];
    }

    /** All that are steady; with higher orders where the record is long enough to learn them. */
    static List<SteadyStretch> all(Stretches from, Ellipse ellipse, Rails rails) {
        var steady = new ArrayList<SteadyStretch>();
        for (int s = 0; s < from.stretches(); s++) {
            of(from, s, ellipse, rails).ifPresent(steady::add);
        }
        return steady;
    }

    /** Empty where a knot is a sensor fault, the travel is short, or the speed changes. */
    static Optional<SteadyStretch> of(Stretches from, int index, Ellipse ellipse, Rails rails) {
        var stretch = new SteadyStretch(from.seen() > Stretches.MOST);
        int at = index * N;
        if (!stretch.decode(from, at, ellipse, rails) || !stretch.isSteady(from.timeS, at)) {
            return Optional.empty();
        }
        double[][] cubic = cubic(from.timeS, at);
        leave(stretch.angleDeg, cubic);
        leave(stretch.sin2, cubic);
        leave(stretch.cos2, cubic);
        for (double[] wave : stretch.higher) {
            leave(wave, cubic);
        }
        return Optional.of(stretch);
    }

    private boolean decode(Stretches from, int at, Ellipse ellipse, Rails rails) {
        double last = 0;
        double unwrapped = 0;
        for (int i = 0; i < N; i++) {
            double x = from.cos[at + i];
            double y = from.sin[at + i];
            boolean clipped = rails.ofCos(x) != 0 || rails.ofSin(y) != 0;
            if (!clipped && Math.abs(ellipse.radius(x, y) / ellipse.radius() - 1) > RADIUS_TOLERANCE) {
                return false;
            }
            double phi = ellipse.phi(x, y, rails);
            if (Double.isNaN(phi)) {
                return false;
            }
            double step = i == 0 ? 0 : Math.IEEEremainder(phi - last, 2 * Math.PI);
            if (Math.abs(step) > LONGEST_STEP) {
                return false;
            }
            unwrapped += step;
            last = phi;
            angleDeg[i] = Math.toDegrees(unwrapped);
            sin2[i] = Math.sin(2 * phi);
            cos2[i] = Math.cos(2 * phi);
            for (int w = 0; w < higher.length; w++) {
                double turns = (3 + w / 2) * phi;
                higher[w][i] = w % 2 == 0 ? Math.sin(turns) : Math.cos(turns);
            }
        }
        travelDeg = angleDeg[N - 1];
        return Math.abs(angleDeg[N - 1]) >= SHORTEST_DEG;
    }

    private boolean isSteady(double[] timeS, int at) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        int quarter = (N - 1) / 4;
        for (int a = 0; a + quarter < N; a += quarter) {
            int b = a + quarter;
            double speed = (angleDeg[b] - angleDeg[a]) / (timeS[at + b] - timeS[at + a]);
            least = Math.min(least, speed);
            most = Math.max(most, speed);
        }
        return most - least <= SPEED_SPREAD * Math.abs(most + least) / 2;
    }

    /** Orthonormal polynomials of degree 0 to 3 on the knots' times (Gram and Schmidt, twice). */
    private static double[][] cubic(double[] timeS, int at) {
        double[][] cubic = new double[4][N];
        double mid = (timeS[at] + timeS[at + N - 1]) / 2;
        double half = (timeS[at + N - 1] - timeS[at]) / 2;
        for (int degree = 0; degree < 4; degree++) {
            double[] column = cubic[degree];
            for (int i = 0; i < N; i++) {
                column[i] = degree == 0 ? 1 : cubic[degree - 1][i] * (timeS[at + i] - mid) / half;
            }
            for (int round = 0; round < 2; round++) {
                for (int lower = 0; lower < degree; lower++) {
                    subtract(column, cubic[lower]);
                }
            }
            double norm = Math.sqrt(dot(column, column));
            for (int i = 0; i < N; i++) {
                column[i] /= norm;
            }
        }
        return cubic;
    }

    private static void leave(double[] values, double[][] cubic) {
        for (double[] column : cubic) {
            subtract(values, column);
        }
    }

    /** Takes out of {@code from} its part along the unit vector {@code what}. */
    private static void subtract(double[] from, double[] what) {
        double part = dot(from, what);
        for (int i = 0; i < N; i++) {
            from[i] -= part * what[i];
        }
    }

    private static double dot(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < N; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    /** Sine and cosine of 2φ, 3φ and 4φ at a knot, what a cubic takes of them taken out. */
    void waves(int knot, double[] into) {
        into[0] = sin2[knot];
        into[1] = cos2[knot];
        for (int w = 0; w < higher.length; w++) {
            into[2 + w] = higher[w][knot];
        }
    }

    /** Root mean square of what the term leaves here, degrees. */
    double misfitDeg(SecondOrder term) {
        double sum = 0;
        for (int i = 0; i < N; i++) {
            double left = angleDeg[i] - term.sin2Deg() * sin2[i] - term.cos2Deg() * cos2[i];
            sum += left * left;
        }
        return Math.sqrt(sum / N);
    }
}
