package org.shiftstand.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.spec.MadeShift.shift;
import static org.shiftstand.spec.MadeShift.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.ShiftTable;

class DriftAnalysisTest {
    private static final int RUNS = 250;

    /** 3→4 in every cycle, with this overtravel. */
    private static ShiftTable overtravels(int cycles, IntToDoubleFunction deg) {
        List<MadeShift> shifts = new ArrayList<>();
        for (int cycle = 1; cycle <= cycles; cycle++) {
            shifts.add(shift(3, 4).cycle(cycle).with(Measure.OVERTRAVEL, deg.applyAsDouble(cycle)));
        }
        return table(shifts);
    }

    private static RunDrift look(ShiftTable table, Demand... demands) {
        return DriftAnalysis.of(table, Evaluation.evaluate(Demand.spec(demands), table, Optional.empty(), List.of()));
    }

    private static IntToDoubleFunction scatter(long seed, double sd, IntToDoubleFunction course) {
        Random random = new Random(seed);
        return cycle -> course.applyAsDouble(cycle) + sd * random.nextGaussian();
    }

    @Nested
    class A_unit_without_drift {
        /** Three standard errors of a share of 5 % over the runs made. */
        private static final double MOST = 0.05 + 3 * 0.013_8;

        @ParameterizedTest
        @EnumSource(NoisyRun.Noise.class)
        void is_blamed_in_at_most_five_of_a_hundred_runs_of_40_groups(NoisyRun.Noise noise) {
            for (int cycles : new int[] {20, 60}) {
                int blamed = 0;
                for (long seed = 1; seed <= RUNS; seed++) {
                    List<TestedGroup> groups = new NoisyRun(seed, cycles).looked(noise, NoisyRun.LEVEL, 0);
                    blamed += groups.stream().anyMatch(TestedGroup::significant) ? 1 : 0;
                }
                assertThat(blamed / (double) RUNS)
                        .as("%s, %d cycles, seeds 1 to %d", noise, cycles, RUNS)
                        .isLessThanOrEqualTo(MOST);
            }
        }

        @Test
        void has_no_projection() {
            Demand demand =
                    Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MAXIMUM).atMost(320, Unit.DEG);

            RunDrift run = look(overtravels(60, scatter(1, 5, cycle -> 300)), demand);

