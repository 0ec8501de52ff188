package org.shiftstand.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.spec.MadeShift.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.bench.Budget;
import org.shiftstand.bench.Budgets;
import org.shiftstand.bench.Contribution;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

/** Rules and claims: how a value is held against its bound once its uncertainty counts. */
class DecisionTest {
    /** Expanded uncertainty of one overtravel: 2 deg at 95.45 %, so 1.96 deg at 95 %. */
    private static final Budgets ONE_DEGREE = budgets(Measure.OVERTRAVEL, each(0.6), common(0.8));

    private static Contribution each(double u) {
        return new Contribution("noise", u, Nature.EACH, Double.POSITIVE_INFINITY, "made up");
    }

    private static Contribution common(double u) {
        return new Contribution("offset", u, Nature.COMMON, Double.POSITIVE_INFINITY, "made up");
    }

    private static Budgets budgets(Measure measure, Contribution... contributions) {
        return new Budgets(Map.of(measure.key(), new Budget(measure.key(), List.of(contributions))));
    }

    private static ClauseResult judge(Demand demand, Optional<Budgets> budgets, List<MadeShift> shifts) {
        return Evaluation.evaluate(Demand.spec(demand), MadeShift.table(shifts), Optional.empty(), List.of(), budgets)
                .get(0);
    }

    private static ClauseResult judge(Demand demand, Budgets budgets, double... overtravels) {
        List<MadeShift> shifts = new ArrayList<>();
        for (int i = 0; i < overtravels.length; i++) {
            shifts.add(shift(3, 4).cycle(i + 1).with(Measure.OVERTRAVEL, overtravels[i]));
        }
        return judge(demand, Optional.of(budgets), shifts);
    }

    private static Demand overtravel(Statistic.Kind kind) {
        return Demand.of(Measure.OVERTRAVEL, kind).needs(2).between(230, 340, Unit.DEG);
    }

    @Nested
    class Rule_guarded {
        private final Demand every = overtravel(Statistic.Kind.EVERY).needs(1).guarded();

        @Test
        void passes_inside_the_bound_by_the_expanded_uncertainty() {
            ClauseResult result = judge(every, ONE_DEGREE, 338);

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            Assessment shown = result.groups().get(0).assessment();
            assertThat(shown.expandedUncertainty()).hasValueCloseTo(1.96, within(0.001));
            assertThat(shown.guardBand()).isEqualTo(shown.expandedUncertainty());
            assertThat(shown.consumersRisk()).hasValueCloseTo(0.0228, within(0.0001)); // 2 u inside, one side
            assertThat(shown.producersRisk()).isEmpty();
            assertThat(result.reason())
                    .isEqualTo("338 deg, allowed 230 to 340 deg, 2 deg inside (1 shift, uncertainty 2 deg)");
        }

        @Test
        void has_no_verdict_within_the_guard_band_on_either_side_of_the_bound() {
            assertThat(judge(every, ONE_DEGREE, 339).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(every, ONE_DEGREE, 341).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(every, ONE_DEGREE, 229).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(every, ONE_DEGREE, 339).reason())
                    .isEqualTo(
                            "339 deg, allowed 230 to 340 deg, 1 deg inside, within the guard band of 2 deg: neither met"
                                    + " nor broken beyond doubt (1 shift, uncertainty 2 deg)");
        }

        @Test
        void fails_outside_the_bound_by_the_expanded_uncertainty() {
            ClauseResult result = judge(every, ONE_DEGREE, 342);

            assertThat(result.verdict()).isEqualTo(Verdict.FAIL);
            assertThat(result.groups().get(0).assessment().producersRisk()).hasValueCloseTo(0.0228, within(0.0001));
        }

        @Test
        void has_no_verdict_without_a_budget() {
            ClauseResult result =
                    judge(every, Optional.empty(), List.of(shift(3, 4).with(Measure.OVERTRAVEL, 300)));

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).contains("needs an uncertainty budget, and none is known");
        }

