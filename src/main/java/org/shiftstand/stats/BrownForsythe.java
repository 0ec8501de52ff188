package org.shiftstand.stats;

import java.util.Arrays;
import java.util.List;

/**
 * Whether groups scatter alike: Levene's test about medians (Brown and Forsythe, J. Am. Stat. Assoc. 69, 364–367, 1974;
 * NIST/SEMATECH e-Handbook 1.3.5.10). About means the statistic is another one.
 *
 * @param w analysis of variance of the distances from each group's median
 * @param pValue of groups that all scatter alike
 */
public record BrownForsythe(double w, double pValue, int betweenFreedom, int withinFreedom) {
    /** @param groups as {@link OneWayAnova#of} takes them */
    public static BrownForsythe of(List<Sample> groups) {
        OneWayAnova anova =
                OneWayAnova.of(groups.stream().map(BrownForsythe::distances).toList());
        return new BrownForsythe(anova.f(), anova.pValue(), anova.betweenFreedom(), anova.withinFreedom());
    }

    /**
     * Where the distances follow each other: as many values as they are worth.
     *
     * @param share effective over actual number of distances, above 0 to 1
     */
    public double pValue(double share) {
        double within = share * (betweenFreedom + withinFreedom + 1) - betweenFreedom - 1;
        return within <= 0 ? 1 : VarianceRatio.pValue(share * w, betweenFreedom, within);
    }

    private static Sample distances(Sample group) {
        double median = group.median().orElse(0);
        return Sample.of(Arrays.stream(group.sorted())
                .map(value -> Math.abs(value - median))
                .toArray());
    }
}
