package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecLint;
import org.shiftstand.spec.SpecReader;
import org.shiftstand.spec.Verdict;

class DraftSpecTest {
    /** Two sprockets: 1→2 overtravels by 260, 264, 262, 266 deg in cycles 1, 2, 4, 5; 2→1 does not. */
    private static final double[] OVERTRAVEL = {260, 264, Double.NaN, 262, 266};

    private static MadeLearned two() {
        return MadeLearned.drive(0, 700)
                .row(1, 2, MadeLearned.programmed(270))
                .scatter(Measure.OVERTRAVEL, 3, 20)
                .scatter(Measure.LANDING, 5, 30);
    }

    private static MadeShifts shifts(double heldBackDeg) {
        MadeShifts made = MadeShifts.of(2);
        for (int cycle = 1; cycle <= 5; cycle++) {
            double deg = cycle == 3 ? heldBackDeg : OVERTRAVEL[cycle - 1];
            made.shift(
                    cycle, 1, 2, Map.of(Measure.OVERTRAVEL, deg, Measure.LANDING_ERROR, 2.0, Measure.LANDING, 702.0));
            made.shift(
                    cycle, 2, 1, Map.of(Measure.OVERTRAVEL, 0.0, Measure.LANDING_ERROR, -1.0, Measure.LANDING, -1.0));
        }
        return made;
    }

    private static Profile profile(MadeLearned made) {
        return ProfileReader.read(TextFile.of(
                "made.profile.yaml", ProfileText.of(made.learned()).whole().orElseThrow()));
    }

    private static String text(MadeLearned made, Remeasured... sources) {
        return DraftSpec.of(made.learned(), profile(made), "made.profile.yaml", List.of(sources));
    }

    private static Spec spec(MadeLearned made, Remeasured... sources) {
        return SpecReader.read(TextFile.of("made.spec.yaml", text(made, sources)));
    }

