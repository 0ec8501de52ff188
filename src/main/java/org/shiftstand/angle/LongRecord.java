package org.shiftstand.angle;

import java.util.List;
import java.util.Optional;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;

/**
 * Learns the orders 2, 3 and 4 of the angle term together, where a record is long enough to tell them.
 *
 * <p>Needed are more than {@value Stretches#MOST} stretches seen, {@value #FEWEST} of near-constant speed kept, and a
 * variance that falls by {@value #LEAST_GAIN} at least on stretches that had no part in the fit, each time: learned from
 * odd and held against even runs of {@value #RUN} stretches, and the other way round; and where both senses of motion
 * have enough stretches, learned from one and held against the other, because an error of the sensor belongs to the
 * angle, whatever the sense, while a speed that only looks steady does not. What a gear does to the speed alike in both
 * senses, always at the same angles of the shaft, cannot be told from the sensor, here as with the second order.
 *
 * @param sin2Deg order 2, found together with the others, degrees
 * @param cos2Deg the same
 * @param higher the others
 * @param residualDeg root mean square of what is left on all stretches, degrees
 * @param standardErrorDeg of a coefficient, the largest one, degrees
 */
record LongRecord(double sin2Deg, double cos2Deg, HigherOrder higher, double residualDeg, double standardErrorDeg) {
    static final int FEWEST = 400;
    static final double LEAST_GAIN = 0.005;
    static final int RUN = 16;
    private static final int OF_EACH_SENSE = 100;
    private static final int SECOND = 2;
    private static final int ALL = 6;

    /** Empty on short records and where higher orders gain nothing. */
    static Optional<LongRecord> learn(Stretches from, Ellipse ellipse, Rails rails, SecondOrder second) {
        if (from.seen() <= Stretches.MOST) {
            return Optional.empty();
        }
        List<SteadyStretch> steady =
                SecondOrder.fitting(SteadyStretch.all(from, ellipse, rails), second, SecondOrder.FAR);
        if (steady.size() < FEWEST) {
            return Optional.empty();
        }
        double[] before = new double[2];
        double[] after = new double[2];
        IntPredicate oddRun = i -> i / RUN % 2 == 1;
        boolean gains = gain(steady, oddRun, before, after) && gain(steady, oddRun.negate(), before, after);
        IntPredicate upwards = i -> steady.get(i).travelDeg > 0;
        long up = IntStream.range(0, steady.size()).filter(upwards).count();
        if (Math.min(up, steady.size() - up) >= OF_EACH_SENSE) {
            gains = gains
                    && gain(steady, upwards, new double[2], new double[2])
                    && gain(steady, upwards.negate(), new double[2], new double[2]);
        }
        return gains
                ? fit(steady, i -> true, ALL).map(all -> of(all, steady.size(), rms(before), rms(after)))
                : Optional.empty();
    }

    /** Learns from some stretches and holds that against the others; adds {sum of squares, knots} before and after. */
    private static boolean gain(List<SteadyStretch> steady, IntPredicate learned, double[] before, double[] after) {
        var two = fit(steady, learned, SECOND);
        var all = fit(steady, learned, ALL);
        if (two.isEmpty() || all.isEmpty()) {
            return false;
        }
        double beforeHere = left(steady, learned.negate(), two.get().values());
        double afterHere = left(steady, learned.negate(), all.get().values());
        double knots =
                IntStream.range(0, steady.size()).filter(learned.negate()).count() * (Stretches.KNOTS - 4.0);
        before[0] += beforeHere;
        before[1] += knots;
        after[0] += afterHere;
        after[1] += knots;
        return afterHere <= (1 - LEAST_GAIN) * beforeHere;
    }

    private static double rms(double[] sumAndCount) {
        return Math.sqrt(sumAndCount[0] / sumAndCount[1]);
    }

    private static Optional<NormalEquations.Solution> fit(
            List<SteadyStretch> steady, IntPredicate learned, int unknowns) {
        var equations = new NormalEquations(unknowns);
        double[] row = new double[ALL];
        for (int s = 0; s < steady.size(); s++) {
            for (int i = 0; learned.test(s) && i < Stretches.KNOTS; i++) {
                steady.get(s).waves(i, row);
                equations.add(row, steady.get(s).angleDeg[i]);
            }
        }
        return equations.solve();
    }

    private static double left(List<SteadyStretch> steady, IntPredicate heldOut, double[] values) {
        double sum = 0;
        double[] row = new double[ALL];
        for (int s = 0; s < steady.size(); s++) {
            for (int i = 0; heldOut.test(s) && i < Stretches.KNOTS; i++) {
                steady.get(s).waves(i, row);
                double left = steady.get(s).angleDeg[i];
                for (int k = 0; k < values.length; k++) {
                    left -= values[k] * row[k];
                }
                sum += left * left;
            }
        }
        return sum;
    }

    private static LongRecord of(NormalEquations.Solution all, int stretches, double before, double after) {
        double[] v = all.values();
        double freedom = stretches * (Stretches.KNOTS - 4.0) - ALL;
        double residual = Math.sqrt(all.squaresLeft() / freedom);
        double largest = 0;
        for (double variance : all.variances()) {
            largest = Math.max(largest, variance);
        }
        var higher = new HigherOrder(v[2], v[3], v[4], v[5], before, after, stretches);
        return new LongRecord(v[0], v[1], higher, residual, residual * Math.sqrt(largest));
    }
}
