package org.shiftstand.capture;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;

/**
 * Whether two columns go round an ellipse, as the two outputs of a Hall pair do.
 *
 * <p>Algebraic least squares of A x² + B xy + C y² + D x + E y = 1 on one or two points for each of 64 × 64 cells, so that long
 * rests weigh no more than motion; points off it by more than a tenth of the radius are left out, three times over. A rough
 * test of kind: the angle is corrected elsewhere, and better.
 *
 * @param residual rms of radius over mean radius less 1, of the points on it
 * @param onIt share of cells within a tenth of the radius
 * @param sectors of twelve, how many hold points
 * @param gainRatio smaller over larger semi-extent
 * @param phaseDeg departure from quadrature
 * @param low least value that the whole ellipse has, of both columns
 * @param high largest
 */
record CircleTest(
        double residual, double onIt, int sectors, double gainRatio, double phaseDeg, double[] low, double[] high) {
    private static final int CELLS = 64;
    private static final double OFF = 0.1;

    /** Limits of the test: Hall pairs of the bench captures stay below 0.02, hum and clipping below 0.05. */
    private static final double MOST_RESIDUAL = 0.06;

    /** Fits; empty where the points are no ellipse. */
    static Optional<CircleTest> of(double[] x, double[] y, int n) {
        double[][] cells = cells(x, y, n);
        int m = cells[0].length;
        if (m < 12) {
            return Optional.empty();
        }
        boolean[] used = new boolean[m];
        Arrays.fill(used, true);
        for (int round = 0; ; round++) {
            Optional<double[]> form = solve(cells, used);
            if (form.isEmpty()) {
                return Optional.empty();
            }
            double tolerance = round == 0 ? 0.3 : OFF;
            if (round == 3) {
                return judge(form.get(), cells, x, y, n);
            }
            for (int i = 0; i < m; i++) {
                used[i] = Math.abs(radius(form.get(), cells[0][i], cells[1][i]) - 1) <= tolerance;
            }
        }
    }

    /** Up to two points of each cell, scaled to −1 … 1. */
    private static double[][] cells(double[] x, double[] y, int n) {
        double[] a = scaled(x, n);
        double[] b = scaled(y, n);
        int[] taken = new int[CELLS * CELLS];
        double[][] kept = new double[2][n];
        int m = 0;
        for (int i = 0; i < n; i++) {
            int cell = cell(a[i]) * CELLS + cell(b[i]);
            if (taken[cell]++ < 2) {
                kept[0][m] = a[i];
                kept[1][m++] = b[i];
            }
        }
        return new double[][] {Arrays.copyOf(kept[0], m), Arrays.copyOf(kept[1], m)};
    }

    private static int cell(double v) {
        return (int) Math.max(0, Math.min(CELLS - 1, (v + 1) / 2 * CELLS));
    }

    private static double[] scaled(double[] x, int n) {
        double low = middle(x, n) - half(x, n);
        double half = half(x, n);
        double[] scaled = new double[n];
        for (int i = 0; i < n; i++) {
            scaled[i] = half > 0 ? (x[i] - low) / half - 1 : 0;
        }
        return scaled;
    }

    private static double middle(double[] x, int n) {
        double[] range = range(x, n);
        return range[0] + (range[1] - range[0]) / 2;
    }

    private static double half(double[] x, int n) {
        double[] range = range(x, n);
        return (range[1] - range[0]) / 2;
    }

    /** Not the extremes: one spike must not make the ellipse small. */
    private static double[] range(double[] x, int n) {
        double[] sorted = Arrays.copyOf(x, n);
        Arrays.sort(sorted);
        return new double[] {sorted[n / 200], sorted[n - 1 - n / 200]};
    }

    private static Optional<double[]> solve(double[][] p, boolean[] used) {
        int m = 0;
        for (boolean u : used) {
            m += u ? 1 : 0;
        }
        if (m < 12) {
            return Optional.empty();
        }
        double[][] rows = new double[m][];
        int k = 0;
        for (int i = 0; i < used.length; i++) {
            if (used[i]) {
                double x = p[0][i];
                double y = p[1][i];
                rows[k++] = new double[] {x * x, x * y, y * y, x, y};
            }
        }
        double[] ones = new double[m];
        Arrays.fill(ones, 1);
        try {
            RealVector form = new QRDecomposition(new Array2DRowRealMatrix(rows, false), 1e-9)
                    .getSolver()
                    .solve(new ArrayRealVector(ones, false));
            double[] c = form.toArray();
            boolean ellipse = 4 * c[0] * c[2] - c[1] * c[1] > 0 && centreValue(c) > 0;
            return ellipse ? Optional.of(c) : Optional.empty();
        } catch (SingularMatrixException e) {
            return Optional.empty(); // all on one line: no ellipse
        }
    }

    private static double[] centre(double[] c) {
        double d = 4 * c[0] * c[2] - c[1] * c[1];
        return new double[] {(c[1] * c[4] - 2 * c[2] * c[3]) / d, (c[1] * c[3] - 2 * c[0] * c[4]) / d};
    }

    /** 1 less the form at the centre: what the squares add up to on the ellipse, over A or C of one sign. */
    private static double centreValue(double[] c) {
        double[] m = centre(c);
        double size = 1 + c[0] * m[0] * m[0] + c[1] * m[0] * m[1] + c[2] * m[1] * m[1];
        return size / c[0] > 0 && c[0] * c[2] > 0 ? size * Math.signum(c[0]) : -1;
    }

    private static double radius(double[] c, double x, double y) {
        double[] m = centre(c);
        double dx = x - m[0];
        double dy = y - m[1];
        double s = Math.signum(c[0]);
        return Math.sqrt(Math.max(0, s * (c[0] * dx * dx + c[1] * dx * dy + c[2] * dy * dy)) / centreValue(c));
    }

    private static Optional<CircleTest> judge(double[] c, double[][] p, double[] x, double[] y, int n) {
        double[] m = centre(c);
        double s = Math.signum(c[0]);
        double k = 4 * c[0] * c[2] - c[1] * c[1];
        double halfX = Math.sqrt(4 * s * c[2] * centreValue(c) / k);
        double halfY = Math.sqrt(4 * s * c[0] * centreValue(c) / k);
        double sum = 0;
        int on = 0;
        boolean[] seen = new boolean[12];
        for (int i = 0; i < p[0].length; i++) {
            double off = radius(c, p[0][i], p[1][i]) - 1;
            if (Math.abs(off) <= OFF) {
                sum += off * off;
                on++;
                double phi = Math.atan2((p[1][i] - m[1]) / halfY, (p[0][i] - m[0]) / halfX);
                seen[(int) Math.floor((phi + Math.PI) / (2 * Math.PI) * 12) % 12] = true;
            }
        }
        int sectors = 0;
        for (boolean b : seen) {
            sectors += b ? 1 : 0;
        }
        double sx = half(x, n);
        double sy = half(y, n);
        double mx = middle(x, n);
        double my = middle(y, n);
        double ex = halfX * sx;
        double ey = halfY * sy;
        return Optional.of(new CircleTest(
                Math.sqrt(sum / Math.max(1, on)),
                (double) on / p[0].length,
                sectors,
                Math.min(ex, ey) / Math.max(ex, ey),
                Math.toDegrees(Math.asin(-s * c[1] / Math.sqrt(4 * c[0] * c[2]))),
                new double[] {mx + m[0] * sx - ex, my + m[1] * sy - ey},
                new double[] {mx + m[0] * sx + ex, my + m[1] * sy + ey}));
    }

    /** Whether the two are taken for a Hall pair. */
    boolean passes() {
        return residual <= MOST_RESIDUAL
                && onIt >= 0.8
                && sectors >= 10
                && gainRatio >= 0.2
                && Math.abs(phaseDeg) <= 45;
    }

    String words() {
        return String.format(
                Locale.ROOT,
                "circle test: %.0f %% of where they go is on one ellipse (rms %.1f %% of its radius, gain ratio %.2f,"
                        + " %.0f deg from quadrature, %d of 12 sectors seen)",
                100 * onIt,
                100 * residual,
                gainRatio,
                Math.abs(phaseDeg),
                sectors);
    }
}
