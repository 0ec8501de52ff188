package org.shiftstand.stats;

import java.util.Arrays;

/**
 * Values of a crossed gauge study: every unit in every mount, each measured several times.
 *
 * <p>A mount stands where other trades have an operator: whatever is done anew between repeats, here clamping the unit into
 * the rig again.
 */
public final class CrossedStudy {
    private final double[][][] values;

    private CrossedStudy(double[][][] values) {
        this.values = values;
    }

    /**
     * A study.
     *
     * @param values finite, {@code [unit][mount][repeat]}, each at least 2; not changed
     * @throws IllegalArgumentException where it is smaller, or a cell has more or fewer repeats than the others
     */
    public static CrossedStudy of(double[][][] values) {
        int units = values.length;
        int mounts = units == 0 ? 0 : values[0].length;
        int repeats = mounts == 0 ? 0 : values[0][0].length;
        if (units < 2 || mounts < 2 || repeats < 2) {
            throw new IllegalArgumentException("a crossed study has at least 2 units, 2 mounts and 2 repeats: units="
                    + units + ", mounts=" + mounts + ", repeats=" + repeats);
        }
        double[][][] copy = new double[units][mounts][];
        for (int i = 0; i < units; i++) {
            if (values[i].length != mounts) {
                throw new IllegalArgumentException("every unit has as many mounts: unit=" + i + ", mounts="
                        + values[i].length + ", expected=" + mounts);
            }
            for (int j = 0; j < mounts; j++) {
                copy[i][j] = values[i][j].clone();
                if (copy[i][j].length != repeats || !Arrays.stream(copy[i][j]).allMatch(Double::isFinite)) {
                    throw new IllegalArgumentException("every cell has as many finite values: unit=" + i + ", mount="
                            + j + ", values=" + Arrays.toString(copy[i][j]) + ", expected=" + repeats);
                }
            }
        }
        return new CrossedStudy(copy);
    }

    public int units() {
        return values.length;
    }

    public int mounts() {
        return values[0].length;
    }

    public int repeats() {
        return values[0][0].length;
    }

    double value(int unit, int mount, int repeat) {
        return values[unit][mount][repeat];
    }

    double cellMean(int unit, int mount) {
        return Arrays.stream(values[unit][mount]).sum() / repeats();
    }

    double unitMean(int unit) {
        double sum = 0;
        for (int j = 0; j < mounts(); j++) {
            sum += cellMean(unit, j);
        }
        return sum / mounts();
    }

    double mountMean(int mount) {
        double sum = 0;
        for (int i = 0; i < units(); i++) {
            sum += cellMean(i, mount);
        }
        return sum / units();
    }

    /** Mean of all values. */
    public double mean() {
        double sum = 0;
        for (int i = 0; i < units(); i++) {
            sum += unitMean(i);
        }
        return sum / units();
    }

    /** Mean of the ranges of all cells. */
    double meanRange() {
        double sum = 0;
        for (double[][] unit : values) {
            for (double[] cell : unit) {
                sum += range(cell);
            }
        }
        return sum / units() / mounts();
    }

    double rangeOfUnitMeans() {
        double[] means = new double[units()];
        Arrays.setAll(means, this::unitMean);
        return range(means);
    }

    double rangeOfMountMeans() {
        double[] means = new double[mounts()];
        Arrays.setAll(means, this::mountMean);
        return range(means);
    }

    private static double range(double[] some) {
        return Arrays.stream(some).max().orElseThrow()
                - Arrays.stream(some).min().orElseThrow();
    }
}
