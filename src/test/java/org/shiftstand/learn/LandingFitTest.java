package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;

/** The model of landings on drawn numbers whose truth is known. */
class LandingFitTest {
    private static final double REVERSAL = 4;
    private static final double BIAS = 6.6;
    private static final int N = 9;

    private static SeenShift shift(int from, int to, boolean past, double landing) {
        Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
        for (Measure measure : Measure.values()) {
            measures.put(measure, new Measured.NotApplicable());
        }
        measures.put(Measure.LANDING, new Measured.Value(landing));
        measures.put(Measure.OVERTRAVEL, new Measured.Value(past ? 200 : 0));
        Shift shift = new Shift(
                1,
                1,
                from,
                to,
                Direction.of(to - from),
                Outcome.LANDED,
                Evidence.COMPLETE,
                false,
                false,
                Optional.empty(),
                OptionalDouble.empty(),
                measures,
                List.of());
        return new SeenShift(0, 0, from, to, shift);
    }

    private static double landing(int to, int direction, boolean past, double noise) {
        int approach = past ? -direction : direction;
        return 700.0 * (to - 1) + direction * REVERSAL - approach * BIAS + noise;
    }

    /** @param pastInboard how many of the first shifts inboard have overtravel; outboard all have */
    private static List<SeenShift> sweeps(int times, int pastInboard, double sd, Random random) {
        List<SeenShift> shifts = new ArrayList<>();
        for (int i = 0; i < times; i++) {
            for (int k = 1; k < N; k++) {
                boolean past = k <= pastInboard;
                shifts.add(shift(k, k + 1, past, landing(k + 1, 1, past, sd * random.nextGaussian())));
                shifts.add(shift(k + 1, k, true, landing(k, -1, true, sd * random.nextGaussian())));
            }
        }
        return shifts;
    }

    @Test
    void bias_and_reversal_come_out_exactly_where_nothing_scatters() {
        LandingFit fit = LandingFit.of(sweeps(2, 4, 0, new Random(1)), N, 1, Double.NaN);

        assertThat(fit.biasDeg()).isCloseTo(BIAS, within(1e-9));
        assertThat(fit.reversalDeg()).isCloseTo(REVERSAL, within(1e-9));
        assertThat(fit.positionDeg(5) - fit.positionDeg(1)).isCloseTo(2800, within(1e-8));
    }

    @Test
    void a_bias_is_not_told_from_reversal_where_all_shifts_go_past() {
        LandingFit fit = LandingFit.of(sweeps(3, N, 5, new Random(2)), N, 1, Double.NaN);

        assertThat(fit.biasKnown()).isFalse();
        assertThat(fit.reversalKnown()).isTrue();
    }

    @Test
    void nothing_is_told_where_all_shifts_go_one_way() {
        List<SeenShift> inboard = sweeps(3, 4, 5, new Random(3)).stream()
                .filter(s -> s.sign() > 0)
                .toList();

        LandingFit fit = LandingFit.of(inboard, N, 1, Double.NaN);

        assertThat(fit.reversalKnown()).isFalse();
        assertThat(fit.seen(1)).isFalse();
    }

    /** 2,000 draws at 95 %: five standard errors are 2.4 points. The rule for lack of fit only ever widens. */
    @Test
    void the_interval_of_the_bias_holds_it_as_often_as_it_says() {
        Random random = new Random(20261126);
        int held = 0;
        int draws = 2000;
        for (int i = 0; i < draws; i++) {
            LandingFit fit = LandingFit.of(sweeps(4, 4, 5.5, random), N, 1, Double.NaN);
            double half =
                    new TDistribution(null, fit.freedom()).inverseCumulativeProbability(0.975) * fit.biasErrorDeg();
            held += Math.abs(fit.biasDeg() - BIAS) <= half ? 1 : 0;
        }
        assertThat(held / (double) draws).isBetween(0.926, 0.985);
    }
}
