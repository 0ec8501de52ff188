package org.shiftstand.stats;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.List;

/**
 * One-way analysis of variance.
 *
 * <p>Sums of squares are formed in decimal arithmetic of 40 digits from the shortest decimal that reads back as each value:
 * measured values are decimals, and differences in their eleventh digit count as they were written (NIST StRD).
 *
 * @param between sum of squares of the group means about the mean of all
 * @param within sum of squares of the values about their group's mean
 * @param betweenFreedom groups − 1
 * @param withinFreedom values − groups
 */
public record OneWayAnova(double between, double within, int betweenFreedom, int withinFreedom) {
    private static final MathContext DIGITS = new MathContext(40);

    /** @param groups two or more, none empty, with more values than groups altogether */
    public static OneWayAnova of(List<Sample> groups) {
        int n = groups.stream().mapToInt(Sample::count).sum();
        if (groups.size() < 2 || n <= groups.size() || groups.stream().anyMatch(g -> g.count() == 0)) {
            throw new IllegalArgumentException("two groups or more, none empty, more values than groups: groups="
                    + groups.size() + ", values=" + n);
        }
        BigDecimal all = BigDecimal.ZERO;
        for (Sample group : groups) {
            all = all.add(sum(group));
        }
        BigDecimal mean = all.divide(BigDecimal.valueOf(n), DIGITS);
        BigDecimal between = BigDecimal.ZERO;
        BigDecimal within = BigDecimal.ZERO;
        for (Sample group : groups) {
            BigDecimal own = sum(group).divide(BigDecimal.valueOf(group.count()), DIGITS);
            BigDecimal off = own.subtract(mean);
            between = between.add(off.multiply(off).multiply(BigDecimal.valueOf(group.count())), DIGITS);
            for (double value : group.sorted()) {
                BigDecimal d = BigDecimal.valueOf(value).subtract(own);
                within = within.add(d.multiply(d), DIGITS);
            }
        }
        return new OneWayAnova(between.doubleValue(), within.doubleValue(), groups.size() - 1, n - groups.size());
    }

    private static BigDecimal sum(Sample group) {
        BigDecimal sum = BigDecimal.ZERO;
        for (double value : group.sorted()) {
            sum = sum.add(BigDecimal.valueOf(value));
        }
        return sum;
    }

    public double betweenMeanSquare() {
        return between / betweenFreedom;
    }

    public double withinMeanSquare() {
        return within / withinFreedom;
    }

    /** Mean squares' ratio; infinite where nothing varies within groups. */
    public double f() {
        return betweenMeanSquare() / withinMeanSquare();
    }

    /** Of groups that all have one mean. */
    public double pValue() {
        return VarianceRatio.pValue(f(), betweenFreedom, withinFreedom);
    }

    /** Share of the variation that lies between groups. */
    public double rSquared() {
        return between / (between + within);
    }

    /** Within groups: the pooled standard deviation. */
    public double residualSd() {
        return Math.sqrt(withinMeanSquare());
    }
}
