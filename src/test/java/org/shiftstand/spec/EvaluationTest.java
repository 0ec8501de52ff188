package org.shiftstand.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.spec.MadeShift.shift;
import static org.shiftstand.spec.MadeShift.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.ShiftTable;

/** The verdict rules, sentence by sentence. */
class EvaluationTest {
    private static final Optional<Profile> TARN = Optional.of(new Profile(
            "tarn-drive",
            2,
            10,
            List.of(0.0, 712.0, 1455.0, 2170.0, 2930.0, 3700.0, 4410.0, 5190.0, 5905.0, 6680.0),
            OptionalDouble.of(2.4),
            OptionalDouble.of(-520),
            OptionalDouble.of(7100),
            OptionalDouble.of(0.7),
            List.of(270.0, 300.0, 300.0, 300.0, 0.0, 0.0, 0.0, 0.0, 0.0),
            List.of(60.0, 70.0, 65.0, 110.0, 90.0, 150.0, 190.0, 240.0, 160.0),
            List.of(),
            "1".repeat(64)));

    private static ClauseResult judge(Demand demand, ShiftTable table, List<PlannedShift> plan) {
        return Evaluation.evaluate(Demand.spec(demand), table, TARN, plan).get(0);
    }

    private static ClauseResult judge(Demand demand, List<MadeShift> shifts) {
        return judge(demand, table(shifts), List.of());
    }

    private static List<MadeShift> overtravels(double... deg) {
        List<MadeShift> shifts = new ArrayList<>();
        for (double d : deg) {
            shifts.add(shift(3, 4).with(Measure.OVERTRAVEL, d));
        }
        return shifts;
    }

    private static List<MadeShift> many(int n, IntFunction<MadeShift> made) {
        return IntStream.range(0, n).mapToObj(made).toList();
    }

    private static List<PlannedShift> planned(int times, int from, int to) {
        return IntStream.rangeClosed(1, times)
                .mapToObj(cycle -> new PlannedShift(cycle, from, to, Optional.empty(), OptionalDouble.empty()))
                .toList();
    }

    private static PlannedShift anyCycle(int from, int to) {
        return new PlannedShift(0, from, to, Optional.empty(), OptionalDouble.empty());
    }

    @SafeVarargs
    private static <T> List<T> join(List<? extends T>... lists) {
        List<T> all = new ArrayList<>();
        for (List<? extends T> list : lists) {
            all.addAll(list);
        }
        return all;
    }

    @Nested
    class Groups {
        @Test
        void come_from_the_plan_so_an_expected_group_without_shifts_has_no_verdict() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.SPROCKET, Per.DIRECTION)
                    .between(230, 340, Unit.DEG);

