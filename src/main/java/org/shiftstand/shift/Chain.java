package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.ToDoubleBiFunction;
import org.jspecify.annotations.Nullable;

/**
 * Motions in a row that may belong to one shift, measured in every grouping that is possible.
 *
 * <p>By ratio, a motion of less than {@value #RETURN_RATIO} of the one it opposes is its return. A profile may say
 * otherwise: the grouping whose landings fit nominal wins, and the ratio only where that leaves a tie.
 */
final class Chain {
    static final double RETURN_RATIO = 0.6;
    static final double DOUBTFUL_FROM = 0.5;
    static final double DOUBTFUL_TO = 0.75;

    /** At i n + j: motions i…j as one shift; null where that was not measured. */
    private final @Nullable RawShift[] groups;

    private final int n;
    private final List<Double> ratios;
    private final boolean choice;

    /**
     * @param n how many motions
     * @param groups at i n + j motions i…j as one shift; null where that was not measured
     */
    Chain(int n, @Nullable RawShift[] groups, List<Double> ratios, boolean choice) {
        this.n = n;
        this.groups = groups;
        this.ratios = ratios;
        this.choice = choice;
    }

    static Chain of(RawShift shift) {
        return new Chain(1, new RawShift[] {shift}, List.of(), false);
    }

    /** Whether motions i…j are one shift by their ratios. */
    static boolean usual(List<Double> ratios, int i, int j, int n) {
        for (int k = i; k < j; k++) {
            if (ratios.get(k) >= RETURN_RATIO) {
                return false;
            }
        }
        return (i == 0 || ratios.get(i - 1) >= RETURN_RATIO) && (j + 1 == n || ratios.get(j) >= RETURN_RATIO);
    }

    /** Numbers the stretches of certain turns, the first being {@code stretch}; returns the last. */
    int number(int stretch) {
        int now = stretch;
        for (RawShift shift : choice ? all() : usual()) {
            shift.startStretch = now;
            now += shift.turnUncertain ? 1 : 0;
            shift.landingStretch = now;
        }
        return now;
    }

    /** The groups that end with the last motion. */
    List<RawShift> endings() {
        return endings(n - 1);
    }

    /** The groups that end with motion {@code j}. */
    List<RawShift> endings(int j) {
        List<RawShift> endings = new ArrayList<>();
        for (int i = 0; i <= j; i++) {
            RawShift shift = groups[i * n + j];
            if (shift != null) {
                endings.add(shift);
            }
        }
        return endings;
    }

    /** Grouped by ratio. */
    List<RawShift> usual() {
        List<RawShift> shifts = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            for (int j = i; j < n; j++) {
                if (n == 1 || usual(ratios, i, j, n)) {
                    shifts.add(group(i, j));
                }
            }
        }
        return shifts;
    }

    List<RawShift> all() {
        List<RawShift> all = new ArrayList<>();
        for (RawShift shift : groups) {
            if (shift != null) {
                all.add(shift);
            }
        }
        return all;
    }

    /**
     * The grouping whose landings fit best.
     *
     * @param misfit distance of an angle of the track from the nearest nominal, in quarters of a pitch there
     */
    List<RawShift> fitting(ToDoubleBiFunction<RawShift, Double> misfit) {
        if (!choice || n < 2) {
            return usual();
        }
        double[] cost = new double[n + 1];
        int[] begins = new int[n + 1];
        for (int end = 1; end <= n; end++) {
            cost[end] = Double.MAX_VALUE;
            for (int begin = 0; begin < end; begin++) {
                double c = cost[begin] + cost(begin, end - 1, misfit);
                if (c < cost[end]) {
                    cost[end] = c;
                    begins[end] = begin;
                }
            }
        }
        List<RawShift> shifts = new ArrayList<>();
        for (int end = n; end > 0; end = begins[end]) {
            shifts.add(0, group(begins[end], end - 1));
        }
        return shifts;
    }

    private RawShift group(int i, int j) {
        return Objects.requireNonNull(groups[i * n + j]);
    }

    private double cost(int i, int j, ToDoubleBiFunction<RawShift, Double> misfit) {
        RawShift group = group(i, j);
        double cost = misfit.applyAsDouble(group, group.landingDeg) > 1 ? 1 : 0;
        for (int k = i; k < j; k++) {
            // what joining motions k and k + 1 has against it; splitting them has the same against it elsewhere
            RawShift inner = group(k, k);
            boolean atSprocket = misfit.applyAsDouble(inner, inner.landingDeg) <= 1;
            boolean split = ratios.get(k) > DOUBTFUL_TO || ratios.get(k) >= DOUBTFUL_FROM && atSprocket;
            cost += split ? 0.1 : -0.1;
        }
        return cost;
    }
}
