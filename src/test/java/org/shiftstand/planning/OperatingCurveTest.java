package org.shiftstand.planning;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.distribution.BinomialDistribution;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** Where the chance to pass is known exactly, the simulated one agrees within the error of the simulation. */
class OperatingCurveTest {
    private static final int N = 24;
    private static final int REPETITIONS = 1500;
    private static final long SEED = 20261125;
    private static final double SD = 10.5;
    private static final NormalDistribution NORMAL = new NormalDistribution();

    /** Some fifty points are compared, each with a chance of 6e-5 to be off by four standard errors. */
    private static final double STANDARD_ERRORS = 4;

    private static OperatingCurve curve(String clause) {
        return Laid.explained(clause, N, Laid.repeated(REPETITIONS, SEED))
                .curve()
                .orElseThrow();
    }

    private static void agrees(OperatingCurve curve, DoubleUnaryOperator exact) {
        for (OperatingCurve.Point point : curve.points()) {
            double p = exact.applyAsDouble(point.quality());
            double standardError = Math.sqrt(p * (1 - p) / REPETITIONS);
            assertThat(point.verdicts().passes().share())
                    .as("chance to pass at %s, seed %d", point.quality(), SEED)
                    .isCloseTo(p, within(STANDARD_ERRORS * standardError + 1.0 / REPETITIONS));
        }
        assertThat(curve.points())
                .as("the curve is looked at where it falls")
                .anySatisfy(point ->
                        assertThat(exact.applyAsDouble(point.quality())).isBetween(0.3, 0.7));
    }

    @Nested
    class One_group {
        /** (n − 1) s²/σ² is chi-squared with n − 1 degrees of freedom. */
        @Test
        void a_standard_deviation() {
            OperatingCurve curve = curve("measure: landing, where: { to: 3, direction: inboard },"
                    + " statistic: standard-deviation, at-most: 18 deg");

            assertThat(curve.worsening()).isEqualTo(Worsening.SPREAD);
            assertThat(curve.good()).isEqualTo(SD);
            agrees(
                    curve,
                    sd -> new ChiSquaredDistribution(N - 1.0).cumulativeProbability((N - 1) * 18 * 18 / (sd * sd)));
        }

        /** A mean is normal with σ/√n. */
        @Test
        void a_mean() {
            OperatingCurve curve = curve("measure: landing-error, where: { to: 3, direction: inboard },"
                    + " statistic: mean, between: [-30 deg, 30 deg]");

            assertThat(curve.worsening()).isEqualTo(Worsening.BIAS);
            agrees(curve, bias -> inside(bias, SD / Math.sqrt(N)));
        }

        /** All of n shifts inside: the nth power of one. */
        @Test
        void every_shift() {
            OperatingCurve curve = curve("measure: landing-error, where: { to: 3, direction: inboard },"
                    + " statistic: every, between: [-30 deg, 30 deg]");

            assertThat(curve.worsening()).isEqualTo(Worsening.BIAS);
            agrees(curve, bias -> Math.pow(inside(bias, SD), N));
        }

        /** The number of shifts that go wrong is binomial. */
        @Test
        void a_count_of_outcomes() {
            OperatingCurve curve = curve("measure: outcome, is-not: landed, where: { to: 3, direction: inboard },"
                    + " statistic: count, at-most: 2");

            assertThat(curve.worsening()).isEqualTo(Worsening.SHARE);
            agrees(curve, percent -> new BinomialDistribution(N, percent / 100).cumulativeProbability(2));
        }

        private double inside(double bias, double sd) {
            return NORMAL.cumulativeProbability((30 - bias) / sd) - NORMAL.cumulativeProbability((-30 - bias) / sd);
        }
    }

    @Nested
    class Many_groups {
        private static final String CLAUSE =
                "measure: landing, per: [sprocket, direction]," + " statistic: standard-deviation, at-most: 14 deg";

        /** Eighteen groups must pass; one of them is bad. */
        @Test
        void a_fault_stands_in_one_of_them() {
            OperatingCurve curve = curve(CLAUSE);

            agrees(curve, sd -> passes(sd) * Math.pow(passes(SD), 17));
        }

        @Test
        void a_fault_stands_everywhere_where_that_is_asked_for() {
            var everywhere =
                    new Assumptions(SoundUnit.USUAL, true, REPETITIONS, SEED, java.util.OptionalDouble.empty());

            OperatingCurve curve = Laid.explained(CLAUSE, N, everywhere).curve().orElseThrow();

            agrees(curve, sd -> Math.pow(passes(sd), 18));
        }

        @Test
        void a_sound_unit_fails_as_often_as_is_known() {
            OperatingCurve curve = curve(CLAUSE);

            double exact = 1 - Math.pow(passes(SD), 18);
            assertThat(curve.producersRisk().share())
                    .isCloseTo(exact, within(STANDARD_ERRORS * Math.sqrt(exact * (1 - exact) / REPETITIONS)));
        }

        private double passes(double sd) {
            return new ChiSquaredDistribution(N - 1.0).cumulativeProbability((N - 1) * 14 * 14 / (sd * sd));
        }
    }

