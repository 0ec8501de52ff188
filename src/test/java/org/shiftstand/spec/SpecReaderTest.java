package org.shiftstand.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TimeZone;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

class SpecReaderTest {
    private static final String HEAD = """
            spec: x
            version: 1
            clauses:
            """;

    private static Spec read(String text) {
        return SpecReader.read(TextFile.of("x.spec.yaml", text));
    }

    /** All problems of a whole spec as the user would see them. */
    private static String problems(String text) {
        BadInput thrown = catchThrowableOfType(BadInput.class, () -> read(text));
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    /** All problems of one clause, written as a flow mapping in line 4. */
    private static String clauseProblems(String clause) {
        return problems(HEAD + "  - { id: a, " + clause + " }\n");
    }

    private static Clause clause(String clause) {
        return read(HEAD + "  - { id: a, " + clause + " }\n").clauses().get(0);
    }

    @Nested
    class Reading {
        @Test
        void the_head() {
            Spec spec = read("""
                    spec: tarn
                    version: 4
                    title: Tarn drive
                    profile: tarn-drive.profile.yaml
                    settle-band: 0.05 turn
                    stall-current: 4500 mA
                    decision: { rule: simple, claim: observed, confidence: 95 % }
                    clauses: [ { id: a, measure: landing, statistic: every, at-most: 1 deg } ]
                    """);

            assertThat(spec.name()).isEqualTo("tarn");
            assertThat(spec.version()).isEqualTo(4);
            assertThat(spec.title()).isEqualTo("Tarn drive");
            assertThat(spec.profile()).contains("tarn-drive.profile.yaml");
            assertThat(spec.bandDeg()).isEqualTo(18);
            assertThat(spec.stallCurrentA()).hasValue(4.5);
            assertThat(spec.rule()).isEqualTo("simple");
            assertThat(spec.claim()).isEqualTo("observed");
        }

        @Test
        void what_is_left_out_has_its_default() {
            Spec spec = read(HEAD + "  - { id: a, measure: landing, statistic: every, at-most: 1 deg }\n");

            assertThat(spec.title()).isEqualTo("x");
            assertThat(spec.profile()).isEmpty();
            assertThat(spec.bandDeg()).isEqualTo(20);
            assertThat(spec.stallCurrentA()).isEmpty();
            Clause clause = spec.clauses().get(0);
            assertThat(clause.per()).isEmpty();
            assertThat(clause.needs()).isEmpty();
            assertThat(clause.mayMiss()).isEqualTo(0.02);
            assertThat(clause.because()).isEmpty();
            assertThat(clause.where().direction()).isEmpty();
            assertThat(clause.where().to()).isEmpty();
            assertThat(clause.line()).isEqualTo(4);
        }

        @Test
        void a_clause_with_everything() {
            Clause clause = read("""
                    spec: x
                    version: 1
                    clauses:
                      - id: overtravel-inboard-small
                        measure: overtravel
                        where: { direction: inboard, from: [1, 3..4], to: 2..5, cycle: 1..20, step: sweep-3, supply: [8.2 V, 7 V..7.4 V] }
                        statistic: every
                        per: [sprocket, direction]
                        between: [230 deg, 1 turn]
                        needs: 20 shifts
                        may-miss: 5 %
                        claim: observed
                        because: less does not carry the chain
                    """).clauses().get(0);

            assertThat(clause)
                    .isEqualTo(new Clause(
                            "overtravel-inboard-small",
                            Optional.of(Measure.OVERTRAVEL),
                            Optional.empty(),
                            new Selection(
                                    Optional.of(Direction.INBOARD),
                                    List.of(new Selection.Range(1, 1), new Selection.Range(3, 4)),
                                    List.of(new Selection.Range(2, 5)),
                                    List.of(new Selection.Range(1, 20)),
                                    List.of("sweep-3"),
                                    List.of(new Selection.Range(8.2, 8.2), new Selection.Range(7, 7.4))),
                            new Statistic(Statistic.Kind.EVERY, 0),
                            List.of(Per.SPROCKET, Per.DIRECTION),
                            new Bound(java.util.OptionalDouble.of(230), java.util.OptionalDouble.of(360), Unit.TURN),
                            OptionalInt.of(20),
                            0.05,
                            "less does not carry the chain",
                            4));
        }

        @Test
        void both_directions_are_all() {
            assertThat(clause(
                                    "measure: hold, where: { direction: [inboard, outboard] }, statistic: every, at-most: 1 s")
                            .where()
                            .direction())
                    .isEmpty();
        }

        @Test
        void outcomes() {
            Clause not = clause("measure: outcome, is-not: landed, statistic: count, at-most: 0");
            Clause is = clause("measure: outcome, is: [short, double], statistic: proportion, at-most: 2 %");

            assertThat(not.measure()).isEmpty();
            assertThat(not.measureKey()).isEqualTo("outcome");
            assertThat(not.outcome()).contains(new Clause.OutcomeTest(List.of(Outcome.LANDED), true));
            assertThat(is.outcome()).contains(new Clause.OutcomeTest(List.of(Outcome.SHORT, Outcome.DOUBLE), false));
            assertThat(is.bound().atMost()).hasValue(0.02);
            assertThat(is.bound().unit()).isEqualTo(Unit.PERCENT);
        }

        @Test
        void a_percentile_says_which() {
            assertThat(clause("measure: hold, statistic: { percentile: 95 % }, at-most: 750 ms")
                            .statistic())
                    .isEqualTo(new Statistic(Statistic.Kind.PERCENTILE, 0.95));
        }

        @Test
        void a_change_that_is_allowed_from_a_base_run() {
            assertThat(clause("measure: landing, statistic: equivalent-to, per: sprocket, at-most: 6 deg")
                            .statistic()
                            .settings())
                    .isEqualTo(new Statistic.Settings.Alike(Statistic.Likeness.MEAN));
            assertThat(clause("measure: outcome, is-not: landed, statistic: equivalent-to, at-most: 2 %")
                            .statistic()
                            .settings())
                    .isEqualTo(new Statistic.Settings.Alike(Statistic.Likeness.PROPORTION));
            Clause spread = clause("measure: landing, statistic: { equivalent-to: spread }, at-most: 1.5");
            assertThat(spread.statistic().settings())
                    .isEqualTo(new Statistic.Settings.Alike(Statistic.Likeness.SPREAD));
            assertThat(spread.bound().atMost()).hasValue(1.5);
        }

        @Test
        void a_bound_in_another_unit_of_the_same_kind() {
            Bound bound = clause("measure: hold, statistic: every, between: [650 ms, 0.8 s]")
                    .bound();

            assertThat(bound.atLeast()).hasValue(0.65);
            assertThat(bound.atMost()).hasValue(0.8);
        }

        @ParameterizedTest
        @ValueSource(strings = {"en-US", "de-DE", "tr-TR", "ar-EG", "hi-IN-u-nu-deva"})
        void and_refusing_are_the_same_in_every_locale_and_time_zone(String tag) {
            Locale locale = Locale.getDefault();
            TimeZone zone = TimeZone.getDefault();
            String bad = "measure: LANDING, statistic: MINIMUM, at-most: 12.5 DEG, needs: 0";
            String plain = clauseProblems(bad);
            Spec before = SpecReader.find("tarn-drive-end-of-line");
            try {
                Locale.setDefault(Locale.forLanguageTag(tag));
                TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Chatham"));

                assertThat(SpecReader.find("tarn-drive-end-of-line")).isEqualTo(before);
                assertThat(clauseProblems(bad)).isEqualTo(plain);
            } finally {
                Locale.setDefault(locale);
                TimeZone.setDefault(zone);
            }
        }
    }

    @Nested
    class Refusing {
        @Test
        void everything_wrong_is_told_at_once_in_the_order_of_the_file() {
            assertThat(problems("""
                    spec: x
                    version: 1
                    setle-band: 20 deg
                    settle-band: 20 ms
                    clauses:
                      - id: landing-spread
                        measure: landing
                        statistic: standart-deviation
                        per: [sprocket, directon]
                        at-most: 18 deg
                        becuase: it rubs
                      - id: landing-spread
                        measure: landings
                        statistic: every
                        at-most: 18 dge
                    """)).isEqualTo("""
                    x.spec.yaml:3:1: unknown key 'setle-band' in a spec; expected one of spec, version, title, profile, settle-band, stall-current, decision, clauses.
                    x.spec.yaml:4:14: settle-band is a duration, '20 ms'; expected an angle such as '18 deg'
                    x.spec.yaml:8:16: unknown statistic 'standart-deviation'; expected one of every, minimum, maximum, mean, median, standard-deviation, pooled-standard-deviation, range, percentile, count, proportion, tolerance-interval, repeatability, reversal, capability, drift, change-point, first-failure, equivalent-to. Did you mean 'standard-deviation'?
                    x.spec.yaml:9:21: unknown grouping 'directon'; expected one of sprocket, pair, direction, cycle, each. Did you mean 'direction'?
                    x.spec.yaml:11:5: unknown key 'becuase' in item 1 of clauses; expected one of id, measure, is, is-not, where, statistic, per, at-most, at-least, between, needs, may-miss, rule, claim, confidence, false-accept, because. Did you mean 'because'?
                    x.spec.yaml:12:9: clause id 'landing-spread' is used before in line 6; expected each id once
                    x.spec.yaml:13:14: unknown measure 'landings'; expected one of landing, overtravel, ringing, hold, travel-time, settle-time, extreme, clearance, creep, wake-up-error, peak-current, charge, return-ringing, rest-hold, energy, landing-error, outcome. Did you mean 'landing'?
                    x.spec.yaml:15:14: at-most: unknown unit 'dge' in '18 dge'. Did you mean 'deg'?""");
        }

        @Test
        void an_empty_list_of_clauses() {
            assertThat(problems("spec: x\nversion: 1\nclauses: []\n"))
                    .isEqualTo("x.spec.yaml:3:10: clauses is an empty list; expected a list of clauses");
        }

        @Test
        void a_clause_without_a_bound() {
            assertThat(clauseProblems("measure: landing, statistic: every"))
                    .isEqualTo(
                            "x.spec.yaml:4:5: the clause has no bound; expected at-most, at-least or between: [low, high]");
        }

        @Test
        void a_bound_of_the_wrong_unit() {
            assertThat(clauseProblems("measure: landing, statistic: every, at-most: 18 ms"))
                    .isEqualTo(
                            "x.spec.yaml:4:59: at-most is 18 ms; landing is an angle, so its bound is too: expected the"
                                    + " likes of '18 deg'");
            assertThat(clauseProblems("measure: hold, statistic: mean, at-least: 0.7"))
                    .isEqualTo(
                            "x.spec.yaml:4:56: at-least is 0.7; hold is a duration, so its bound is too: expected the likes"
                                    + " of '700 ms'");
            assertThat(clauseProblems("measure: outcome, is: short, statistic: count, at-most: 2 %"))
                    .isEqualTo(
                            "x.spec.yaml:4:70: at-most is 2 %; count is a count, so its bound is too: expected the likes of"
                                    + " '0'");
        }

        @Test
        void a_bound_of_the_wrong_unit_beside_a_misspelt_statistic() {
            assertThat(clauseProblems("measure: landing, statistic: maximun, at-most: 18 ms"))
                    .isEqualTo("""
                    x.spec.yaml:4:43: unknown statistic 'maximun'; expected one of every, minimum, maximum, mean, median, standard-deviation, pooled-standard-deviation, range, percentile, count, proportion, tolerance-interval, repeatability, reversal, capability, drift, change-point, first-failure, equivalent-to. Did you mean 'maximum'?
                    x.spec.yaml:4:61: at-most is 18 ms; landing is an angle, so its bound is too: expected the likes of '18 deg'""");
        }

        @Test
        void a_bound_that_no_statistic_can_have() {
            assertThat(clauseProblems("measure: landing-error, statistic: standard-deviation, at-most: -1 deg"))
                    .isEqualTo("x.spec.yaml:4:78: at-most is -1 deg; a standard-deviation is never below 0");
            assertThat(clauseProblems("measure: outcome, is: short, statistic: proportion, at-most: 120 %"))
                    .isEqualTo("x.spec.yaml:4:75: at-most is 120 %; a proportion lies between 0 % and 100 %");
            assertThat(clauseProblems("measure: outcome, is: short, statistic: count, at-most: 1.5"))
                    .isEqualTo(
                            "x.spec.yaml:4:70: at-most is 1.5; a count is a whole number from 0: no count can be at this"
                                    + " bound");
            assertThat(clauseProblems("measure: ringing, statistic: maximum, at-most: -5 deg"))
                    .isEqualTo("x.spec.yaml:4:61: at-most is -5 deg; ringing is never below 0");
        }

        @Test
        void a_lower_bound_above_the_upper() {
            assertThat(clauseProblems("measure: hold, statistic: every, between: [800 ms, 0.6 s]"))
                    .isEqualTo(
                            "x.spec.yaml:4:56: the lower bound 800 ms is above the upper bound 0.6 s: nothing can meet"
                                    + " both; expected the lower one first");
            assertThat(clauseProblems("measure: hold, statistic: every, at-least: 800 ms, at-most: 600 ms"))
                    .isEqualTo(
                            "x.spec.yaml:4:74: the lower bound 800 ms is above the upper bound 600 ms: nothing can meet"
                                    + " both; expected the lower one first");
        }

        @Test
        void two_ways_of_bounding() {
            assertThat(clauseProblems("measure: hold, statistic: every, between: [600 ms, 800 ms], at-most: 1 s"))
                    .isEqualTo("x.spec.yaml:4:83: 'at-most' beside 'between'; expected one of them");
            assertThat(clauseProblems("measure: hold, statistic: every, between: [600 ms]"))
                    .isEqualTo("x.spec.yaml:4:56: between has 1 values; expected two, the lower first");
        }

        @Test
        void a_mean_or_spread_of_landings_over_several_sprockets() {
            String mixes =
                    " over several sprockets mixes their positions; expected 'per: sprocket', 'per: pair' or one 'to'"
                            + " in where";
            assertThat(clauseProblems("measure: landing, statistic: mean, at-most: 18 deg"))
                    .isEqualTo("x.spec.yaml:4:43: mean of landing" + mixes);
            assertThat(clauseProblems("measure: extreme, statistic: range, per: direction, at-most: 18 deg"))
                    .isEqualTo("x.spec.yaml:4:43: range of extreme" + mixes);
            assertThat(clauseProblems("measure: landing, statistic: mean, where: { to: 3 }, at-most: 18 deg"))
                    .isEmpty();
            assertThat(clauseProblems("measure: landing, statistic: mean, where: { to: 3..4 }, at-most: 18 deg"))
                    .isEqualTo("x.spec.yaml:4:43: mean of landing" + mixes);
            assertThat(clauseProblems("measure: landing, statistic: mean, per: pair, at-most: 18 deg"))
                    .isEmpty();
            assertThat(clauseProblems("measure: landing, statistic: pooled-standard-deviation, at-most: 18 deg"))
                    .isEmpty();
        }

        @Test
        void a_statistic_that_does_not_go_with_the_measure_or_grouping() {
            assertThat(clauseProblems("measure: outcome, is: landed, statistic: mean, at-least: 1"))
                    .isEqualTo("x.spec.yaml:4:55: statistic 'mean' of an outcome; expected count or proportion");
            assertThat(clauseProblems("measure: hold, statistic: proportion, at-least: 1"))
                    .isEqualTo("x.spec.yaml:4:40: statistic 'proportion' of hold; it goes with measure outcome only");
            assertThat(clauseProblems("measure: hold, statistic: range, per: each, at-most: 1 s"))
                    .isEqualTo(
                            "x.spec.yaml:4:40: statistic 'range' per each shift; one shift has none: expected 'every', or"
                                    + " another grouping");
        }

        @Test
        void an_outcome_clause_without_or_beside_its_words() {
            assertThat(clauseProblems("measure: outcome, statistic: count, at-most: 0"))
                    .isEqualTo(
                            "x.spec.yaml:4:5: a clause on outcome needs 'is' or 'is-not'; expected the likes of 'is-not:"
                                    + " landed'");
            assertThat(clauseProblems("measure: hold, is: landed, statistic: every, at-most: 1 s"))
                    .isEqualTo(
                            "x.spec.yaml:4:33: 'is' goes with measure outcome only; expected a bound: at-most, at-least or"
                                    + " between");
            assertThat(clauseProblems("measure: outcome, is: landed, is-not: short, statistic: count, at-most: 0"))
                    .isEqualTo("x.spec.yaml:4:52: both 'is' and 'is-not'; expected one of them");
            assertThat(clauseProblems("measure: outcome, is: lander, statistic: count, at-most: 0"))
                    .isEqualTo("x.spec.yaml:4:36: unknown outcome 'lander'; expected one of interrupted, not-settled,"
                            + " reversed, missed, stalled, short, double, landed. Did you mean 'landed'?");
        }

        @Test
        void a_margin_that_cannot_be_one() {
            assertThat(clauseProblems("measure: landing-error, statistic: equivalent-to, at-least: 1 deg"))
                    .isEqualTo("""
                    x.spec.yaml:4:5: the clause has no margin; expected at-most: the largest difference that is allowed
                    x.spec.yaml:4:74: 'at-least' of an equivalence; it has a largest difference only: expected at-most""");
            assertThat(clauseProblems("measure: landing-error, statistic: equivalent-to, at-most: 0 deg"))
                    .isEqualTo("x.spec.yaml:4:73: at-most is 0 deg; a margin is above 0: no two runs have the very same"
                            + " mean");
            assertThat(clauseProblems("measure: hold, statistic: { equivalent-to: spread }, at-most: 1"))
                    .isEqualTo("x.spec.yaml:4:76: at-most is 1; a margin of spreads is their ratio, the larger over the"
                            + " smaller: above 1, such as 1.5");
            assertThat(clauseProblems("measure: hold, statistic: { equivalent-to: spread }, at-most: 20 ms"))
                    .contains("equivalent-to is a ratio, so its bound is too");
            assertThat(clauseProblems("measure: hold, statistic: { equivalent-to: proportion }, at-most: 10 %"))
                    .contains("equivalent-to 'proportion' of hold; it goes with measure outcome, or with overtravel");
            assertThat(clauseProblems(
                            "measure: outcome, is-not: landed, statistic: { equivalent-to: mean }, at-most: 2 %"))
                    .contains("equivalent-to 'mean' of an outcome");
            assertThat(clauseProblems("measure: hold, statistic: { equivalent-to: spraed }, at-most: 1.5"))
                    .contains(
                            "unknown likeness 'spraed'; expected one of mean, spread, proportion. Did you mean 'spread'?");
            assertThat(clauseProblems("measure: hold, statistic: equivalent-to, per: cycle, at-most: 1 ms"))
                    .contains("equivalent-to per cycle; cycles of two runs have nothing in common but their number");
        }

        @Test
        void a_rule_or_claim_that_there_is_not() {
            assertThat(problems("spec: x\nversion: 1\ndecision: { rule: guarde, claim: population }\n"
                            + "clauses: [ { id: a, measure: hold, statistic: mean, at-most: 1 s, claim: proces } ]\n"))
                    .isEqualTo("""
                    x.spec.yaml:3:19: unknown decision rule 'guarde'; expected one of simple, guarded. Did you mean 'guarded'?
                    x.spec.yaml:3:34: unknown claim 'population'; expected one of observed, process.
                    x.spec.yaml:4:74: unknown claim 'proces'; expected one of observed, process. Did you mean 'process'?""");
        }

        @Test
        void a_claim_about_the_long_run_of_what_has_none() {
            assertThat(clauseProblems("measure: hold, statistic: every, at-most: 1 s, claim: process"))
                    .isEqualTo(
                            "x.spec.yaml:4:68: claim 'process' of statistic 'every': it has no long-run value to claim;"
                                    + " expected 'claim: observed' in this clause, or a statistic such as tolerance-interval");
        }

        @Test
        void a_wanted_risk_without_a_guard_band() {
            assertThat(clauseProblems("measure: hold, statistic: every, at-most: 1 s, false-accept: 2 %"))
                    .contains("false-accept sets a guard band, and rule 'simple' has none");
        }

        @Test
        void a_statistic_without_the_settings_that_it_needs() {
            assertThat(clauseProblems("measure: hold, statistic: tolerance-interval, at-most: 1 s"))
                    .contains("tolerance-interval does not say what it holds");
            assertThat(clauseProblems("measure: hold, statistic: capability, at-least: 1.33"))
                    .contains("capability does not say which index");
            assertThat(clauseProblems("measure: hold, statistic: first-failure, at-least: 200 cycles"))
                    .contains("first-failure does not say what fails");
            assertThat(clauseProblems(
                            "measure: hold, statistic: { capability: { index: cp, at-most: 1 s } }, at-least: 1.33"))
                    .contains("index cp needs both limits");
        }

        @Test
        void a_percentile_that_does_not_say_which() {
            assertThat(clauseProblems("measure: hold, statistic: percentile, at-most: 1 s"))
                    .isEqualTo("x.spec.yaml:4:40: percentile does not say which; expected '{ percentile: 95 % }'");
            assertThat(clauseProblems("measure: hold, statistic: { percentile: 95 }, at-most: 1 s"))
                    .isEqualTo("x.spec.yaml:4:54: percentile is 95; expected more than 0 % and less than 100 %");
        }

        @Test
        void needs_that_cannot_be() {
            assertThat(clauseProblems("measure: hold, statistic: range, at-most: 1 s, needs: 1"))
                    .isEqualTo("x.spec.yaml:4:68: needs is 1; expected at least 2: one shift has no range");
            assertThat(clauseProblems("measure: hold, statistic: every, at-most: 1 s, needs: 2.5 shifts"))
                    .isEqualTo(
                            "x.spec.yaml:4:68: needs is 2.5 shifts; expected a whole number of shifts from 1 to 1000000");
            assertThat(clauseProblems("measure: hold, statistic: every, at-most: 1 s, needs: 20 ms"))
                    .isEqualTo("x.spec.yaml:4:68: needs is a duration, '20 ms'; expected a count such as '20 shifts'");
        }

        @Test
        void a_selection_that_cannot_be() {
            assertThat(clauseProblems(
                            "measure: hold, where: { to: 6..2, cycle: '1-20', direction: up }, statistic: every,"
                                    + " at-most: 1 s"))
                    .isEqualTo("""
                    x.spec.yaml:4:42: to runs backwards; expected the smaller end first
                    x.spec.yaml:4:55: cycle is '1-20'; expected a whole number, a range such as 2..6, or a list of them
                    x.spec.yaml:4:74: unknown direction 'up'; expected one of inboard, outboard.""");
            assertThat(clauseProblems("measure: hold, where: { to: 0 }, statistic: every, at-most: 1 s"))
                    .isEqualTo("x.spec.yaml:4:42: to is the number 0; expected a whole number from 1 to 1000000");
            assertThat(clauseProblems("measure: hold, where: { supply: 7..8 V }, statistic: every, at-most: 1 s"))
                    .isEqualTo("x.spec.yaml:4:46: supply is '7..8 V'; expected a range such as '7.4 V..8.4 V'");
        }

        @Test
        void values_of_another_kind() {
            assertThat(problems("spec: [x]\nversion: 1.5\ntitle: 12\nprofile:\nsettle-band: 400 deg\ndecision: simple\n"
                            + "clauses: all\n"))
                    .isEqualTo("""
                    x.spec.yaml:1:7: spec is a list; expected a name
                    x.spec.yaml:2:10: version is the number 1.5; expected a whole number from 1 to 1000000
                    x.spec.yaml:3:8: title is the number 12; expected a title in words
                    x.spec.yaml:4:9: profile is empty; expected the path of a profile
                    x.spec.yaml:5:14: settle-band is 400 deg; expected less than 360 deg
                    x.spec.yaml:6:11: decision is the text 'simple'; expected { rule: simple, claim: observed }
                    x.spec.yaml:7:10: clauses is the text 'all'; expected a list of clauses""");
        }
    }
}
