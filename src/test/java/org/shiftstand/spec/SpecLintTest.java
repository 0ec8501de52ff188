package org.shiftstand.spec;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

class SpecLintTest {
    private static final Profile TARN = ProfileReader.find("tarn-drive");

    /** Sweeps of all ten sprockets and back. */
    private static List<PlannedShift> sweeps(int times) {
        var plan = new ArrayList<PlannedShift>();
        for (int cycle = 1; cycle <= times; cycle++) {
            for (int n = 1; n < 10; n++) {
                plan.add(planned(cycle, n, n + 1));
            }
            for (int n = 10; n > 1; n--) {
                plan.add(planned(cycle, n, n - 1));
            }
        }
        return plan;
    }

    private static PlannedShift planned(int cycle, int from, int to) {
        return new PlannedShift(cycle, from, to, Optional.of("sweep-3"), OptionalDouble.of(8.2));
    }

    private static String lint(String clause, Optional<List<PlannedShift>> plan) {
        Spec spec = SpecReader.read(TextFile.of("x", "spec: x\nversion: 1\nclauses:\n  - { id: a, " + clause + " }\n"));
        return SpecLint.lint("x.spec.yaml", spec, Optional.of(TARN), plan).stream()
                .map(Problem::toString)
                .collect(Collectors.joining("\n"));
    }

    private static String supply(String clause, int times) {
        return lint(clause, Optional.of(sweeps(times)));
    }

    private static String nominal(String clause) {
        return lint(clause, Optional.empty());
    }

    @Nested
    class Supply {
        @Test
        void enough_shifts_in_each_group() {
            assertThat(supply(
                            "measure: landing, statistic: standard-deviation, per: [sprocket, direction], at-most: 18 deg",
                            20))
                    .isEmpty();
        }

        @Test
        void too_few_shifts_in_a_group() {
            assertThat(supply(
                            "measure: landing, statistic: standard-deviation, per: [sprocket, direction], at-most: 18 deg",
                            19))
                    .isEqualTo(
                            "x.spec.yaml:4: clause a: needs 20 shifts in each group, but the procedure gives 19 shifts to"
                                    + " sprocket 1 outboard, and too few to 17 further groups: it can only end without a verdict. Expected more cycles in the procedure, or less in 'needs'");
        }

        @Test
        void needs_of_the_clause_go_before_the_default() {
            String clause =
                    "measure: landing, statistic: standard-deviation, per: [sprocket, direction], at-most: 18 deg";

            assertThat(supply(clause + ", needs: 5 shifts", 5)).isEmpty();
            assertThat(supply(clause + ", needs: 5 shifts, where: { to: 3 }", 4))
                    .isEqualTo(
                            "x.spec.yaml:4: clause a: needs 5 shifts in each group, but the procedure gives 4 shifts to"
                                    + " sprocket 3 inboard, and too few to 1 further group: it can only end without a verdict. Expected more cycles in the procedure, or less in 'needs'");
        }

        @Test
        void a_selection_that_nothing_meets() {
            String nothing =
                    "x.spec.yaml:4: clause a: the procedure makes no shift that it selects: it can only end without a"
                            + " verdict; expected a procedure that makes such shifts, or another 'where'";

            assertThat(supply("measure: overtravel, where: { cycle: 30..40 }, statistic: every, at-most: 400 deg", 20))
                    .isEqualTo(nothing);
            assertThat(supply(
                            "measure: overtravel, where: { direction: inboard, to: 1 }, statistic: every, at-most: 400 deg",
                            2))
                    .isEqualTo(nothing);
            assertThat(supply("measure: overtravel, where: { supply: 6 V }, statistic: every, at-most: 400 deg", 2))
                    .isEqualTo(nothing);
            assertThat(supply("measure: overtravel, where: { step: sweep-4 }, statistic: every, at-most: 400 deg", 2))
                    .isEqualTo(nothing);
        }

        @Test
        void a_hold_exists_only_where_overtravel_is_programmed() {
            assertThat(supply(
                            "measure: hold, where: { direction: inboard, to: 6..10 }, statistic: every, at-most: 1 s",
                            2))
                    .startsWith("x.spec.yaml:4: clause a: the procedure makes no shift that it selects");
        }

