package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;

/**
 * A linear axis: values to drawing units, with round ticks.
 *
 * @param low value at {@code atLow}
 * @param high value at {@code atHigh}; above {@code low}
 */
record Scale(double low, double high, double atLow, double atHigh) {
    Scale {
        if (!(high > low)) {
            throw new IllegalArgumentException("an axis needs a span: low=" + low + ", high=" + high);
        }
    }

    double at(double value) {
        return atLow + (value - low) / (high - low) * (atHigh - atLow);
    }

    /** Inside the axis, else at its nearer end. */
    double clamped(double value) {
        return at(Math.max(low, Math.min(high, value)));
    }

    boolean holds(double value) {
        return low <= value && value <= high;
    }

    /** Step of 1, 2 or 5 times a power of ten that gives at most {@code most} ticks. */
    double step(int most) {
        double rough = (high - low) / Math.max(1, most);
        double power = Math.pow(10, Math.floor(Math.log10(rough)));
        for (int factor : new int[] {1, 2, 5}) {
            if (factor * power >= rough) {
                return factor * power;
            }
        }
        return 10 * power;
    }

    List<Double> ticks(int most) {
        return multiples(step(most));
    }

    /** Ticks at whole numbers only. */
    List<Double> wholeTicks(int most) {
        return multiples(Math.max(1, step(most)));
    }

    /** Decimals that tell neighbouring ticks apart. */
    int tickDecimals(int most) {
        return Math.max(0, (int) -Math.floor(Math.log10(step(most)) + 1e-9));
    }

    private List<Double> multiples(double step) {
        List<Double> ticks = new ArrayList<>();
        long first = (long) Math.ceil(low / step - 1e-9);
        long last = (long) Math.floor(high / step + 1e-9);
        for (long k = first; k <= last; k++) {
            ticks.add(k * step);
        }
        return ticks;
    }
}