            assertThat(run.significant()).isEmpty();
            assertThat(run.clauses()).isEmpty();
        }
    }

    @Nested
    class A_unit_that_drifts {
        @Test
        void is_found_with_its_change_over_the_run() {
            RunDrift run = look(overtravels(100, scatter(2, 5, cycle -> 300 - 0.2 * cycle)));

            DriftGroup group = run.significant().get(0);
            assertThat(group.shape()).isEqualTo(DriftGroup.Shape.DRIFT);
            assertThat(group.drift().change()).isCloseTo(-0.2 * 99, within(5.0));
            assertThat(group.drift().low().getAsDouble()).isLessThan(-19.8);
            assertThat(group.drift().high().getAsDouble()).isGreaterThan(-19.8);
        }

        @Test
        void is_found_with_one_group_of_forty_drifting_by_three_standard_deviations() {
            int found = 0;
            for (long seed = 1; seed <= 50; seed++) {
                found += new NoisyRun(seed, 100)
                                .looked(NoisyRun.Noise.WHITE, NoisyRun.line(3), 1)
                                .get(0)
                                .significant()
                        ? 1
                        : 0;
            }
            assertThat(found).as("seeds 1 to 50").isGreaterThanOrEqualTo(48);
        }

        /** 300 deg less 0.2 deg a cycle, and at most some 12 deg below: 260 deg are reached about cycle 140 to 200. */
        @Test
        void has_the_cycle_projected_at_which_a_clause_will_break() {
            Demand demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).atLeast(260, Unit.DEG);

            RunDrift run = look(overtravels(100, scatter(3, 4, cycle -> 300 - 0.2 * cycle)), demand);

            RunDrift.ClauseCourse course = run.clauses().get(0);
            assertThat(course.firstFailed()).isEmpty();
            assertThat(course.projected().orElseThrow().at()).isBetween(140.0, 200.0);
            assertThat(course.projected().orElseThrow().from())
                    .isLessThan(course.projected().orElseThrow().at());
        }

        @Test
        void is_not_projected_beyond_ten_runs() {
            Demand demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).atLeast(0, Unit.DEG);

            RunDrift run = look(overtravels(100, scatter(3, 4, cycle -> 300 - 0.2 * cycle)), demand);

            assertThat(run.clauses()).isEmpty();
        }

        /** A mean over the run lags: a line that is at the bound half way is at it over the whole. */
        @Test
        void breaks_a_mean_over_the_run_after_twice_the_way() {
            Demand mean = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MEAN).atLeast(280, Unit.DEG);

            RunDrift run = look(overtravels(100, scatter(4, 2, cycle -> 300 - 0.2 * cycle)), mean);

            assertThat(run.clauses().get(0).projected().orElseThrow().at()).isCloseTo(200, within(15.0));
        }

        /** The sd of a straight line over n cycles is slope · n / √12: 0.2 deg · 260 / 3.46 = 15 deg. */
        @Test
        void breaks_a_spread_over_the_run_once_the_way_is_long_enough() {
            Demand spread = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.STANDARD_DEVIATION)
                    .atMost(15, Unit.DEG);

            RunDrift run = look(overtravels(100, scatter(5, 2, cycle -> 300 - 0.2 * cycle)), spread);

            assertThat(run.clauses().get(0).projected().orElseThrow().at()).isCloseTo(258, within(20.0));
        }
    }

    @Nested
    class A_unit_that_steps {
        @Test
        void is_told_from_one_that_drifts_and_is_not_projected() {
            Demand demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).atLeast(240, Unit.DEG);

            RunDrift run = look(overtravels(80, scatter(6, 3, cycle -> cycle < 41 ? 300 : 280)), demand);

            DriftGroup group = run.significant().get(0);
            assertThat(group.shape()).isEqualTo(DriftGroup.Shape.STEP);
            assertThat(group.change().cycle()).hasValue(41);
            assertThat(group.change().step()).isCloseTo(-20, within(2.0));
            assertThat(group.sumSignal().getAsInt()).isBetween(41, 50);
            assertThat(group.weightedSignal().getAsInt()).isBetween(41, 50);
            assertThat(run.clauses()).isEmpty();
        }
    }

    @Nested
    class A_clause_that_broke {
        @Test
        void is_told_with_the_cycle_of_the_first_shift_outside() {
            Demand demand =
                    Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MINIMUM).atLeast(250, Unit.DEG);

            RunDrift run = look(overtravels(30, cycle -> cycle == 17 || cycle == 20 ? 200 : 300), demand);

            assertThat(run.clauses().get(0).firstFailed()).hasValue(17);
        }

        /** Of twenty shifts 1 is far off: the sd is 22 deg from the start, and known only once twenty are there. */
        @Test
        void is_told_for_an_estimator_once_it_has_the_shifts_it_needs() {
            Demand demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.STANDARD_DEVIATION)
                    .atMost(15, Unit.DEG);

            RunDrift run = look(overtravels(60, cycle -> cycle == 3 ? 200 : 300), demand);

            assertThat(run.clauses().get(0).firstFailed()).hasValue(20);
        }

        /** The mean has been beyond in cycles 8 to 15 and came back. */
        @Test
        void is_told_even_where_it_holds_at_the_end() {
            Demand demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MEAN).atLeast(290, Unit.DEG);

            RunDrift run = look(overtravels(60, cycle -> cycle < 9 ? 280 : 300), demand);

            assertThat(run.clauses().get(0).firstFailed()).hasValue(8);
        }

        /** From cycle 31 on the directions are 40 deg apart: over c cycles 40 (c - 30) / c, beyond 10 deg after cycle 40. */
        @Test
        void is_told_for_a_reversal_from_the_cycle_where_its_mean_breaks() {
            List<MadeShift> shifts = new ArrayList<>();
            for (int cycle = 1; cycle <= 60; cycle++) {
                shifts.add(shift(3, 4).cycle(cycle).with(Measure.LANDING, cycle <= 30 ? 100 : 140));
                shifts.add(shift(5, 4).cycle(cycle).with(Measure.LANDING, 100));
            }

            RunDrift run = look(
                    table(shifts),
                    Demand.of(Measure.LANDING, Statistic.Kind.REVERSAL)
                            .per(Per.SPROCKET)
                            .atMost(10, Unit.DEG));

            assertThat(run.clauses().get(0).firstFailed()).hasValue(41);
        }
    }

    @Nested
    class Shifts {
        @Test
        void that_did_not_land_are_left_out() {
            List<MadeShift> shifts = new ArrayList<>();
            for (int cycle = 1; cycle <= 20; cycle++) {
                shifts.add(shift(3, 4)
                        .cycle(cycle)
                        .outcome(cycle > 12 ? Outcome.SHORT : Outcome.LANDED)
                        .with(Measure.OVERTRAVEL, 300));
            }

            assertThat(look(table(shifts)).groups().get(0).series().size()).isEqualTo(12);
        }

        @Test
        void of_less_than_twelve_cycles_say_nothing() {
            assertThat(look(overtravels(11, cycle -> 300 - 5 * cycle)).groups()).isEmpty();
        }

        @Test
        void of_one_cycle_count_once_by_their_median() {
            var series = CycleSeries.of(
                    List.of(
                            shift(3, 4).cycle(2).number(1),
                            shift(3, 4).cycle(2).number(2),
                            shift(3, 4).cycle(1).number(3),
                            shift(3, 4).cycle(0).number(4)),
                    new double[] {10, 20, 7, 99});

            assertThat(series.cycles()).containsExactly(1, 2);
            assertThat(series.values()).containsExactly(7, 15);
        }

        @Test
        void that_are_all_alike_show_nothing() {
            RunDrift run = look(overtravels(40, cycle -> 300));

            assertThat(run.significant()).isEmpty();
            assertThat(run.groups().get(0).drift().change()).isZero();
            assertThat(run.groups().get(0).weightedSignal()).isEmpty();
        }
    }
}