    private static Clause clause(Spec spec, String id) {
        return spec.clauses().stream()
                .filter(c -> c.id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    @Nested
    class Bounds {
        /**
         * By hand: mean (260 + 264 + 262 + 266)/4 = 263; k of a mean worth 4 and 20 degrees of freedom at 99.9 %, 95 % is
         * 4.9167 (SciPy, as in ToleranceFactorTest); 263 ± 4.9167 × 3 ± 20 is 228.25 and 297.75.
         */
        @Test
        void of_overtravel_are_the_mean_with_k_times_the_pooled_spread_and_the_margin() {
            Clause clause = clause(spec(two(), shifts(500).source("a", "TD-1")), "overtravel-1-2");

            assertThat(clause.bound().atLeast()).hasValue(228);
            assertThat(clause.bound().atMost()).hasValue(298);
            assertThat(clause.because())
                    .isEqualTo(
                            "4 shifts of 1 unit: mean 263 deg, k 4.92 × sd 3 deg (20 degrees of freedom), margin 20 deg;"
                                    + " one unit: says nothing of others");
        }

        @Test
        void of_a_row_without_overtravel_are_the_margin_alone() {
            Clause clause = clause(spec(two(), shifts(262).source("a", "TD-1")), "overtravel-2-1");

            assertThat(clause.bound().atLeast()).isEmpty();
            assertThat(clause.bound().atMost()).hasValue(20);
        }

        /** Of 30 degrees of freedom in two rows: k 4.6443 (SciPy); 2 ± 4.6443 × 5 ± 10 is −31.2 and 35.2. */
        @Test
        void of_landing_errors_are_for_each_direction_and_way_of_arriving() {
            Spec spec = spec(two(), shifts(262).source("a", "TD-1"));

            assertThat(clause(spec, "landing-error-inboard-returning").bound().atLeast())
                    .hasValue(-32);
            assertThat(clause(spec, "landing-error-inboard-returning").bound().atMost())
                    .hasValue(36);
            assertThat(clause(spec, "landing-error-outboard-direct").bound().atLeast())
                    .hasValue(-35);
        }

        /** F of 1 and 30 degrees of freedom, 99.9 %, is 13.293 (SciPy); 5 √13.293 = 18.23. One sprocket: both clauses alike. */
        @Test
        void of_spread_are_what_that_of_two_more_shifts_stays_below() {
            Spec spec = spec(two(), shifts(262).source("a", "TD-1"));

            assertThat(clause(spec, "landing-spread-inboard").bound().atMost()).hasValue(18.3);
            assertThat(clause(spec, "landing-spread-inboard").needs()).hasValue(2);
            assertThat(clause(spec, "landing-spread-pooled-outboard").bound().atMost())
                    .hasValue(18.3);
        }

        /** Of three sprockets: F(1, 30) at 1 − 0.001/3 is 16.397, 5 √16.397 = 20.25; F(3, 30) at 99.9 % is 7.054, 13.28. */
        @Test
        void of_spread_allow_for_the_number_of_sprockets() {
            MadeLearned made = MadeLearned.four().scatter(Measure.LANDING, 5, 30);
            Spec spec = spec(made, MadeShifts.of(4).source("a", "TD-1"));

            assertThat(clause(spec, "landing-spread-inboard").bound().atMost()).hasValue(21);
            assertThat(clause(spec, "landing-spread-pooled-inboard").bound().atMost())
                    .hasValue(13.3);
            assertThat(clause(spec, "landing-spread-pooled-inboard").needs()).hasValue(6);
        }

        @Test
        void never_rest_on_what_is_held_back() {
            Remeasured one = shifts(262).source("a", "TD-1");
            Remeasured other = shifts(-9999).source("a", "TD-1");

            assertThat(text(two(), one)).isEqualTo(text(two(), other));
        }

        /** Three units of means 263, 273, 253: mean of unit means 263, worth 3; k of (3, 2) with a total sd of 10.4. */
        @Test
        void of_three_units_hold_for_the_kind() {
            MadeLearned made = MadeLearned.drive(0, 700)
                    .units("A", "B", "C")
                    .row(1, 2, MadeLearned.programmed(270))
                    .scatter(new Variation(
                            Measure.OVERTRAVEL, 3, 20, 3, OptionalDouble.of(10), 10.4, 2.4, 3, List.of()));
            Remeasured[] units = new Remeasured[3];
            for (int u = 0; u < 3; u++) {
                MadeShifts shifts = MadeShifts.of(2);
                for (int cycle = 1; cycle <= 2; cycle++) {
                    shifts.shift(cycle, 1, 2, Map.of(Measure.OVERTRAVEL, 263.0 + 10 * (u == 0 ? 0 : u == 1 ? 1 : -1)));
                }
                units[u] = shifts.source("file-" + u, "ABC".substring(u, u + 1));
            }
            Spec spec = spec(made, units);
            Clause clause = clause(spec, "overtravel-1-2");

            // k of worth 3 and 2.4 degrees of freedom is 12.9568 (ToleranceFactorTest): 263 ± 134.75 ± 20
            assertThat(clause.bound().atLeast()).hasValue(108);
            assertThat(clause.bound().atMost()).hasValue(418);
            assertThat(clause.because())
                    .isEqualTo(
                            "6 shifts of 3 units: mean 263 deg, k 12.96 × sd 10.4 deg (2.4 degrees of freedom), margin"
                                    + " 20 deg");
            assertThat(spec.title()).isEqualTo("made, draft as learned; 3 units");
        }
    }

    @Nested
    class Without_a_bound {
        @Test
        void are_gaps_and_irregular_rows_by_name() {
            MadeLearned made = MadeLearned.drive(0, 700, 1400)
                    .row(1, 2, MadeLearned.gap("no shift from 1 to 2 was seen"))
                    .row(2, 3, MadeLearned.irregular(200));

            String text = text(made, MadeShifts.of(3).source("a", "TD-1"));

            assertThat(text)
                    .contains("  # no bound for overtravel 1→2: gap: no shift from 1 to 2 was seen\n")
                    .contains("  # no bound for overtravel 2→3: irregular: 1 of 4 shifts with overtravel")
                    .contains("  # no bound for landings 1→2: not seen\n")
                    .doesNotContain("id: overtravel-1-2")
                    .doesNotContain("id: overtravel-2-3");
            assertThat(SpecReader.read(TextFile.of("made.spec.yaml", text)).clauses())
                    .isNotEmpty();
        }

        @Test
        void is_what_too_few_shifts_tell_the_spread_of() {
            MadeLearned made = MadeLearned.drive(0, 700)
                    .row(1, 2, MadeLearned.programmed(270))
                    .scatter(Measure.OVERTRAVEL, 0, 0);

            assertThat(text(made, shifts(262).source("a", "TD-1")))
                    .contains(
                            "# no bound for overtravel 1→2: too few shifts of one row to tell how it scatters (4 shifts)"
                                    + "\n");
        }
    }

    @Test
    void lint_is_silent() {
        Spec spec = spec(two(), shifts(262).source("a", "TD-1"));

        assertThat(SpecLint.lint("made.spec.yaml", spec, Optional.of(profile(two())), Optional.empty()))
                .isEmpty();
    }

    @Nested
    class Proved_on_what_was_held_back {
        private Proof proof(MadeShifts shifts) {
            Remeasured source = shifts.source("a", "TD-1");
            return Proof.of(spec(two(), source), profile(two()), source);
        }

        @Test
        void fails_by_a_held_back_shift_alone() {
            assertThat(proof(shifts(262)).verdict()).hasValue(Verdict.NO_VERDICT); // of one shift there is no spread
            assertThat(proof(shifts(200)).verdict()).hasValue(Verdict.FAIL);
            assertThat(proof(shifts(200)).reason())
                    .startsWith("1 of 9 clauses fails on 2 shifts held back; overtravel-1-2: pair 1→2: 200 deg");
        }

        @Test
        void fails_by_a_held_back_shift_that_did_not_land() {
            MadeShifts shifts = shifts(262).shift(6, 1, 2, Outcome.SHORT, Map.of());

            assertThat(proof(shifts).verdict()).hasValue(Verdict.FAIL);
        }

        @Test
        void is_not_done_where_nothing_was_held_back() {
            MadeShifts shifts = MadeShifts.of(2);
            for (int cycle = 1; cycle <= 2; cycle++) {
                shifts.shift(cycle, 1, 2, Map.of(Measure.OVERTRAVEL, 262.0));
            }

            assertThat(proof(shifts).verdict()).isEmpty();
            assertThat(proof(shifts).reason()).isEqualTo("nothing was held back: it takes three cycles or more");
        }
    }
}