            ClauseResult result = judge(demand, table(overtravels(300)), List.of(anyCycle(3, 4), anyCycle(4, 5)));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.groups()).hasSize(2);
            assertThat(result.groups().get(1).key()).isEqualTo(Map.of("sprocket", "5", "direction", "inboard"));
            assertThat(result.groups().get(1).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).isEqualTo("sprocket 5 inboard: no shift, though it is expected");
        }

        @Test
        void that_are_impossible_are_none() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.SPROCKET, Per.DIRECTION)
                    .between(230, 340, Unit.DEG);

            ClauseResult result = judge(
                    demand,
                    table(overtravels(300)),
                    List.of(anyCycle(3, 4), anyCycle(0, 1), anyCycle(11, 10), anyCycle(4, 4), anyCycle(10, 11)));

            assertThat(result.groups()).hasSize(1);
            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
        }

        @Test
        void beyond_the_plan_are_judged_all_the_same() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.PAIR)
                    .between(230, 340, Unit.DEG);
            var jump = shift(3, 5).with(Measure.OVERTRAVEL, 100);

            ClauseResult result = judge(demand, table(join(overtravels(300), List.of(jump))), List.of(anyCycle(3, 4)));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.reason()).startsWith("pair 3→5: 100 deg in shift 2,");
        }

        @Test
        void take_a_missed_shift_at_the_outermost_sprocket_to_the_sprocket_it_was_asked_for() {
            var demand = Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED)
                    .per(Per.SPROCKET, Per.DIRECTION)
                    .atMost(0, Unit.ONE);
            var missed = shift(1, 1).direction(Direction.INBOARD).outcome(Outcome.MISSED);

            ClauseResult result = judge(demand, List.of(missed));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.groups().get(0).key()).isEqualTo(Map.of("sprocket", "2", "direction", "inboard"));
        }

        @Test
        void stand_in_the_order_of_their_numbers_inboard_first() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.SPROCKET, Per.DIRECTION)
                    .atMost(400, Unit.DEG);

            ClauseResult result = judge(
                    demand, table(List.of()), List.of(anyCycle(9, 10), anyCycle(3, 2), anyCycle(1, 2), anyCycle(2, 1)));

            assertThat(result.groups())
                    .extracting(group -> String.join(" ", group.key().values()))
                    .containsExactly("1 outboard", "2 inboard", "2 outboard", "10 inboard");
        }

        @Test
        void per_cycle_follow_the_script() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MAXIMUM)
                    .per(Per.CYCLE)
                    .atMost(340, Unit.DEG);

            ClauseResult result = judge(demand, table(overtravels(300)), planned(3, 3, 4));

            assertThat(result.groups())
                    .extracting(GroupResult::verdict)
                    .containsExactly(Verdict.PASS, Verdict.NO_VERDICT, Verdict.NO_VERDICT);
        }

        @Test
        void per_each_shift_hold_one_shift_and_show_those_not_made() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.EACH)
                    .between(230, 340, Unit.DEG);
            var made = List.of(
                    shift(3, 4).cycle(1).with(Measure.OVERTRAVEL, 300),
                    shift(3, 4).cycle(2).with(Measure.OVERTRAVEL, 301));

            ClauseResult result = judge(demand, table(made), planned(3, 3, 4));

            assertThat(result.groups()).hasSize(3);
            assertThat(result.groups().get(0).key()).isEqualTo(Map.of("shift", "1"));
            assertThat(result.groups().get(2).key())
                    .isEqualTo(Map.of("cycle", "3", "pair", "3→4", "planned-shift", "3"));
            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void without_per_are_the_whole_run() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).between(230, 340, Unit.DEG);

            ClauseResult result = judge(demand, overtravels(300, 301));

            assertThat(result.groups()).hasSize(1);
            assertThat(result.groups().get(0).key()).isEmpty();
        }
    }

    @Nested
    class A_group {
        private final Demand every = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                .per(Per.SPROCKET, Per.DIRECTION)
                .between(230, 340, Unit.DEG);

        @Test
        void fails_if_its_value_breaks_the_bound() {
            ClauseResult result = judge(every, overtravels(300, 220, 215.5));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.value()).hasValue(215.5);
            assertThat(result.margin()).hasValue(-14.5);
            assertThat(result.groups().get(0).shifts()).containsExactly(2, 3);
            assertThat(result.reason())
                    .isEqualTo(
                            "sprocket 4 inboard: 215.5 deg in shifts 2, 3, allowed 230 to 340 deg, 14.5 deg too small"
                                    + " (2 of 3 shifts outside)");
        }

        @Test
        void fails_also_beside_unmeasured_shifts() {
            var shifts = join(overtravels(220), List.of(shift(3, 4).without(Measure.OVERTRAVEL, "gap")));

            ClauseResult result = judge(every, shifts);

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.groups().get(0).notMeasured()).isEqualTo(1);
        }

        @Test
        void fails_also_with_fewer_shifts_than_it_needs() {
            var demand = Demand.of(Measure.LANDING, Statistic.Kind.STANDARD_DEVIATION)
                    .atMost(14, Unit.DEG);
            var shifts =
                    List.of(shift(3, 4).with(Measure.LANDING, 2100), shift(3, 4).with(Measure.LANDING, 2200));

            assertThat(judge(demand, shifts).verdict()).isEqualTo(Verdict.FAIL);
        }

        @Test
        void has_no_verdict_where_one_unmeasured_shift_could_turn_every() {
            var shifts = join(overtravels(300, 301), List.of(shift(3, 4).without(Measure.OVERTRAVEL, "gap")));

            ClauseResult result = judge(every, shifts);

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason())
                    .isEqualTo(
                            "sprocket 4 inboard: 1 of 3 shifts not measured (gap): that could turn the result; the others"
                                    + " give 301 deg, allowed 230 to 340 deg");
        }

        @Test
        void has_no_verdict_where_one_unmeasured_shift_could_turn_a_minimum() {
            var demand = Demand.of(Measure.CLEARANCE, Statistic.Kind.MINIMUM).atLeast(60, Unit.DEG);
            var shifts = List.of(
                    shift(3, 4).with(Measure.CLEARANCE, 400), shift(3, 4).without(Measure.CLEARANCE, "sensor fault"));

            assertThat(judge(demand, shifts).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void has_no_verdict_where_one_unmeasured_shift_could_turn_a_maximum() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.MAXIMUM).atMost(30, Unit.DEG);
            var shifts =
                    List.of(shift(3, 4).with(Measure.RINGING, 4), shift(3, 4).without(Measure.RINGING, "gap"));

            assertThat(judge(demand, shifts).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void of_an_estimator_bears_two_per_cent_of_unmeasured_shifts() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.MEAN).atMost(30, Unit.DEG);
            var forty_nine = many(49, i -> shift(3, 4).with(Measure.RINGING, 4));
            var forty_eight = forty_nine.subList(0, 48);
            var gap = List.of(shift(3, 4).without(Measure.RINGING, "gap"));

            assertThat(judge(demand, join(forty_nine, gap)).verdict()).isEqualTo(Verdict.PASS);
            assertThat(judge(demand, join(forty_eight, gap)).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(demand, join(forty_eight, gap)).reason())
                    .isEqualTo("1 of 49 shifts not measured (gap): more than the 2 % that may miss");
        }

        @Test
        void of_an_estimator_bears_what_the_clause_says() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.MEAN)
                    .atMost(30, Unit.DEG)
                    .mayMiss(0.25);
            var shifts = join(
                    many(9, i -> shift(3, 4).with(Measure.RINGING, 4)),
                    many(3, i -> shift(3, 4).without(Measure.RINGING, "gap")));

            assertThat(judge(demand, shifts).verdict()).isEqualTo(Verdict.PASS);
            assertThat(judge(demand.mayMiss(0.2), shifts).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void passes_else() {
            ClauseResult result = judge(every, overtravels(300, 235));

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            assertThat(result.value()).hasValue(235);
            assertThat(result.margin()).hasValue(5);
            assertThat(result.groups().get(0).shifts()).isEmpty();
            assertThat(result.reason())
                    .isEqualTo("sprocket 4 inboard: 235 deg, allowed 230 to 340 deg, 5 deg inside (2 shifts)");
        }

        @Test
        void at_the_bound_is_inside() {
            assertThat(judge(every, overtravels(230, 340)).verdict()).isEqualTo(Verdict.PASS);
            assertThat(judge(every, overtravels(230, 340)).margin()).hasValue(0);
        }

        @Test
        void that_needs_more_shifts_than_it_has_has_no_verdict() {
            ClauseResult result = judge(every.needs(3), overtravels(300, 301));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).isEqualTo("sprocket 4 inboard: 2 shifts have a value, 3 are needed");
        }
    }

    @Nested
    class By_default_a_group_needs {
        private Verdict with(int n, Demand demand) {
            var shifts = many(n, i -> shift(3, 4).with(Measure.RINGING, 4 + i % 2));
            return judge(
                            demand.atMost(
                                    30,
                                    demand.clause().statistic().kind() == Statistic.Kind.COUNT ? Unit.ONE : Unit.DEG),
                            shifts)
                    .verdict();
        }

        @Test
        void one_shift_for_every_minimum_maximum_and_count() {
            assertThat(with(1, Demand.of(Measure.RINGING, Statistic.Kind.EVERY)))
                    .isEqualTo(Verdict.PASS);
            assertThat(with(1, Demand.of(Measure.RINGING, Statistic.Kind.MINIMUM)))
                    .isEqualTo(Verdict.PASS);
            assertThat(with(1, Demand.of(Measure.RINGING, Statistic.Kind.MAXIMUM)))
                    .isEqualTo(Verdict.PASS);
            assertThat(with(1, Demand.of(Measure.RINGING, Statistic.Kind.COUNT)))
                    .isEqualTo(Verdict.PASS);
        }

        @Test
        void eight_for_mean_and_median() {
            assertThat(with(7, Demand.of(Measure.RINGING, Statistic.Kind.MEAN))).isEqualTo(Verdict.NO_VERDICT);
            assertThat(with(8, Demand.of(Measure.RINGING, Statistic.Kind.MEAN))).isEqualTo(Verdict.PASS);
            assertThat(with(7, Demand.of(Measure.RINGING, Statistic.Kind.MEDIAN)))
                    .isEqualTo(Verdict.NO_VERDICT);
            assertThat(with(8, Demand.of(Measure.RINGING, Statistic.Kind.MEDIAN)))
                    .isEqualTo(Verdict.PASS);
        }

        @Test
        void twenty_for_a_standard_deviation() {
            assertThat(with(19, Demand.of(Measure.RINGING, Statistic.Kind.STANDARD_DEVIATION)))
                    .isEqualTo(Verdict.NO_VERDICT);
            assertThat(with(20, Demand.of(Measure.RINGING, Statistic.Kind.STANDARD_DEVIATION)))
                    .isEqualTo(Verdict.PASS);
        }

        @Test
        void twenty_for_range_percentile_and_pooled_standard_deviation() {
            assertThat(with(19, Demand.of(Measure.RINGING, Statistic.Kind.RANGE)))
                    .isEqualTo(Verdict.NO_VERDICT);
            assertThat(with(20, Demand.of(Measure.RINGING, Statistic.Kind.RANGE)))
                    .isEqualTo(Verdict.PASS);
            assertThat(with(19, Demand.percentile(Measure.RINGING, 0.95))).isEqualTo(Verdict.NO_VERDICT);
            assertThat(with(20, Demand.percentile(Measure.RINGING, 0.95))).isEqualTo(Verdict.PASS);
            assertThat(with(19, Demand.of(Measure.RINGING, Statistic.Kind.POOLED_STANDARD_DEVIATION)))
                    .isEqualTo(Verdict.NO_VERDICT);
            assertThat(with(20, Demand.of(Measure.RINGING, Statistic.Kind.POOLED_STANDARD_DEVIATION)))
                    .isEqualTo(Verdict.PASS);
        }

        @Test
        void twenty_for_a_proportion() {
            var demand = Demand.outcomes(Statistic.Kind.PROPORTION, false, Outcome.LANDED)
                    .atLeast(0.9, Unit.PERCENT);

            assertThat(judge(demand, many(19, i -> shift(3, 4))).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(demand, many(20, i -> shift(3, 4))).verdict()).isEqualTo(Verdict.PASS);
        }
    }

    @Nested
    class An_unknown_outcome {
        private final Demand allLand =
                Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED).atMost(0, Unit.ONE);

        @Test
        void is_no_failure() {
            ClauseResult result =
                    judge(allLand, List.of(shift(3, 4), shift(4, 5).unknown(Evidence.GAP)));

            assertThat(result.verdict()).isNotEqualTo(Verdict.FAIL);
            assertThat(result.value()).hasValue(0);
        }

        @Test
        void is_not_landed_so_a_clause_that_would_pass_but_for_it_has_no_verdict() {
            ClauseResult result =
                    judge(allLand, List.of(shift(3, 4), shift(4, 5).unknown(Evidence.GAP)));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason())
                    .isEqualTo(
                            "1 of 2 shifts not measured (outcome unknown, gap): that could turn the result; the others give"
                                    + " 0 shifts not landed, allowed at most 0 shifts");
        }

        @Test
        void does_not_save_a_clause_that_fails_without_it() {
            ClauseResult result = judge(
                    allLand,
                    List.of(shift(3, 4).outcome(Outcome.SHORT), shift(4, 5).unknown(Evidence.GAP)));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.groups().get(0).shifts()).containsExactly(1);
            assertThat(result.reason())
                    .isEqualTo(
                            "1 shift not landed (shift 1), allowed at most 0 shifts, 1 shift too many (1 shift; 1 of 2 shifts not measured:"
                                    + " outcome unknown, gap)");
        }

        @Test
        void is_no_failure_where_landed_shifts_are_counted_either() {
            var demand =
                    Demand.outcomes(Statistic.Kind.COUNT, false, Outcome.LANDED).atLeast(2, Unit.ONE);

            assertThat(judge(demand, List.of(shift(3, 4), shift(4, 5).unknown(Evidence.GAP)))
                            .verdict())
                    .isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(demand, List.of(shift(3, 4), shift(4, 5).outcome(Outcome.MISSED)))
                            .verdict())
                    .isEqualTo(Verdict.FAIL);
        }

        @Test
        void leaves_a_proportion_undecided_only_where_it_could_turn_it() {
            var demand = Demand.outcomes(Statistic.Kind.PROPORTION, false, Outcome.LANDED)
                    .mayMiss(0.1);
            var shifts = join(many(99, i -> shift(3, 4)), List.of(shift(3, 4).unknown(Evidence.GAP)));

            assertThat(judge(demand.atLeast(0.99, Unit.PERCENT), shifts).verdict())
                    .isEqualTo(Verdict.PASS);
            assertThat(judge(demand.atLeast(0.995, Unit.PERCENT), shifts).verdict())
                    .isEqualTo(Verdict.NO_VERDICT);
        }
    }

    @Nested
    class What_is_not_applicable {
        private final Demand hold = Demand.of(Measure.HOLD, Statistic.Kind.EVERY)
                .per(Per.SPROCKET, Per.DIRECTION)
                .between(0.65, 0.75, Unit.MS);

        @Test
        void is_outside_the_selection_without_harm_and_counted() {
            ClauseResult result = judge(hold, List.of(shift(3, 4).with(Measure.HOLD, 0.7), shift(3, 4)));

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            assertThat(result.groups().get(0).n()).isEqualTo(1);
            assertThat(result.groups().get(0).notApplicable()).isEqualTo(1);
            assertThat(result.remarks()).containsExactly("hold does not apply to 1 shift, outside the selection");
        }

        @Test
        void does_no_harm_as_a_whole_group_either() {
            ClauseResult result = judge(hold, List.of(shift(3, 4).with(Measure.HOLD, 0.7), shift(7, 8)));

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            assertThat(result.groups().get(1).reason())
                    .isEqualTo("sprocket 8 inboard: hold does not apply to its 1 shift");
            assertThat(result.groups().get(1).value()).isEmpty();
        }

        @Test
        void does_not_make_up_what_a_group_needs() {
            var demand = Demand.of(Measure.HOLD, Statistic.Kind.MEAN).atMost(0.75, Unit.MS);
            var shifts = join(many(7, i -> shift(3, 4).with(Measure.HOLD, 0.7)), many(5, i -> shift(3, 4)));

            assertThat(judge(demand, shifts).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void for_all_shifts_leaves_an_empty_selection_and_no_verdict() {
            ClauseResult result = judge(hold, List.of(shift(7, 8), shift(8, 9)));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).isEqualTo("hold applies to none of the 2 selected shifts: nothing to judge");
        }
    }

    @Nested
    class A_displaced_shift {
        @Test
        void is_left_out_of_landing_and_overtravel_groups_and_counted() {
            for (Measure measure : List.of(Measure.LANDING, Measure.LANDING_ERROR, Measure.OVERTRAVEL)) {
                var demand = Demand.of(measure, Statistic.Kind.EVERY)
                        .per(Per.SPROCKET)
                        .between(230, 340, Unit.DEG);

                ClauseResult result = judge(
                        demand,
                        List.of(
                                shift(3, 4).with(measure, 300),
                                shift(3, 4).with(measure, 0).displaced()));

                assertThat(result.verdict()).as(measure.key()).isEqualTo(Verdict.PASS);
                assertThat(result.groups().get(0).n()).isEqualTo(1);
                assertThat(result.groups().get(0).displaced()).isEqualTo(1);
                assertThat(result.remarks()).contains("1 shift did not start on its sprocket and is left out");
            }
        }

        @Test
        void stays_in_all_other_groups() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.EVERY).atMost(30, Unit.DEG);

            ClauseResult result =
                    judge(demand, List.of(shift(3, 4).with(Measure.RINGING, 50).displaced()));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
        }

        @Test
        void alone_decides_nothing() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.SPROCKET)
                    .between(230, 340, Unit.DEG);

            ClauseResult result = judge(
                    demand, List.of(shift(3, 4).with(Measure.OVERTRAVEL, 300).displaced()));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).isEqualTo("sprocket 4: no shift started on its sprocket (1 shift displaced)");
        }
    }

    @Nested
    class A_shift_whose_sprockets_are_unsure {
        @Test
        void accuses_no_group_of_sprockets() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .per(Per.PAIR)
                    .between(230, 340, Unit.DEG);

            ClauseResult result = judge(
                    demand,
                    List.of(
                            shift(3, 4).with(Measure.OVERTRAVEL, 300),
                            shift(3, 4).with(Measure.OVERTRAVEL, 0).sprocketsUnsure()));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.groups().get(0).n()).isEqualTo(1);
            assertThat(result.groups().get(0).notMeasured()).isEqualTo(1);
            assertThat(result.reason()).contains("turn lost: which sprockets it went between is not known");
        }

        @Test
        void stays_in_groups_that_do_not_ask_for_its_sprockets() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.EVERY)
                    .per(Per.DIRECTION)
                    .atMost(30, Unit.DEG);

            ClauseResult result =
                    judge(demand, List.of(shift(3, 4).with(Measure.RINGING, 50).sprocketsUnsure()));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
        }
    }

    @Nested
    class The_verdict {
        private final Demand overtravel = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                .per(Per.SPROCKET)
                .between(230, 340, Unit.DEG);

        @Test
        void of_a_clause_is_fail_where_any_group_fails() {
            var shifts = join(
                    overtravels(300),
                    List.of(
                            shift(4, 5).with(Measure.OVERTRAVEL, 100),
                            shift(5, 6).without(Measure.OVERTRAVEL, "gap")));

            assertThat(judge(overtravel, shifts).verdict()).isEqualTo(Verdict.FAIL);
        }

        @Test
        void of_a_clause_is_no_verdict_where_any_group_has_none_and_no_group_fails() {
            var shifts = join(overtravels(300), List.of(shift(5, 6).without(Measure.OVERTRAVEL, "gap")));

            assertThat(judge(overtravel, shifts).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void of_a_spec_is_fail_else_no_verdict_else_pass() {
            var pass = overtravel;
            var none = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .atMost(400, Unit.DEG)
                    .needs(9);
            var fail = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).atMost(200, Unit.DEG);
            var table = table(overtravels(300));

            assertThat(verdict(table, pass, none, fail)).isEqualTo(Verdict.FAIL);
            assertThat(verdict(table, pass, none)).isEqualTo(Verdict.NO_VERDICT);
            assertThat(verdict(table, pass, pass)).isEqualTo(Verdict.PASS);
            assertThat(verdict(table)).isEqualTo(Verdict.NO_VERDICT);
        }

        private Verdict verdict(ShiftTable table, Demand... demands) {
            return Evaluation.verdict(Evaluation.evaluate(Demand.spec(demands), table, TARN, List.of()));
        }

        @Test
        void names_the_failing_group_with_the_least_margin() {
            var shifts = List.of(
                    shift(3, 4).with(Measure.OVERTRAVEL, 220),
                    shift(4, 5).with(Measure.OVERTRAVEL, 150),
                    shift(5, 6).with(Measure.OVERTRAVEL, 225));

            ClauseResult result = judge(overtravel, shifts);

            assertThat(result.value()).hasValue(150);
            assertThat(result.margin()).hasValue(-80);
            assertThat(result.reason()).startsWith("sprocket 5: 150 deg").endsWith("; 3 of 3 groups fail");
        }

        @Test
        void names_the_closest_group_where_all_pass() {
            var shifts = List.of(
                    shift(3, 4).with(Measure.OVERTRAVEL, 300), shift(4, 5).with(Measure.OVERTRAVEL, 335));

            assertThat(judge(overtravel, shifts).reason())
                    .isEqualTo("closest is sprocket 5: 335 deg, allowed 230 to 340 deg, 5 deg inside (1 shift)");
        }
    }

    @Nested
    class A_selection {
        private final Demand every =
                Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).between(230, 340, Unit.DEG);

        @Test
        void that_is_empty_has_no_verdict() {
            ClauseResult result = judge(every.to(7, 9), overtravels(300));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).isEqualTo("no shift is selected: nothing to judge");
            assertThat(result.groups()).isEmpty();
        }

        @Test
        void by_direction_and_sprocket_leaves_others_out() {
            var shifts = List.of(
                    shift(3, 4).with(Measure.OVERTRAVEL, 300),
                    shift(5, 4).with(Measure.OVERTRAVEL, 90),
                    shift(7, 8).with(Measure.OVERTRAVEL, 0));

            ClauseResult result = judge(every.direction(Direction.INBOARD).to(2, 5), shifts);

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            assertThat(result.groups().get(0).n()).isEqualTo(1);
        }

        @Test
        void of_the_first_cycles_does_not_see_a_late_fault() {
            var shifts = many(24, i -> shift(3, 4).cycle(i + 1).with(Measure.OVERTRAVEL, i < 20 ? 300 : 100));

            assertThat(judge(every, table(shifts), planned(24, 3, 4)).verdict()).isEqualTo(Verdict.FAIL);
            assertThat(judge(every.cycles(1, 20), table(shifts), planned(24, 3, 4))
                            .verdict())
                    .isEqualTo(Verdict.PASS);
        }

        @Test
        void by_step_takes_the_steps_named() {
            var shifts = List.of(
                    shift(3, 4).step("sweep-2").with(Measure.OVERTRAVEL, 300),
                    shift(3, 4).step("walk-3").with(Measure.OVERTRAVEL, 100),
                    shift(3, 4).with(Measure.OVERTRAVEL, 100));

            assertThat(judge(every.step("sweep-2"), shifts).verdict()).isEqualTo(Verdict.PASS);
        }

        @Test
        void by_supply_takes_shifts_whose_supply_is_known_and_inside() {
            var shifts = List.of(
                    shift(3, 4).supply(8200 * 0.001).with(Measure.OVERTRAVEL, 300), // 8.200000000000001
                    shift(3, 4).supply(6.5).with(Measure.OVERTRAVEL, 100),
                    shift(3, 4).with(Measure.OVERTRAVEL, 100));

            ClauseResult result = judge(every.supply(8.2, 8.2), shifts);

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            assertThat(result.groups().get(0).n()).isEqualTo(1);
        }

        @Test
        void never_takes_homing() {
            var home = shift(1, 1).cycle(0).direction(Direction.OUTBOARD).outcome(Outcome.MISSED);
            var demand =
                    Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED).atMost(0, Unit.ONE);

            assertThat(judge(demand, List.of(home, shift(1, 2))).verdict()).isEqualTo(Verdict.PASS);
        }
    }

    @Nested
    class A_run_that_ended_early {
        @Test
        void leaves_planned_shifts_not_made_which_weigh_as_not_measured() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).between(230, 340, Unit.DEG);
            var shifts = many(20, i -> shift(3, 4).cycle(i + 1).with(Measure.OVERTRAVEL, 300));

            ClauseResult result = judge(demand, table(shifts), planned(24, 3, 4));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.groups().get(0).notMade()).isEqualTo(4);
            assertThat(result.reason())
                    .isEqualTo(
                            "4 planned shifts not made: that could turn the result; the others give 300 deg, allowed 230"
                                    + " to 340 deg");
        }

        @Test
        void still_fails_by_what_it_shows() {
            var demand = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).between(230, 340, Unit.DEG);
            var shifts = many(20, i -> shift(3, 4).cycle(i + 1).with(Measure.OVERTRAVEL, 200));

            assertThat(judge(demand, table(shifts), planned(24, 3, 4)).verdict())
                    .isEqualTo(Verdict.FAIL);
        }

        @Test
        void leaves_an_estimator_without_verdict_once_more_than_may_miss_was_not_made() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.MEAN).atMost(30, Unit.DEG);
            var shifts = many(20, i -> shift(3, 4).cycle(i + 1).with(Measure.RINGING, 3));

            assertThat(judge(demand, table(shifts), planned(20, 3, 4)).verdict())
                    .isEqualTo(Verdict.PASS);
            assertThat(judge(demand, table(shifts), planned(24, 3, 4)).verdict())
                    .isEqualTo(Verdict.NO_VERDICT);
        }
    }

    @Nested
    class A_statistic {
        private ClauseResult of(Statistic.Kind kind, double atMost, double... values) {
            var shifts = new ArrayList<MadeShift>();
            for (double value : values) {
                shifts.add(shift(3, 4).with(Measure.RINGING, value));
            }
            return judge(
                    Demand.of(Measure.RINGING, kind).atMost(atMost, Unit.DEG).needs(2), shifts);
        }

        @Test
        void every_has_the_worst_value() {
            assertThat(of(Statistic.Kind.EVERY, 10, 3, 9, 4).value()).hasValue(9);
        }

        @Test
        void minimum_maximum_mean_median_and_range_are_what_their_names_say() {
            assertThat(of(Statistic.Kind.MINIMUM, 10, 3, 9, 4, 2).value()).hasValue(2);
            assertThat(of(Statistic.Kind.MAXIMUM, 10, 3, 9, 4, 2).value()).hasValue(9);
            assertThat(of(Statistic.Kind.MEAN, 10, 3, 9, 4, 2).value()).hasValue(4.5);
            assertThat(of(Statistic.Kind.MEDIAN, 10, 3, 9, 4, 2).value()).hasValue(3.5);
            assertThat(of(Statistic.Kind.RANGE, 10, 3, 9, 4, 2).value()).hasValue(7);
        }

        @Test
        void standard_deviation_has_divisor_n_minus_1() {
            assertThat(of(Statistic.Kind.STANDARD_DEVIATION, 10, 1, 2, 3).value())
                    .hasValueCloseTo(1.0, within(1e-12));
        }

        @Test
        void percentile_interpolates_at_n_minus_1_times_p() {
            var shifts = List.of(
                    shift(3, 4).with(Measure.RINGING, 4),
                    shift(3, 4).with(Measure.RINGING, 1),
                    shift(3, 4).with(Measure.RINGING, 3),
                    shift(3, 4).with(Measure.RINGING, 2));

            ClauseResult result = judge(
                    Demand.percentile(Measure.RINGING, 0.25)
                            .atMost(10, Unit.DEG)
                            .needs(2),
                    shifts);

            assertThat(result.value()).hasValue(1.75);
        }

        /** Squares 2 and 8 about the means of 4 inboard and 4 outboard, over 1 + 1: sqrt(5). */
        @Test
        void pooled_standard_deviation_pools_within_sprocket_and_direction() {
            var shifts = List.of(
                    shift(3, 4).with(Measure.LANDING, 1),
                    shift(3, 4).with(Measure.LANDING, 3),
                    shift(5, 4).with(Measure.LANDING, 100),
                    shift(5, 4).with(Measure.LANDING, 104));

            ClauseResult result = judge(
                    Demand.of(Measure.LANDING, Statistic.Kind.POOLED_STANDARD_DEVIATION)
                            .atMost(10, Unit.DEG)
                            .needs(2),
                    shifts);

            assertThat(result.value()).hasValueCloseTo(Math.sqrt(5), within(1e-12));
            assertThat(result.remarks()).anyMatch(remark -> remark.startsWith("pooled within sprocket and direction"));
        }

        @Test
        void count_of_a_measure_counts_the_measured_values() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.COUNT).atLeast(2, Unit.SHIFTS);

            ClauseResult result = judge(demand, List.of(shift(3, 4).with(Measure.RINGING, 1), shift(3, 4)));

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.reason()).isEqualTo("1 shift, allowed at least 2 shifts, 1 shift too few (1 shift)");
        }

        @Test
        void proportion_is_the_share_of_known_outcomes() {
            var demand = Demand.outcomes(Statistic.Kind.PROPORTION, false, Outcome.LANDED)
                    .atLeast(0.99, Unit.PERCENT);
            var shifts = join(many(39, i -> shift(3, 4)), List.of(shift(3, 4).outcome(Outcome.DOUBLE)));

            ClauseResult result = judge(demand, shifts);

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.value()).hasValue(97.5);
            assertThat(result.groups().get(0).shifts()).containsExactly(40);
            assertThat(result.reason())
                    .isEqualTo("97.5 % landed (shift 40), allowed at least 99 %, 1.5 % too small (40 shifts)");
        }

        @Test
        void of_a_failing_estimator_names_all_shifts_used() {
            assertThat(of(Statistic.Kind.MEAN, 3, 4, 5).groups().get(0).shifts())
                    .containsExactly(1, 2);
        }
    }

    @Nested
    class Values_and_margins {
        @Test
        void are_in_the_unit_of_the_bound_as_written() {
            var demand = Demand.of(Measure.HOLD, Statistic.Kind.MAXIMUM).atMost(0.75, Unit.MS);

            ClauseResult result = judge(demand, List.of(shift(3, 4).with(Measure.HOLD, 0.7715)));

            assertThat(result.unit()).isEqualTo(Unit.MS);
            assertThat(result.value()).hasValue(771.5);
            assertThat(result.margin()).hasValue(-21.5);
            assertThat(result.reason())
                    .isEqualTo("771.5 ms in shift 1, allowed at most 750 ms, 21.5 ms too long (1 shift)");
        }

        @Test
        void of_a_spread_read_as_a_sentence() {
            var demand = Demand.of(Measure.LANDING, Statistic.Kind.STANDARD_DEVIATION)
                    .per(Per.SPROCKET, Per.DIRECTION)
                    .atMost(14, Unit.DEG);
            // ten pairs 2170 ± d: sd = d · sqrt(20 / 19), so d = 15.4 gives 15.8
            var shifts = many(20, i -> shift(3, 4).with(Measure.LANDING, 2170 + (i % 2 == 0 ? 15.4 : -15.4)));

            assertThat(judge(demand, shifts).reason())
                    .isEqualTo("sprocket 4 inboard: 15.8 deg, allowed at most 14 deg, 1.8 deg too wide (20 shifts)");
        }

        @Test
        void show_a_breach_however_small() {
            var demand = Demand.of(Measure.RINGING, Statistic.Kind.MAXIMUM).atMost(14, Unit.DEG);

            assertThat(judge(demand, List.of(shift(3, 4).with(Measure.RINGING, 14.00002)))
                            .reason())
                    .isEqualTo("14.00002 deg in shift 1, allowed at most 14 deg, 0.00002 deg too large (1 shift)");
        }
    }

    @Nested
    class The_origin {
        private static final String ALIGNED =
                "the origin is aligned to the profile, not measured: a bias common to all sprockets cannot be seen";

        @Test
        void that_is_aligned_is_said_where_it_bears_on_the_value() {
            var shifts = many(8, i -> shift(3, 4).with(Measure.LANDING_ERROR, 1).with(Measure.CLEARANCE, 400));

            assertThat(judge(
                                    Demand.of(Measure.LANDING_ERROR, Statistic.Kind.MEAN)
                                            .atMost(5, Unit.DEG),
                                    shifts)
                            .remarks())
                    .contains(ALIGNED);
            assertThat(judge(
                                    Demand.of(Measure.CLEARANCE, Statistic.Kind.MINIMUM)
                                            .atLeast(60, Unit.DEG),
                                    shifts)
                            .remarks())
                    .contains(ALIGNED);
        }

        @Test
        void does_not_bear_on_a_spread() {
            var shifts = many(20, i -> shift(3, 4).with(Measure.LANDING_ERROR, i));

            assertThat(judge(
                                    Demand.of(Measure.LANDING_ERROR, Statistic.Kind.STANDARD_DEVIATION)
                                            .atMost(5, Unit.DEG),
                                    shifts)
                            .remarks())
                    .isEmpty();
        }

        @Test
        void is_missing_without_a_profile_so_the_mean_landing_error_is_not_measured() {
            var demand = Demand.of(Measure.LANDING_ERROR, Statistic.Kind.MEAN).atMost(5, Unit.DEG);
            var table = table(many(30, i -> shift(3, 4).with(Measure.LANDING_ERROR, 1)));

            ClauseResult result = Evaluation.evaluate(Demand.spec(demand), table, Optional.empty(), List.of())
                    .get(0);

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.value()).isEmpty();
            assertThat(result.reason())
                    .isEqualTo("mean of landing errors is not measured without a profile: they are counted from the"
                            + " sprocket's own centre and show spread only");
        }
    }

    @Test
    void landing_errors_while_the_profile_is_not_aligned_say_nothing_of_where_landings_lie() {
        var shifts = MadeShift.table(many(30, i -> shift(3, 4).with(Measure.LANDING_ERROR, i % 2)))
                .shifts();
        var notAligned = new ShiftTable(
                shifts,
                10,
                20,
                "forward",
                "assumed",
                "not decided",
                OptionalDouble.empty(),
                false,
                OptionalInt.empty(),
                List.of());

        var every = Demand.of(Measure.LANDING_ERROR, Statistic.Kind.EVERY).between(-5, 5, Unit.DEG);
        var spread = Demand.of(Measure.LANDING_ERROR, Statistic.Kind.RANGE).atMost(5, Unit.DEG);

        assertThat(judge(every, notAligned, List.of()).verdict()).isEqualTo(Verdict.NO_VERDICT);
        assertThat(judge(every, notAligned, List.of()).reason())
                .startsWith("landing errors are not measured while the profile is not aligned");
        assertThat(judge(spread, notAligned, List.of()).verdict()).isEqualTo(Verdict.PASS);
    }

    @Test
    void a_lost_turn_hides_the_landings_it_concerns_and_no_others() {
        var shifts = many(3, i -> shift(3, 4).with(Measure.LANDING, 300).with(Measure.OVERTRAVEL, 300));
        shifts.get(1).without(Measure.LANDING, "turn lost");
        var table = table(shifts, OptionalInt.of(2));

        ClauseResult landing = judge(
                Demand.of(Measure.LANDING, Statistic.Kind.EVERY).to(4, 4).between(230, 340, Unit.DEG),
                table,
                List.of());
        ClauseResult overtravel = judge(
                Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY).between(230, 340, Unit.DEG), table, List.of());

        assertThat(landing.verdict()).isEqualTo(Verdict.NO_VERDICT);
        assertThat(landing.reason()).contains("1 of 3 shifts not measured (turn lost)");
        assertThat(overtravel.verdict()).isEqualTo(Verdict.PASS);
    }
}
