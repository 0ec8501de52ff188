package org.shiftstand.stats;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.math3.stat.descriptive.moment.Mean;
import org.apache.commons.math3.stat.descriptive.moment.Variance;

/** Values of one kind, in one unit, sorted; their statistics. Empty is allowed: its statistics are empty. */
public final class Sample {
    private final double[] sorted;

    private Sample(double[] sorted) {
        this.sorted = sorted;
    }

    /**
     * A sample of these values, in any order.
     *
     * @param values not changed; finite
     * @throws IllegalArgumentException where a value is NaN or infinite; says which
     */
    public static Sample of(double... values) {
        for (int i = 0; i < values.length; i++) {
            if (!Double.isFinite(values[i])) {
                throw new IllegalArgumentException("a sample takes finite values only: value[" + i + "]=" + values[i]);
            }
        }
        double[] sorted = values.clone();
        Arrays.sort(sorted); // also makes every sum independent of the order given
        return new Sample(sorted);
    }

    /** How many values. */
    public int count() {
        return sorted.length;
    }

    /** Arithmetic mean, two passes; empty for no values. */
    public OptionalDouble mean() {
        return atLeast(1) ? OptionalDouble.of(new Mean().evaluate(sorted)) : OptionalDouble.empty();
    }

    /** Middle value, of an even number the mean of the two middle ones; empty for no values. */
    public OptionalDouble median() {
        return percentile(0.5);
    }

    /**
     * Standard deviation of a sample, divisor n − 1; empty for n below 2.
     *
     * <p>Two passes, corrected (Chan, Golub, LeVeque 1983). Relative error below 1e-9 on NIST StRD NumAcc3.
     */
    public OptionalDouble standardDeviation() {
        return atLeast(2) ? OptionalDouble.of(Math.sqrt(new Variance().evaluate(sorted))) : OptionalDouble.empty();
    }

    /** Largest minus smallest; empty for n below 2, where it says nothing of a spread. */
    public OptionalDouble range() {
        return atLeast(2) ? OptionalDouble.of(sorted[sorted.length - 1] - sorted[0]) : OptionalDouble.empty();
    }

    /** The values in ascending order; not to be changed. */
    double[] sorted() {
        return sorted;
    }

    /** Smallest value; empty for no values. */
    public OptionalDouble minimum() {
        return atLeast(1) ? OptionalDouble.of(sorted[0]) : OptionalDouble.empty();
    }

    /** Largest value; empty for no values. */
    public OptionalDouble maximum() {
        return atLeast(1) ? OptionalDouble.of(sorted[sorted.length - 1]) : OptionalDouble.empty();
    }

    /**
     * Percentile by linear interpolation at (n − 1)p: definition 7 of Hyndman and Fan (1996); empty for no values.
     *
     * <p>Own code: the library's refuses p = 0 and selects anew at each call where these values are sorted already.
     *
     * @param fraction p, 0…1
     */
    public OptionalDouble percentile(double fraction) {
        if (!(fraction >= 0 && fraction <= 1)) {
            throw new IllegalArgumentException("a percentile's fraction lies in 0…1: fraction=" + fraction);
        }
        if (!atLeast(1)) {
            return OptionalDouble.empty();
        }
        double place = (sorted.length - 1) * fraction;
        int below = (int) place;
        int above = Math.min(below + 1, sorted.length - 1);
        return OptionalDouble.of(sorted[below] + (place - below) * (sorted[above] - sorted[below]));
    }

    /**
     * Pooled standard deviation: root of the within-group squares over Σ(n − 1); empty where no group has two values.
     *
     * <p>Each group is centred on its own mean. A group of one value adds nothing, neither square nor freedom.
     */
    public static OptionalDouble pooledStandardDeviation(List<Sample> groups) {
        double squares = 0;
        long freedom = 0;
        for (Sample group : groups) {
            if (group.atLeast(2)) {
                squares += new Variance().evaluate(group.sorted) * (group.count() - 1);
                freedom += group.count() - 1;
            }
        }
        return freedom == 0 ? OptionalDouble.empty() : OptionalDouble.of(Math.sqrt(squares / freedom));
    }

    /**
     * Share of hits; empty for no trials.
     *
     * @param hits 0…trials
     */
    public static OptionalDouble proportion(long hits, long trials) {
        if (hits < 0 || hits > trials) {
            throw new IllegalArgumentException("hits lie in 0…trials: hits=" + hits + ", trials=" + trials);
        }
        return trials == 0 ? OptionalDouble.empty() : OptionalDouble.of((double) hits / trials);
    }

    private boolean atLeast(int n) {
        return sorted.length >= n;
    }
}