        @Test
        void a_group_of_one_shift_that_needs_more() {
            assertThat(supply("measure: hold, per: each, statistic: every, at-most: 1 s, needs: 3", 2))
                    .isEqualTo(
                            "x.spec.yaml:4: clause a: each shift is a group of its own, but it needs 3 shifts in a group; expected needs of 1, or another grouping");
        }

        @Test
        void a_sprocket_that_the_profile_does_not_have() {
            assertThat(supply("measure: overtravel, where: { to: 8..12 }, statistic: every, at-most: 400 deg", 2))
                    .isEqualTo(
                            "x.spec.yaml:4: clause a: selects sprocket 12; expected 1 to 10, as the profile tarn-drive has them");
        }
    }

    @Nested
    class The_nominal_value {
        private static final String SHUTS = "x.spec.yaml:4: clause a: its bound, ";

        @Test
        void of_overtravel() {
            assertThat(
                            nominal(
                                    "measure: overtravel, where: { direction: inboard, to: 2..5 }, statistic: every, at-least: 280 deg"))
                    .isEqualTo(SHUTS
                            + "at least 280 deg, shuts out the profile's own nominal value: overtravel 1→2 is 270 deg");
            assertThat(nominal(
                            "measure: overtravel, where: { direction: inboard, to: 2..5 }, statistic: every, between: [230 deg,"
                                    + " 340 deg]"))
                    .isEmpty();
            assertThat(nominal("measure: overtravel, statistic: maximum, at-most: 250 deg"))
                    .isEqualTo(SHUTS
                            + "at most 250 deg, shuts out the profile's own nominal value: overtravel 2→3 is 300 deg");
        }

        @Test
        void of_hold() {
            assertThat(nominal("measure: hold, statistic: every, between: [400 ms, 600 ms]"))
                    .isEqualTo(SHUTS + "400 to 600 ms, shuts out the profile's own nominal value: hold 1→2 is 700 ms");
        }

        @Test
        void of_clearance() {
            assertThat(nominal("measure: clearance, statistic: minimum, at-least: 400 deg"))
                    .isEqualTo(SHUTS
                            + "at least 400 deg, shuts out the profile's own nominal value: clearance 2→1 is 360 deg");
            assertThat(nominal("measure: clearance, statistic: minimum, at-least: 360 deg"))
                    .isEmpty();
        }

        @Test
        void of_landing() {
            assertThat(nominal("measure: landing, where: { to: 3 }, statistic: mean, between: [1460 deg, 1500 deg]"))
                    .isEqualTo(SHUTS
                            + "1460 to 1500 deg, shuts out the profile's own nominal value: landing 2→3 is 1455 deg");
            assertThat(nominal("measure: landing-error, statistic: mean, at-least: 1 deg, per: sprocket"))
                    .startsWith(SHUTS + "at least 1 deg, shuts out the profile's own nominal value: landing-error");
        }

        @Test
        void a_mean_over_different_nominal_values_lies_between_them() {
            assertThat(
                            nominal(
                                    "measure: overtravel, where: { direction: inboard, to: 2..3 }, statistic: mean, at-least: 280 deg"))
                    .isEmpty();
        }

        @Test
        void of_a_spread_is_0() {
            assertThat(nominal("measure: landing-error, statistic: range, at-least: 5 deg"))
                    .isEqualTo(
                            "x.spec.yaml:4: clause a: asks for a spread, at least 5 deg: a unit that always lands alike would"
                                    + " fail; expected at-most");
        }

        @Test
        void of_an_outcome_is_landed() {
            assertThat(nominal("measure: outcome, is: landed, statistic: count, at-most: 0"))
                    .isEqualTo("x.spec.yaml:4: clause a: a unit that lands every shift would fail: count at most 0");
            assertThat(nominal("measure: outcome, is-not: landed, statistic: proportion, at-least: 1 %"))
                    .isEqualTo(
                            "x.spec.yaml:4: clause a: a unit that lands every shift would fail: proportion at least 1 %");
            assertThat(nominal("measure: outcome, is-not: landed, statistic: count, at-most: 0"))
                    .isEmpty();
        }
    }
}
