package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Demand;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Statistic;
import org.shiftstand.spec.Verdict;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** From samples to verdict, against the truth of the bench captures. Invented data, made by an independent simulation. */
class BenchJudgeTest {
    private static final Demand ALL_LAND = Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED)
            .id("all-land")
            .atMost(0, Unit.ONE);

    @Test
    void spreads_of_landings_are_those_of_the_truth() {
        BenchRun bench = BenchRun.of("bench-a");
        Map<String, List<Double>> landings = new TreeMap<>();
        for (JsonNode shift : bench.trueShifts()) {
            String way = shift.get("direction").asInt() > 0 ? "inboard" : "outboard";
            landings.computeIfAbsent(shift.get("to").asInt() + " " + way, key -> new ArrayList<>())
                    .add(shift.get("landing_deg").asDouble());
        }

        ClauseResult result = bench.clause(Demand.of(Measure.LANDING, Statistic.Kind.STANDARD_DEVIATION)
                .per(Per.SPROCKET, Per.DIRECTION)
                .needs(5)
                .atMost(18, Unit.DEG));

        assertThat(result.verdict()).isEqualTo(Verdict.PASS);
        assertThat(result.groups()).hasSize(landings.size());
        for (GroupResult group : result.groups()) {
            List<Double> truth =
                    landings.getOrDefault(String.join(" ", group.key().values()), List.of());
            double sd = Sample.of(
                            truth.stream().mapToDouble(Double::doubleValue).toArray())
                    .standardDeviation()
                    .getAsDouble();
            assertThat(group.n()).isEqualTo(truth.size());
            assertThat(group.value()).as("%s", group.key()).hasValueCloseTo(sd, within(0.15)); // one landing: sd 0.15
        }
    }

    @Test
    void a_missing_overtravel_fails_exactly_the_shifts_that_lack_it() {
        BenchRun bench = BenchRun.of("bench-e");
        List<Integer> lacking = bench.trueShifts().stream()
                .filter(shift ->
                        shift.get("from").asInt() == 2 && shift.get("to").asInt() == 3)
                .filter(shift -> shift.get("overtravel_deg").asDouble() == 0)
                .map(shift -> shift.get("shift").asInt())
                .toList();
        Demand overtravel = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                .direction(Direction.INBOARD)
                .to(3, 3)
                .atLeast(100, Unit.DEG);

        ClauseResult result = bench.clause(overtravel);

        assertThat(lacking).isNotEmpty();
        assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
        assertThat(result.groups().get(0).shifts()).isEqualTo(lacking);
        assertThat(result.value()).hasValue(0);
        assertThat(result.margin()).hasValue(-100);
    }

    @Test
    void a_fault_of_later_cycles_is_not_seen_in_the_first() {
        BenchRun bench = BenchRun.of("bench-e");
        Demand overtravel = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                .direction(Direction.INBOARD)
                .to(3, 3)
                .atLeast(100, Unit.DEG)
                .cycles(1, 1);

        assertThat(bench.clause(overtravel).verdict()).isEqualTo(Verdict.PASS);
    }

    @Test
    void raising_the_deciding_bound_turns_the_verdict() {
        BenchRun bench = BenchRun.of("bench-d");
        Demand ringing = Demand.of(Measure.RINGING, Statistic.Kind.MAXIMUM);

        Judgement strict = bench.judge(ALL_LAND, ringing.id("ringing").atMost(25, Unit.DEG));
        double measured = strict.clauses().get(1).value().getAsDouble();
        Judgement raised = bench.judge(ALL_LAND, ringing.atMost(measured, Unit.DEG));

        assertThat(strict.verdict()).isEqualTo(Verdict.FAIL);
        assertThat(strict.reason()).startsWith("1 of 2 clauses fails; ringing: ");
        assertThat(measured).isCloseTo(46, within(3.0)); // the README of the captures: about 46 degrees
        assertThat(raised.verdict()).isEqualTo(Verdict.PASS);
        assertThat(raised.clauses().get(1).margin()).hasValue(0);
    }

    @Test
    void ringing_is_never_judged_as_overtravel() {
        BenchRun bench = BenchRun.of("bench-d");
        double least = bench.trueShifts().stream()
                .filter(shift -> shift.get("overtravel_deg").asDouble() > 0)
                .mapToDouble(shift -> shift.get("overtravel_deg").asDouble())
                .min()
                .orElseThrow();
        Demand none = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.COUNT).atLeast(108, Unit.SHIFTS);
        Demand minimum = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MINIMUM).atLeast(0, Unit.DEG);

        assertThat(bench.clause(none).verdict()).isEqualTo(Verdict.PASS);
        assertThat(bench.clause(minimum).value()).hasValue(0);
        assertThat(least).isGreaterThan(46); // so a ring of 46 counted as overtravel would lie between
        assertThat(bench.judge(ALL_LAND).table().shifts())
                .allMatch(shift -> shift.get(Measure.OVERTRAVEL).number().getAsDouble() == 0
                        || shift.get(Measure.OVERTRAVEL).number().getAsDouble() > least - 1);
    }

    @Test
    void one_shift_behind_a_sensor_fault_leaves_no_verdict_and_says_so() {
        Judgement judgement = BenchRun.of("bench-f").judge(ALL_LAND);

        assertThat(judgement.verdict()).isEqualTo(Verdict.NO_VERDICT);
        assertThat(judgement.reason()).contains("1 of 108 shifts not measured (outcome unknown, sensor fault)");
        assertThat(judgement.counts()).isEqualTo(Map.of("landed", 107, "unknown", 1));
        assertThat(judgement.notices())
                .contains("evidence is not complete in 1 shift (sensor fault): what it touches is not measured");
    }

    @Test
    void one_shift_behind_a_gap_is_borne_by_an_estimator_over_all() {
        BenchRun bench = BenchRun.of("bench-h");
        Demand mean = Demand.of(Measure.TRAVEL_TIME, Statistic.Kind.MEAN).atMost(0.4, Unit.MS);
        Demand maximum = Demand.of(Measure.TRAVEL_TIME, Statistic.Kind.MAXIMUM).atMost(0.4, Unit.MS);

        assertThat(bench.clause(mean).verdict()).isEqualTo(Verdict.PASS); // 1 of 108 is less than 2 %
        assertThat(bench.clause(mean).groups().get(0).notMeasured()).isEqualTo(1);
        assertThat(bench.clause(maximum).verdict()).isEqualTo(Verdict.NO_VERDICT);
    }

    @Test
    void hold_over_a_stopped_clock_is_no_verdict_never_a_wrong_number() {
        ClauseResult result = BenchRun.of("bench-c")
                .clause(Demand.of(Measure.HOLD, Statistic.Kind.EVERY).between(0.5, 0.9, Unit.MS));

        assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
        assertThat(result.value()).isEmpty();
        assertThat(result.reason()).contains("clock stopped");
    }

    @Test
    void a_small_clearance_fails_with_the_truth_s_figure() {
        BenchRun bench = BenchRun.of("bench-g");
        double least = bench.trueShifts().stream()
                .mapToDouble(shift -> shift.get("clearance_deg").asDouble())
                .min()
                .orElseThrow();

        ClauseResult result = bench.clause(
                Demand.of(Measure.CLEARANCE, Statistic.Kind.MINIMUM).atLeast(60, Unit.DEG));

        assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
        // aligned, not measured: the median bias of twelve sprockets with a spread of some 10 degrees is left in it
        assertThat(result.value()).hasValueCloseTo(least, within(10.0));
        assertThat(result.remarks())
                .contains(
                        "the origin is aligned to the profile, not measured: a bias common to all sprockets cannot be seen");
    }

    @Test
    void without_a_profile_the_pairs_seen_are_expected() {
        Judgement judgement = BenchRun.of("bench-b")
                .judge(
                        JudgeOptions.defaults(),
                        Optional.empty(),
                        Demand.of(Measure.TRAVEL_TIME, Statistic.Kind.MAXIMUM)
                                .per(Per.PAIR)
                                .atMost(0.4, Unit.S));

        assertThat(judgement.verdict()).isEqualTo(Verdict.PASS);
        assertThat(judgement.clauses().get(0).groups()).hasSize(18);
        assertThat(judgement.reason())
                .matches(
                        "clause: closest is pair \\d+→\\d+: 0\\.\\d+ s, allowed at most 0\\.4 s, 0\\.\\d+ s inside \\(6"
                                + " shifts\\)");
        assertThat(judgement.limitsFrom()).isEqualTo("no mechanical limits are known: clearance is not measured");
    }

    @Test
    void a_run_that_ended_before_its_plan_has_no_verdict_where_shifts_are_missing() {
        List<PlannedShift> plan = new ArrayList<>();
        for (int cycle = 1; cycle <= 8; cycle++) { // two cycles more than the capture holds
            for (int from = 1; from < 10; from++) {
                plan.add(new PlannedShift(cycle, from, from + 1, Optional.empty(), OptionalDouble.empty()));
            }
            for (int from = 10; from > 1; from--) {
                plan.add(new PlannedShift(cycle, from, from - 1, Optional.empty(), OptionalDouble.empty()));
            }
        }
        BenchRun bench = BenchRun.of("bench-a");
        JudgeOptions options = JudgeOptions.defaults().withPlan(plan).withRunEnd("stopped by the user");

        Judgement whole = bench.judge(options, Optional.of(bench.profile()), ALL_LAND);
        Judgement part = bench.judge(
                options,
                Optional.of(bench.profile()),
                Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED)
                        .cycles(1, 6)
                        .atMost(0, Unit.ONE));

        assertThat(whole.verdict()).isEqualTo(Verdict.NO_VERDICT);
        assertThat(whole.reason()).startsWith("all-land: 36 planned shifts not made");
        assertThat(whole.notices()).contains("the run ended early: stopped by the user");
        assertThat(part.verdict()).isEqualTo(Verdict.PASS);
    }

    @Test
    void a_settle_band_set_by_hand_goes_before_the_spec_s_and_is_said() {
        BenchRun bench = BenchRun.of("bench-b");

        Judgement by_spec = bench.judge(ALL_LAND);
        Judgement by_hand =
                bench.judge(JudgeOptions.defaults().withBandDeg(30), Optional.of(bench.profile()), ALL_LAND);

        assertThat(by_spec.table().bandDeg()).isEqualTo(20);
        assertThat(by_hand.table().bandDeg()).isEqualTo(30);
        assertThat(by_hand.notices()).contains("the settle band was set to 30 deg; the spec asks for 20 deg");
    }

    @Test
    void limits_of_this_very_unit_go_before_the_profile_s_and_are_said() {
        BenchRun bench = BenchRun.of("bench-g");
        Demand clearance = Demand.of(Measure.CLEARANCE, Statistic.Kind.MINIMUM).direction(Direction.OUTBOARD);
        double outboard = bench.profile().outboardLimitDeg().getAsDouble();
        JudgeOptions measured = JudgeOptions.defaults()
                .withLimits(
                        OptionalDouble.of(outboard - 100),
                        OptionalDouble.empty(),
                        "mechanical limits of TD-0042, by hand on 2026-11-02");

        Judgement nominal = bench.judge(clearance.atLeast(0, Unit.DEG));
        Judgement own = bench.judge(measured, Optional.of(bench.profile()), clearance);

        assertThat(nominal.limitsFrom()).isEqualTo("mechanical limits of profile bench-g version 1");
        assertThat(own.limitsFrom()).isEqualTo("mechanical limits of TD-0042, by hand on 2026-11-02");
        assertThat(own.clauses().get(0).value().getAsDouble())
                .isCloseTo(nominal.clauses().get(0).value().getAsDouble() + 100, within(1e-9));
    }

    @Test
    void the_sense_that_is_said_turns_angles_and_directions_and_keeps_overtravel_and_times() {
        BenchRun bench = BenchRun.of("bench-d");

        Judgement forward = bench.judge(JudgeOptions.defaults().withSense("forward"), Optional.empty(), ALL_LAND);
        Judgement reversed = bench.judge(JudgeOptions.defaults().withSense("reversed"), Optional.empty(), ALL_LAND);

        assertThat(reversed.table().senseFrom()).isEqualTo("option");
        var one = forward.table().shifts().get(0);
        var other = reversed.table().shifts().get(0);
        assertThat(other.direction()).isEqualTo(one.direction().opposite());
        assertThat(other.get(Measure.OVERTRAVEL)).isEqualTo(one.get(Measure.OVERTRAVEL));
        assertThat(other.get(Measure.HOLD)).isEqualTo(one.get(Measure.HOLD));
        assertThat(other.get(Measure.TRAVEL_TIME)).isEqualTo(one.get(Measure.TRAVEL_TIME));
    }
}