    @Nested
    class What_a_clause_guards_against {
        @Test
        void a_wider_spread_where_no_bias_turns_it() {
            assertThat(worsening("measure: overtravel, statistic: range, per: pair, at-most: 60 deg"))
                    .isEqualTo(Worsening.SPREAD);
            assertThat(worsening("measure: landing-error, statistic: pooled-standard-deviation, at-most: 14 deg"))
                    .isEqualTo(Worsening.SPREAD);
            assertThat(Laid.explained(
                                    "measure: overtravel, statistic: range, per: pair, at-most: 60 deg, needs: 5 shifts",
                                    6,
                                    Laid.repeated(10, SEED))
                            .curve()
                            .orElseThrow()
                            .worsening())
                    .as("of few shifts, though a drift would make such a range with less departure")
                    .isEqualTo(Worsening.SPREAD);
        }

        /** No statistic is known here by name: each shows by its verdicts what it is about. */
        @Test
        void a_drift_and_a_reversal_where_those_turn_it_soonest() {
            assertThat(
                            worsening(
                                    "measure: landing, per: [sprocket, direction], statistic: drift, between: [-40 deg, 40 deg]"))
                    .isEqualTo(Worsening.DRIFT);
            assertThat(worsening("measure: landing, per: sprocket, statistic: reversal, between: [-30 deg, 30 deg]"))
                    .isEqualTo(Worsening.REVERSAL);
        }

        @Test
        void a_bias_towards_the_nearer_limit() {
            OperatingCurve curve = Laid.explained(
                            "measure: hold, statistic: every, between: [620 ms, 800 ms]", 3, Laid.repeated(10, SEED))
                    .curve()
                    .orElseThrow();

            assertThat(curve.worsening()).isEqualTo(Worsening.BIAS);
            assertThat(curve.sign()).as("620 ms is 80 ms away, 800 ms 100 ms").isEqualTo(-1);
            assertThat(curve.bad()).as("one standard deviation of 10 ms beyond").isCloseTo(90, within(0.01));
        }

        @Test
        void the_place_nearest_to_its_bound() {
            ClauseExplanation clause = Laid.explained(
                    "measure: clearance, statistic: minimum, per: [sprocket, direction], at-least: 60 deg",
                    3,
                    Laid.repeated(10, SEED));

            assertThat(clause.place())
                    .as(
                            "-520 deg is 360 deg from sprocket 1 with its overtravel of 160 deg, 7100 deg is 420 deg from 10")
                    .isEqualTo("sprocket 1 outboard");
        }

        private Worsening worsening(String clause) {
            return Laid.explained(clause, N, Laid.repeated(10, SEED))
                    .curve()
                    .orElseThrow()
                    .worsening();
        }
    }

    @Nested
    class A_claim_about_the_process {
        private static final String CLAUSE = "measure: landing-error, where: { to: 3, direction: inboard },"
                + " statistic: mean, between: [-30 deg, 30 deg]";

        /** The confidence limits must lie inside: t with n − 1 degrees of freedom costs 3.67 deg of the bound. */
        @Test
        void lets_fewer_units_pass_near_the_bound_and_leaves_more_undecided() {
            OperatingCurve observed = curve(CLAUSE);
            OperatingCurve process = curve(CLAUSE + ", claim: process");

            double margin = process.qualityAt(0.5).orElseThrow()
                    - observed.qualityAt(0.5).orElseThrow();
            assertThat(margin).isCloseTo(-1.714 * SD / Math.sqrt(N), within(1.0)); // t 0.95, 23 degrees of freedom
            assertThat(process.points())
                    .anySatisfy(point ->
                            assertThat(point.verdicts().undecided().share()).isGreaterThan(0.5));
            assertThat(observed.points())
                    .allSatisfy(
                            point -> assertThat(point.verdicts().noVerdict()).isZero());
        }
    }

    @Nested
    class The_quality_of_a_chance {
        @Test
        void lies_between_two_points_in_proportion() {
            var curve = new OperatingCurve(
                    Worsening.BIAS,
                    1,
                    org.shiftstand.quantity.Unit.DEG,
                    0,
                    9,
                    java.util.List.of(point(0, 100), point(10, 80), point(20, 40), point(30, 40)),
                    new Tally(0, 100, 0));

            assertThat(curve.qualityAt(0.5)).hasValue(17.5);
            assertThat(curve.qualityAt(0.05)).as("never so low").isEmpty();
        }

        private OperatingCurve.Point point(double quality, int pass) {
            return new OperatingCurve.Point(quality, new Tally(pass, 100 - pass, 0));
        }
    }

    @Nested
    class A_unit_that_cannot_pass {
        @Test
        void has_no_curve_but_a_reason() {
            ClauseExplanation clause = Laid.explained(
                    "measure: landing, statistic: standard-deviation, per: [sprocket, direction], at-most: 18 deg",
                    6,
                    Laid.repeated(10, SEED));

            assertThat(clause.curve()).isEmpty();
            assertThat(clause.noCurve())
                    .hasValueSatisfying(why -> assertThat(why)
                            .startsWith("a sound unit does not pass: sprocket 1 outboard: 6 shifts have a value, 20 are"
                                    + " needed"));
        }
    }
}
