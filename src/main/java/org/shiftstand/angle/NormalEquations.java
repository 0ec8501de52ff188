package org.shiftstand.angle;

import java.util.Optional;

/** Sums of a linear least-squares problem with a few unknowns. */
final class NormalEquations {
    /** Pivot over the largest diagonal element below which an unknown is not determined. */
    private static final double SINGULAR = 1e-12;

    private final int unknowns;
    private final double[][] products;
    private final double[] right;
    private double squares;
    private long rows;

    NormalEquations(int unknowns) {
        this.unknowns = unknowns;
        products = new double[unknowns][unknowns];
        right = new double[unknowns];
    }

    /** Takes one row: what is observed, and what each unknown contributes to it. */
    void add(double[] row, double observed) {
        for (int i = 0; i < unknowns; i++) {
            for (int k = 0; k < unknowns; k++) {
                products[i][k] += row[i] * row[k];
            }
            right[i] += row[i] * observed;
        }
        squares += observed * observed;
        rows++;
    }

    long rows() {
        return rows;
    }

    /**
     * What solves them.
     *
     * @param values of the unknowns
     * @param variances of the unknowns over the variance of one row
     * @param squaresLeft sum of squares of what is left
     */
    record Solution(double[] values, double[] variances, double squaresLeft) {}

    /** Empty where an unknown is not determined. */
    Optional<Solution> solve() {
        int n = unknowns;
        double[][] m = new double[n][2 * n];
        double largest = 0;
        for (int i = 0; i < n; i++) {
            System.arraycopy(products[i], 0, m[i], 0, n);
            m[i][n + i] = 1;
            largest = Math.max(largest, products[i][i]);
        }
        for (int k = 0; k < n; k++) {
            double pivot = m[k][k]; // positive definite: no search for another pivot
            if (!(pivot > SINGULAR * largest)) {
                return Optional.empty();
            }
            for (int j = 0; j < 2 * n; j++) {
                m[k][j] /= pivot;
            }
            for (int i = 0; i < n; i++) {
                double factor = m[i][k];
                for (int j = 0; i != k && j < 2 * n; j++) {
                    m[i][j] -= factor * m[k][j];
                }
            }
        }
        double[] values = new double[n];
        double[] variances = new double[n];
        double left = squares;
        for (int i = 0; i < n; i++) {
            for (int k = 0; k < n; k++) {
                values[i] += m[i][n + k] * right[k];
            }
            variances[i] = m[i][n + i];
            left -= values[i] * right[i];
        }
        return Optional.of(new Solution(values, variances, Math.max(0, left)));
    }
}
