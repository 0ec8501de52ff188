package org.shiftstand.planning;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.junit.jupiter.api.Test;

class PowerTest {
    private static final int REPETITIONS = 400;

    private static ClauseExplanation explained(String clause, double wanted) {
        return Laid.explained(
                clause, 24, new Assumptions(SoundUnit.USUAL, false, REPETITIONS, 1, OptionalDouble.of(wanted)));
    }

    /** The exact number by the chi-squared distribution, for the same good and bad spread. */
    @Test
    void a_spread_needs_as_many_cycles_as_the_distribution_says() {
        ClauseExplanation clause = explained(
                "measure: landing, where: { to: 3, direction: inboard }, statistic: standard-deviation, needs: 2 shifts,"
                        + " at-most: 14 deg",
                0.95);
        double bad = clause.curve().orElseThrow().bad();

        int found = clause.power().orElseThrow().cycles().orElseThrow();

        // the chance that 400 repetitions put it elsewhere than between 93 and 97 % is below 0.1
        assertThat(found).isBetween(exact(bad, 0.93), exact(bad, 0.97));
    }

    private static int exact(double bad, double wanted) {
        int n = 2;
        while (passes(n, 10.5) < wanted || passes(n, bad) > 1 - wanted) {
            n++;
        }
        return n;
    }

    private static double passes(int n, double sd) {
        return new ChiSquaredDistribution(n - 1.0).cumulativeProbability((n - 1) * 14 * 14 / (sd * sd));
    }

    /** The longer it is looked at, the likelier one of its shifts lies outside. */
    @Test
    void an_extreme_that_a_sound_unit_meets_sooner_or_later_has_no_such_number() {
        Power power = explained("measure: landing-error, statistic: every, between: [-25 deg, 25 deg]", 0.95)
                .power()
                .orElseThrow();

        assertThat(power.cycles()).isEmpty();
        assertThat(power.why())
                .contains("where cycles are enough to tell the bad unit, a sound one does not pass so surely");
    }

    @Test
    void a_bad_unit_that_one_cycle_tells_needs_one() {
        Power power = explained("measure: hold, statistic: every, between: [620 ms, 800 ms]", 0.95)
                .power()
                .orElseThrow();

        assertThat(power.cycles()).hasValue(1);
        assertThat(power.seconds()).hasValue(Laid.sweeps(24).seconds(1));
    }
}
