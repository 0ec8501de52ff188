package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;

/** How often intervals and bounds hold what they say, on drawn numbers whose truth is known. */
class CoverageTest {
    private static final int N = 8;
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    private static SeenShift shift(int unit, int from, int to, double landing, double overtravel) {
        Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
        for (Measure measure : Measure.values()) {
            measures.put(measure, new Measured.NotApplicable());
        }
        measures.put(Measure.LANDING, new Measured.Value(landing));
        measures.put(Measure.OVERTRAVEL, new Measured.Value(overtravel));
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
        return new SeenShift(unit, unit, from, to, shift);
    }

    @Nested
    class Of_positions {
        private static final double UNIT_SD = 6;
        private static final double SHIFT_SD = 5;

        /** Landings of several units whose places differ from the kind's; half of the shifts inboard go past. */
        private List<SeenShift> landings(int units, double unitSd, Random random) {
            List<SeenShift> shifts = new ArrayList<>();
            for (int unit = 0; unit < units; unit++) {
                double[] place = new double[N + 1];
                for (int k = 1; k <= N; k++) {
                    place[k] = 700.0 * (k - 1) + unitSd * random.nextGaussian();
                }
                for (int i = 0; i < 4; i++) {
                    for (int k = 1; k < N; k++) {
                        boolean past = k <= N / 2;
                        double inboard = place[k + 1] + 4 + (past ? 6 : -6) + SHIFT_SD * random.nextGaussian();
                        shifts.add(shift(unit, k, k + 1, inboard, past ? 250 : 0));
                        double outboard = place[k] - 4 - 6 + SHIFT_SD * random.nextGaussian();
                        shifts.add(shift(unit, k + 1, k, outboard, 90));
                    }
                }
            }
            return shifts;
        }

        /** 600 draws of a 95 % interval: three standard errors are 2.7 points. Cautious scales may hold more often. */
        @ParameterizedTest
        @CsvSource({"1, 0", "3, 0", "3, 6", "5, 6", "5, 20"})
        void the_interval_of_a_distance_holds_it_as_often_as_it_says(int units, double unitSd) {
            Random random = new Random(7);
            int draws = 600;
            int held = 0;
            for (int i = 0; i < draws; i++) {
                LandingFit fit = LandingFit.of(landings(units, unitSd, random), N, units, Double.NaN);
                double t = new TDistribution(null, fit.freedomOfPlaces()).inverseCumulativeProbability(0.975);
                double off = fit.positionDeg(6) - fit.positionDeg(2) - 2800;
                held += Math.abs(off) <= t * fit.distanceErrorDeg(6, 2) ? 1 : 0;
            }
            assertThat(held / (double) draws).isBetween(0.923, 0.995);
        }
    }

    @Nested
    class Of_bounds {
        private static final int ROWS = 7;
        private static final double COVERAGE = 0.99;

        /** Shares of draws whose bounds hold the coverage of a row's future shifts: of the unit, or of any unit of the kind. */
        private double confidence(int units, int shifts, double unitSd, boolean rowsAlike, Random random, int draws) {
            LearnOptions usual = LearnOptions.of("drawn");
            LearnOptions options = new LearnOptions(
                    "drawn", COVERAGE, 0.95, usual.margins(), usual.unseenRate(), usual.stoppingBiasDeg());
            int held = 0;
            for (int d = 0; d < draws; d++) {
                Scatter scatter = new Scatter(Measure.OVERTRAVEL);
                RowValues values = new RowValues();
                for (int unit = 0; unit < units; unit++) {
                    double common = unitSd * random.nextGaussian();
                    for (int row = 0; row < ROWS; row++) {
                        double own = rowsAlike ? common : unitSd * random.nextGaussian();
                        for (int i = 0; i < shifts; i++) {
                            double value = own + random.nextGaussian();
                            scatter.add("r" + row, unit, value);
                            if (row == 0) {
                                values.add("r" + row, "U" + unit, value);
                            }
                        }
                    }
                }
                Tolerance found = Tolerance.of(values, scatter.variation(0.1, 0.05), options, Tolerance.Sides.BOTH)
                        .orElseThrow();
                double sd = Math.hypot(1, unitSd);
                double share = NORMAL.cumulativeProbability(found.high() / sd)
                        - NORMAL.cumulativeProbability(found.low() / sd);
                held += share >= COVERAGE ? 1 : 0;
            }
            return held / (double) draws;
        }

        /** 1,000 draws at 95 %: three standard errors are 2.1 points. */
        @ParameterizedTest
        @ValueSource(ints = {2, 4, 10})
        void of_one_unit_hold_its_own_future_shifts(int shifts) {
            double c = confidence(1, shifts, 0, true, new Random(11), 1000);
            assertThat(c).isBetween(0.929, 0.971);
        }

        /** 300 draws at 95 %: three standard errors are 3.8 points. With a ratio that is not cautious 3 units hold 0.85. */
        @ParameterizedTest
        @CsvSource({"3, 0", "3, 1", "3, 2", "3, 10", "5, 1", "5, 3", "10, 2"})
        void of_three_units_and_more_hold_those_of_a_unit_to_come(int units, double unitSd) {
            double alike = confidence(units, 4, unitSd, true, new Random(12), 300);
            double each = confidence(units, 4, unitSd, false, new Random(13), 300);
            assertThat(alike).isGreaterThan(0.912);
            assertThat(each).isGreaterThan(0.912);
        }
    }
}
