package org.shiftstand.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.shiftstand.spec.MadeShift.shift;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** What must hold for any table and any clause; the failing seed is in the message. */
class EvaluationPropertiesTest {
    private static final int SEEDS = 400;
    private static final Statistic.Kind[] KINDS = Statistic.Kind.values();
    private static final List<List<Per>> PERS = List.of(
            List.of(),
            List.of(Per.SPROCKET),
            List.of(Per.SPROCKET, Per.DIRECTION),
            List.of(Per.PAIR),
            List.of(Per.DIRECTION),
            List.of(Per.CYCLE));

    @Test
    void the_order_of_the_shifts_does_not_matter() {
        for (long seed = 1; seed <= SEEDS; seed++) {
            Random random = new Random(seed);
            Demand demand = demand(random);
            List<Shift> shifts = numbered(shifts(random));
            List<Shift> shuffled = new ArrayList<>(shifts);
            Collections.shuffle(shuffled, random);

            ClauseResult straight = judge(demand, shifts, List.of());
            ClauseResult mixed = judge(demand, shuffled, List.of());

            assertThat(mixed.verdict()).as("seed %d", seed).isEqualTo(straight.verdict());
            assertThat(mixed.value()).as("seed %d", seed).isEqualTo(straight.value());
            assertThat(mixed.groups().size())
                    .as("seed %d", seed)
                    .isEqualTo(straight.groups().size());
        }
    }

    @Test
    void an_unmeasured_shift_more_never_turns_a_failing_clause_to_pass_nor_makes_one_fail() {
        for (long seed = 1; seed <= SEEDS; seed++) {
            Random random = new Random(seed);
            Demand demand = demand(random);
            List<MadeShift> shifts = shifts(random);
            MadeShift unmeasured = shift(3, 4).without(Measure.LANDING, "gap").unknown(Evidence.GAP);
            List<MadeShift> more = new ArrayList<>(shifts);
            more.add(unmeasured);

            Verdict before = judge(demand, numbered(shifts), List.of()).verdict();
            Verdict after = judge(demand, numbered(more), List.of()).verdict();

            if (before == Verdict.FAIL) {
                assertThat(after).as("seed %d", seed).isNotEqualTo(Verdict.PASS);
            } else {
                assertThat(after).as("seed %d", seed).isNotEqualTo(Verdict.FAIL);
            }
        }
    }

    @Test
    void a_planned_shift_that_was_not_made_never_helps_to_pass() {
        for (long seed = 1; seed <= SEEDS; seed++) {
            Random random = new Random(seed);
            Demand demand = demand(random);
            List<Shift> shifts = numbered(shifts(random));
            List<PlannedShift> plan = new ArrayList<>();
            for (int cycle = 1; cycle <= 40; cycle++) {
                plan.add(new PlannedShift(cycle, 3, 4, Optional.empty(), OptionalDouble.empty()));
            }

            Verdict without = judge(demand, shifts, List.of()).verdict();
            Verdict with = judge(demand, shifts, plan).verdict();

            if (without != Verdict.PASS) {
                assertThat(with).as("seed %d", seed).isNotEqualTo(Verdict.PASS);
            }
        }
    }

    @Test
    void a_wider_bound_never_makes_the_verdict_worse() {
        for (long seed = 1; seed <= SEEDS; seed++) {
            Random random = new Random(seed);
            Statistic.Kind kind = KINDS[random.nextInt(KINDS.length)];
            List<Per> per = PERS.get(random.nextInt(PERS.size()));
            List<Shift> shifts = numbered(shifts(random));
            double bound = random.nextInt(60);
            double wider = bound + 1 + random.nextInt(30);

            Verdict narrow = judge(demand(kind, per).atMost(bound, Unit.DEG), shifts, List.of())
                    .verdict();
            Verdict wide = judge(demand(kind, per).atMost(wider, Unit.DEG), shifts, List.of())
                    .verdict();

            assertThat(rank(wide)).as("seed %d", seed).isGreaterThanOrEqualTo(rank(narrow));
        }
    }

    @Test
    void a_margin_is_negative_exactly_where_the_bound_is_broken_and_failing_groups_have_shifts() {
        for (long seed = 1; seed <= SEEDS; seed++) {
            Random random = new Random(seed);
            ClauseResult result = judge(demand(random), numbered(shifts(random)), List.of());

            for (GroupResult group : result.groups()) {
                if (group.verdict() == Verdict.FAIL) {
                    assertThat(group.margin().getAsDouble()).as("seed %d", seed).isNegative();
                }
                if (group.verdict() == Verdict.PASS && group.margin().isPresent()) {
                    assertThat(group.margin().getAsDouble()).as("seed %d", seed).isNotNegative();
                }
                assertThat(group.reason()).as("seed %d", seed).isNotBlank().doesNotContain("NaN");
            }
        }
    }

    private static int rank(Verdict verdict) {
        return switch (verdict) {
            case FAIL -> 0;
            case NO_VERDICT -> 1;
            case PASS -> 2;
        };
    }

    private static Demand demand(Random random) {
        return demand(KINDS[random.nextInt(KINDS.length)], PERS.get(random.nextInt(PERS.size())))
                .atMost(random.nextInt(60), Unit.DEG);
    }

    private static Demand demand(Statistic.Kind kind, List<Per> per) {
        Demand demand = kind == Statistic.Kind.COUNT || kind == Statistic.Kind.PROPORTION
                ? Demand.outcomes(kind, true, Outcome.LANDED)
                : kind == Statistic.Kind.PERCENTILE
                        ? Demand.percentile(Measure.LANDING, 0.9)
                        : Demand.of(Measure.LANDING, kind);
        return demand.per(per.toArray(new Per[0])).needs(3);
    }

    private static List<MadeShift> shifts(Random random) {
        int n = 1 + random.nextInt(60);
        List<MadeShift> shifts = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            int from = 3 + random.nextInt(2);
            MadeShift made = shift(from, from == 3 || random.nextBoolean() ? from + 1 : from - 1)
                    .cycle(1 + i / 20);
            switch (random.nextInt(40)) {
                case 0 -> made.without(Measure.LANDING, "gap").unknown(Evidence.GAP);
                case 1 -> made.with(Measure.LANDING, 100).outcome(Outcome.SHORT);
                case 2 -> made.with(Measure.LANDING, 20).displaced();
                case 3 -> made.outcome(Outcome.NOT_SETTLED); // landing not applicable
                default -> made.with(Measure.LANDING, random.nextGaussian() * 10 + 20);
            }
            shifts.add(made);
        }
        return shifts;
    }

    private static List<Shift> numbered(List<MadeShift> shifts) {
        return MadeShift.table(shifts).shifts();
    }

    private static ClauseResult judge(Demand demand, List<Shift> shifts, List<PlannedShift> plan) {
        ShiftTable table = new ShiftTable(
                shifts,
                10,
                20,
                "forward",
                "profile",
                "aligned",
                OptionalDouble.of(0),
                false,
                OptionalInt.empty(),
                List.of());
        return Evaluation.evaluate(Demand.spec(demand), table, Optional.empty(), plan)
                .get(0);
    }
}