        @Test
        void takes_its_guard_band_from_the_wanted_risk() {
            Demand risky = overtravel(Statistic.Kind.EVERY).needs(1).guarded(0.05);

            // 1.645 u at a single limit: JCGM 106, table 1
            assertThat(judge(risky, ONE_DEGREE, 338.4)
                            .groups()
                            .get(0)
                            .assessment()
                            .guardBand())
                    .hasValueCloseTo(1.645, within(0.001));
            assertThat(judge(risky, ONE_DEGREE, 338.3).verdict()).isEqualTo(Verdict.PASS);
            assertThat(judge(risky, ONE_DEGREE, 338.4).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void lets_nothing_pass_between_limits_that_are_closer_than_the_risk_allows() {
            Demand narrow = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                    .between(299.5, 300.5, Unit.DEG)
                    .guarded(0.05);

            assertThat(judge(narrow, ONE_DEGREE, 300).verdict()).isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void leaves_outcomes_without_a_guard_band_and_says_so() {
            Demand allLand = Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED)
                    .atMost(0, Unit.ONE)
                    .guarded();

            ClauseResult result = judge(allLand, Optional.empty(), List.of(shift(3, 4)));

            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
            assertThat(result.remarks()).contains("shifts are counted, no quantity is measured: the guard band is 0");
        }

        @Test
        void moves_the_limits_of_a_first_failure() {
            Demand first = Demand.of(
                            Measure.OVERTRAVEL,
                            new Statistic(
                                    Statistic.Kind.FIRST_FAILURE,
                                    new Statistic.Settings.Broken(
                                            new Bound(OptionalDouble.empty(), OptionalDouble.of(340), Unit.DEG))))
                    .atLeast(4, Unit.CYCLES)
                    .guarded();

            assertThat(judge(first, ONE_DEGREE, 300, 300, 300, 300).verdict()).isEqualTo(Verdict.PASS);
            assertThat(judge(first, ONE_DEGREE, 300, 339, 300, 300).verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(judge(first, ONE_DEGREE, 300, 343, 300, 300).verdict()).isEqualTo(Verdict.FAIL);
        }
    }

    @Nested
    class The_uncertainty_of {
        private double standard(Statistic.Kind kind, Budgets budgets, double... values) {
            return judge(overtravel(kind), budgets, values)
                    .groups()
                    .get(0)
                    .assessment()
                    .standardUncertainty()
                    .orElseThrow();
        }

        @Test
        void a_single_value_has_all_contributions() {
            assertThat(standard(Statistic.Kind.MAXIMUM, ONE_DEGREE, 300, 301)).isCloseTo(1.0, within(1e-12));
        }

        @Test
        void a_mean_has_what_shifts_share_and_a_part_of_the_rest() {
            assertThat(standard(Statistic.Kind.MEAN, ONE_DEGREE, 300, 301, 299, 300))
                    .isCloseTo(Math.hypot(0.8, 0.6 / 2), within(1e-12));
        }

        @Test
        void a_spread_has_nothing_of_an_offset() {
            assertThat(standard(Statistic.Kind.STANDARD_DEVIATION, budgets(Measure.OVERTRAVEL, common(5)), 290, 310))
                    .isZero();
        }

        /** The true spread of many values seen with noise: s² = σ² + e², and its scatter, by simulation. */
        @Test
        void a_spread_covers_the_error_of_what_is_seen() {
            Budgets noisy = budgets(Measure.OVERTRAVEL, each(3));
            Random random = new Random(11);
            int covered = 0;
            for (int trial = 0; trial < 400; trial++) {
                double[] truth = random.doubles(20)
                        .map(x -> random.nextGaussian() * 10 + 300)
                        .toArray();
                double[] seen = new double[20];
                for (int i = 0; i < 20; i++) {
                    seen[i] = truth[i] + 3 * random.nextGaussian();
                }
                Assessment shown = judge(overtravel(Statistic.Kind.STANDARD_DEVIATION), noisy, seen)
                        .groups()
                        .get(0)
                        .assessment();
                double trueSd = sd(truth);
                covered += Math.abs(sd(seen) - trueSd)
                                <= shown.expandedUncertainty().orElseThrow()
                        ? 1
                        : 0;
            }

            assertThat(covered)
                    .as("of 400 intervals of 95 %, seed 11")
                    .isGreaterThanOrEqualTo(372); // 4 standard errors
        }
    }

    private static double sd(double[] values) {
        return org.shiftstand.stats.Sample.of(values).standardDeviation().orElseThrow();
    }

    @Nested
    class Claim_process {
        private final Demand mean = overtravel(Statistic.Kind.MEAN).process();

        @Test
        void passes_only_if_the_confidence_limit_is_inside() {
            // 337 ± 1.86 × 4.2 / 3: Student's t, 8 degrees of freedom, one-sided 95 %
            double[] values = {333, 341, 337, 342, 332, 337, 341, 333, 337};
            ClauseResult result = judge(mean, budgets(Measure.OVERTRAVEL), values);

            assertThat(result.groups().get(0).assessment().highLimit())
                    .hasValueCloseTo(337 + 1.8595 * sd(values) / 3, within(0.001));
            assertThat(result.verdict()).isEqualTo(Verdict.PASS);
        }

        @Test
        void has_no_verdict_where_sampling_does_not_decide() {
            ClauseResult result = judge(mean, budgets(Measure.OVERTRAVEL), 335, 343, 339, 344, 334, 339, 343, 335, 339);

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason())
                    .startsWith("339 deg, allowed 230 to 340 deg, 1 deg inside, but in the long run");
        }

        @Test
        void fails_only_if_the_opposite_limit_is_outside() {
            assertThat(judge(mean, budgets(Measure.OVERTRAVEL), 341, 349, 345, 350, 340, 345, 349, 341, 345)
                            .verdict())
                    .isEqualTo(Verdict.FAIL);
            assertThat(judge(mean, budgets(Measure.OVERTRAVEL), 337, 345, 341, 346, 336, 341, 345, 337, 341)
                            .verdict())
                    .isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void combines_sampling_with_what_all_shifts_share() {
            double[] values = {333, 341, 337, 342, 332, 337, 341, 333, 337};

            double alone = judge(mean, budgets(Measure.OVERTRAVEL, each(3)), values)
                    .groups()
                    .get(0)
                    .assessment()
                    .highLimit()
                    .orElseThrow();
            double with = judge(mean, budgets(Measure.OVERTRAVEL, common(2)), values)
                    .groups()
                    .get(0)
                    .assessment()
                    .highLimit()
                    .orElseThrow();

            assertThat(with - 337).isCloseTo(Math.hypot(alone - 337, 1.645 * 2), within(0.01));
        }

        @Test
        void of_a_spread_asks_more_the_fewer_shifts_there_are() {
            Demand spread = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.STANDARD_DEVIATION)
                    .needs(2)
                    .atMost(14, Unit.DEG)
                    .process();
            Random random = new Random(3);
            double[] many = random.doubles(200)
                    .map(x -> random.nextGaussian() * 10 + 300)
                    .toArray();

            assertThat(judge(spread, budgets(Measure.OVERTRAVEL), many).verdict())
                    .isEqualTo(Verdict.PASS);
            assertThat(judge(spread, budgets(Measure.OVERTRAVEL), 300, 310, 290, 305, 295)
                            .verdict())
                    .isEqualTo(Verdict.NO_VERDICT);
        }

        @Test
        void of_a_proportion_needs_as_many_faultless_shifts_as_the_confidence_asks() {
            Demand landed = Demand.outcomes(Statistic.Kind.PROPORTION, false, Outcome.LANDED)
                    .atLeast(0.95, Unit.PERCENT)
                    .process();
            List<MadeShift> shifts = new ArrayList<>();
            for (int i = 0; i < 58; i++) {
                shifts.add(shift(3, 4).cycle(i + 1));
            }

            // success run: 59 of 59 prove 95 % with 95 % confidence, 58 do not
            assertThat(judge(landed, Optional.empty(), shifts).verdict()).isEqualTo(Verdict.NO_VERDICT);
            shifts.add(shift(3, 4).cycle(59));
            assertThat(judge(landed, Optional.empty(), shifts).verdict()).isEqualTo(Verdict.PASS);
        }

        @Test
        void says_where_too_few_shifts_have_a_limit_at_all() {
            Demand percentile = Demand.percentile(Measure.OVERTRAVEL, 0.95)
                    .needs(2)
                    .atMost(340, Unit.DEG)
                    .process();

            ClauseResult result = judge(percentile, budgets(Measure.OVERTRAVEL), 300, 301, 302, 303);

            assertThat(result.verdict()).isEqualTo(Verdict.NO_VERDICT);
            assertThat(result.reason()).contains("4 shifts have no confidence limit of this statistic on that side");
        }

        @Test
        void takes_values_that_follow_each_other_for_fewer() {
            Random random = new Random(5);
            double[] values = new double[200];
            double level = 0;
            for (int i = 0; i < values.length; i++) {
                level = 0.8 * level + 6 * random.nextGaussian();
                values[i] = 300 + level;
            }

            ClauseResult result = judge(mean, budgets(Measure.OVERTRAVEL), values);

            // (1 − φ)/(1 + φ) = 0.11 for φ = 0.8
            assertThat(result.groups().get(0).assessment().effectiveN().orElseThrow())
                    .isBetween(12.0, 40.0);
            assertThat(result.remarks()).anyMatch(remark -> remark.contains("effective number of shifts"));
        }

        @Test
        void fails_no_group_that_is_outside_only_because_there_are_many() {
            Demand perSprocket = overtravel(Statistic.Kind.MEAN).per(Per.PAIR).process();
            Random random = new Random(17);
            List<MadeShift> shifts = new ArrayList<>();
            int raw = 0;
            int failed = 0;
            for (int trial = 0; trial < 60; trial++) {
                shifts.clear();
                for (int to = 2; to <= 10; to++) {
                    for (int i = 0; i < 10; i++) {
                        shifts.add(shift(to - 1, to)
                                .cycle(i + 1)
                                .with(Measure.OVERTRAVEL, 340 + 5 * random.nextGaussian()));
                    }
                }
                ClauseResult result = judge(perSprocket, Optional.of(budgets(Measure.OVERTRAVEL)), shifts);
                failed += result.verdict() == Verdict.FAIL ? 1 : 0;
                raw += result.groups().stream().anyMatch(g -> g.reason().contains("outside by itself")) ? 1 : 0;
            }

            // the long-run mean lies on the bound: 5 % of clauses may fail, of 60 at most 3 + 4 standard errors
            assertThat(failed).as("seed 17").isLessThanOrEqualTo(9);
            assertThat(raw)
                    .as("clauses with a group outside by itself, seed 17")
                    .isGreaterThan(5);
        }
    }

    /** Measured at the limit, where it is largest: how often what should not pass does. */
    @Nested
    class The_rate_of_false_accepts_stays_below_the_stated_risk {
        private static final int TRIALS = 3000;

        @Test
        void of_guarded_with_a_wanted_risk() {
            Demand every = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MEAN)
                    .needs(2)
                    .atMost(340, Unit.DEG)
                    .guarded(0.05);

            assertThat(accepted(every, 0))
                    .as("seed 23")
                    .isLessThanOrEqualTo(0.05 + 4 * Math.sqrt(0.05 * 0.95 / TRIALS));
        }

        @Test
        void of_guarded_by_the_expanded_uncertainty() {
            Demand every = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MEAN)
                    .needs(2)
                    .atMost(340, Unit.DEG)
                    .guarded();

            assertThat(accepted(every, 0))
                    .as("seed 23")
                    .isLessThanOrEqualTo(0.025 + 4 * Math.sqrt(0.025 * 0.975 / TRIALS));
        }

        @Test
        void of_process() {
            Demand every = Demand.of(Measure.OVERTRAVEL, Statistic.Kind.MEAN)
                    .needs(2)
                    .atMost(340, Unit.DEG)
                    .process();

            assertThat(accepted(every, 6))
                    .as("seed 23")
                    .isLessThanOrEqualTo(0.05 + 4 * Math.sqrt(0.05 * 0.95 / TRIALS));
        }

        /** Share of trials that pass though the value judged lies just above its limit of 340 deg. */
        private double accepted(Demand demand, double scatter) {
            Random random = new Random(23);
            int passed = 0;
            for (int trial = 0; trial < TRIALS; trial++) {
                double offset = 0.8 * random.nextGaussian();
                double[] seen = new double[10];
                for (int i = 0; i < seen.length; i++) {
                    double truth = 340 + 1e-9 + scatter * random.nextGaussian();
                    seen[i] = truth + offset + 0.6 * random.nextGaussian();
                }
                passed += judge(demand, ONE_DEGREE, seen).verdict() == Verdict.PASS ? 1 : 0;
            }
            return (double) passed / TRIALS;
        }
    }
}
