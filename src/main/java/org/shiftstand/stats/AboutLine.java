package org.shiftstand.stats;

import java.util.Arrays;

/**
 * What is left of a series once its straight line (least squares over the places) is taken off, and how it goes with itself.
 * Not for use by several threads: it remembers what was asked.
 */
final class AboutLine {
    private final double[] left;
    private final double squares;
    private final double[] ratios;

    AboutLine(double[] values) {
        int n = values.length;
        double mean = Sample.of(values).mean().orElse(0);
        double slope = 0;
        for (int i = 0; i < n; i++) {
            slope += place(i, n) * (values[i] - mean);
        }
        slope /= placeSquares(n);
        left = new double[n];
        double sum = 0;
        double largest = 0;
        for (int i = 0; i < n; i++) {
            left[i] = values[i] - mean - slope * place(i, n);
            sum += left[i] * left[i];
            largest = Math.max(largest, Math.abs(values[i]));
        }
        double rounding = 4 * Math.ulp(largest);
        squares = sum > n * rounding * rounding ? sum : 0;
        ratios = new double[n];
        Arrays.fill(ratios, Double.NaN);
    }

    int n() {
        return left.length;
    }

    /** Whether anything is left beyond rounding. */
    boolean scatters() {
        return squares > 0;
    }

    /** Σ eᵢ eᵢ₊ₖ / Σ eᵢ². */
    double ratio(int lag) {
        if (Double.isNaN(ratios[lag])) {
            double together = 0;
            for (int i = lag; i < left.length; i++) {
                together += left[i] * left[i - lag];
            }
            ratios[lag] = together / squares;
        }
        return ratios[lag];
    }

    /** Σ hᵢ,ᵢ₊ₖ of the line's own matrix: by so many variances the products of independent values come out too low. */
    double taken(int lag) {
        double n = left.length;
        double pairs = n - lag;
        // places i and i − k about their middle, which is centred as well
        double products = placeSquares(pairs) - pairs * lag * lag / 4;
        return pairs / n + products / placeSquares(n);
    }

    private static double place(int i, int n) {
        return i - (n - 1) / 2.0;
    }

    private static double placeSquares(double n) {
        return n * (n * n - 1) / 12;
    }
}
