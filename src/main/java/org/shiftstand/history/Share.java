package org.shiftstand.history;

import org.shiftstand.stats.ConfidenceLimits;

/**
 * A share of passes, with its two-sided 95 % interval (Clopper and Pearson 1934). Runs without a verdict are no trials: whether those
 * units pass is not known.
 *
 * @param passes among the trials
 * @param trials passes and fails
 * @param undecided runs without a verdict
 */
public record Share(int passes, int trials, int undecided) {
    /** Each limit by itself, for 95 % between both. */
    private static final double ONE_SIDED = 0.975;

    Share plus(String verdict, int units) {
        return new Share(
                passes + (verdict.equals("pass") ? units : 0),
                trials + (verdict.equals("no-verdict") ? 0 : units),
                undecided + (verdict.equals("no-verdict") ? units : 0));
    }

    static Share none() {
        return new Share(0, 0, 0);
    }

    /** Not a number without trials. */
    public double value() {
        return trials == 0 ? Double.NaN : (double) passes / trials;
    }

    /** Not a number without trials. */
    public double low() {
        return trials == 0
                ? Double.NaN
                : ConfidenceLimits.proportion(passes, trials, ONE_SIDED).low();
    }

    /** Not a number without trials. */
    public double high() {
        return trials == 0
                ? Double.NaN
                : ConfidenceLimits.proportion(passes, trials, ONE_SIDED).high();
    }
}
