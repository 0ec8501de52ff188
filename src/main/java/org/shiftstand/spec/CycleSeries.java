package org.shiftstand.spec;

import java.util.List;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.Sample;

/** One value a cycle, in the order of the cycles; a final class since it carries arrays. */
public final class CycleSeries {
    private final int[] cycles;
    private final double[] values;

    private CycleSeries(int[] cycles, double[] values) {
        this.cycles = cycles;
        this.values = values;
    }

    /**
     * Of each cycle the median of its shifts' values, so that a cycle counts once however many shifts it has. Shifts of
     * cycle 0, which no clause is about, are left out.
     *
     * @param shifts in any order
     * @param values one for each shift, finite; not changed
     */
    public static CycleSeries of(List<Shift> shifts, double[] values) {
        TreeMap<Integer, double[]> byCycle = new TreeMap<>();
        for (int i = 0; i < values.length; i++) {
            int cycle = shifts.get(i).cycle();
            double value = values[i];
            if (cycle > 0) {
                byCycle.merge(cycle, new double[] {value}, CycleSeries::join);
            }
        }
        int[] cycles = byCycle.keySet().stream().mapToInt(Integer::intValue).toArray();
        double[] medians = byCycle.values().stream()
                .mapToDouble(all -> Sample.of(all).median().orElseThrow())
                .toArray();
        return new CycleSeries(cycles, medians);
    }

    /**
     * Values of these cycles.
     *
     * @param cycles ascending, each once; not changed
     * @param values as many, finite; not changed
     */
    public static CycleSeries of(int[] cycles, double[] values) {
        boolean ascending = IntStream.range(1, cycles.length).allMatch(i -> cycles[i] > cycles[i - 1]);
        if (cycles.length != values.length || !ascending) {
            throw new IllegalArgumentException("each cycle once, ascending, with one value: cycles=" + cycles.length
                    + ", values=" + values.length);
        }
        return new CycleSeries(cycles.clone(), values.clone());
    }

    private static double[] join(double[] some, double[] more) {
        double[] all = java.util.Arrays.copyOf(some, some.length + more.length);
        System.arraycopy(more, 0, all, some.length, more.length);
        return all;
    }

    /** How many cycles have a value. */
    public int size() {
        return cycles.length;
    }

    public int[] cycles() {
        return cycles.clone();
    }

    public double[] values() {
        return values.clone();
    }

    public int cycle(int i) {
        return cycles[i];
    }

    public double value(int i) {
        return values[i];
    }

    /** Last cycle − first cycle; 0 for less than two. */
    public int spanned() {
        return size() < 2 ? 0 : cycles[size() - 1] - cycles[0];
    }

    /** The cycles as abscissas. */
    double[] abscissas() {
        return IntStream.of(cycles).asDoubleStream().toArray();
    }
}
