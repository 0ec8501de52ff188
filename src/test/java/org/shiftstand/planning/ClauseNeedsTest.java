package org.shiftstand.planning;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.procedure.Step;

class ClauseNeedsTest {
    private static final String SPREAD =
            "measure: landing, statistic: standard-deviation, per: [sprocket, direction], at-most: 18 deg";

    private static ClauseNeeds needs(String clause, Schedule schedule) {
        return ClauseNeeds.of(Laid.spec(clause).clauses().get(0), Laid.TARN, schedule);
    }

    @Nested
    class A_procedure_that_gives_enough {
        @Test
        void needs_as_many_cycles_as_a_group_needs_shifts() {
            ClauseNeeds needs = needs(SPREAD, Laid.sweeps(24));

            assertThat(needs.each()).isEqualTo(20);
            assertThat(needs.groups())
                    .as("ten sprockets from two sides, but for the ends")
                    .isEqualTo(18);
            assertThat(needs.inAll()).isEqualTo(360);
            assertThat(needs.given()).isEqualTo(24);
            assertThat(needs.cycles()).hasValue(20);
            assertThat(needs.supplied()).isTrue();
        }

        @Test
        void takes_the_time_of_the_course() {
            Schedule schedule = Laid.sweeps(24);

            assertThat(needs(SPREAD, schedule).seconds().orElseThrow())
                    .isEqualTo(schedule.seconds(20))
                    .isLessThan(schedule.seconds(24));
        }

        @Test
        void one_visit_of_each_pair_gives_a_pooled_spread_its_shifts_in_two_cycles() {
            ClauseNeeds needs = needs(
                    "measure: landing-error, statistic: pooled-standard-deviation, at-most: 14 deg", Laid.sweeps(24));

            assertThat(needs.cycles()).as("18 shifts a cycle, 20 needed").hasValue(2);
        }
    }

    @Nested
    class A_procedure_that_gives_too_little {
        @Test
        void is_taken_to_begin_again() {
            ClauseNeeds needs = needs(SPREAD, Laid.sweeps(6));

            assertThat(needs.given()).isEqualTo(6);
            assertThat(needs.supplied()).isFalse();
            assertThat(needs.cycles()).hasValue(20);
            assertThat(needs.seconds().orElseThrow())
                    .as("three rounds and two cycles of a fourth")
                    .isCloseTo(3 * Laid.sweeps(6).seconds(6) + Laid.sweeps(6).seconds(2), within(1e-9));
        }

        @Test
        void selects_later_cycles_that_a_longer_one_has() {
            ClauseNeeds needs = needs(
                    "measure: overtravel, where: { cycle: 30..40 }, statistic: every, at-most: 400 deg",
                    Laid.sweeps(24));

            assertThat(needs.given()).isZero();
            assertThat(needs.cycles()).hasValue(30);
        }
    }

    @Nested
    class A_clause_that_no_length_supplies {
        @Test
        void selects_shifts_that_the_procedure_never_makes() {
            assertThat(needs(
                                    "measure: landing, where: { to: 9 }, statistic: mean, at-most: 6000 deg",
                                    Laid.schedule(new Step.Visit(List.of(1, 2, 3), 10, 0.35)))
                            .never())
                    .contains("the procedure makes no shift that it selects");
        }

        @Test
        void needs_more_than_a_cycle_gives_it() {
            assertThat(needs(
                                    "measure: landing-error, statistic: mean, per: [sprocket, direction, cycle], at-most: 30 deg",
                                    Laid.sweeps(24))
                            .never())
                    .contains("a group never has more than its own cycle gives it");
        }

        @Test
        void selects_too_few_cycles() {
            assertThat(needs(SPREAD + ", where: { cycle: 1..10 }", Laid.sweeps(24))
                            .never())
                    .contains("the cycles that it selects are too few");
        }

        @Test
        void is_named() {
            Explanation explained = Explainer.explain(
                    Laid.spec(SPREAD + ", where: { cycle: 1..10 }", "measure: hold, statistic: maximum, at-most: 1 s"),
                    Laid.TARN,
                    Laid.sweeps(24),
                    false,
                    Laid.repeated(2, 1));

            assertThat(explained.neverSupplied()).containsExactly("c1");
            assertThat(explained.cyclesForAll()).hasValue(1);
            assertThat(explained.clauses().get(1).needs().flatMap(ClauseNeeds::never))
                    .isEqualTo(Optional.empty());
        }
    }
}
