package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import org.junit.jupiter.api.Test;
import org.shiftstand.bench.StudyResult;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.ClauseAbility.Word;
import org.shiftstand.spec.SpecReader;

class ClauseAbilitiesTest {
    /** 10 units, 3 mounts, 3 repeats: 60 and 2 degrees of freedom. */
    private static StudyResult study(double repeatability, double reproducibility, boolean used) {
        return new StudyResult(
                LocalDate.of(2026, 9, 14), "landing-error", 10, 3, 3, 1, repeatability, reproducibility, used);
    }

    private static ClauseAbility ability(StudyResult study, double mean, String clause) {
        String text = "spec: mine\nversion: 1\nclauses:\n  - { id: c, measure: landing-error, " + clause + " }\n";
        return ClauseAbilities.of(study, mean, SpecReader.read(TextFile.of("mine.spec.yaml", text)))
                .get(0);
    }

    @Test
    void six_standard_deviations_are_held_against_the_width_between_two_bounds() {
        ClauseAbility able = ability(study(3, 4, true), 0, "statistic: every, between: [-70 deg, 80 deg]");

        assertThat(able.gauge()).hasValue(5);
        assertThat(able.width()).hasValue(150);
        assertThat(able.share().orElseThrow()).isCloseTo(0.2, within(1e-12));
        assertThat(able.word()).isEqualTo(Word.MARGINAL);
    }

    /** JCGM 100, G.4: 5⁴ / (3⁴/60 + 4⁴/2) = 4.83, truncated to 4; t at 97.5 % for 4 is 2.776. */
    @Test
    void the_expanded_uncertainty_has_the_factor_of_its_effective_freedom() {
        ClauseAbility able = ability(study(3, 4, true), 0, "statistic: every, between: [-70 deg, 80 deg]");

        assertThat(able.expanded().orElseThrow()).isCloseTo(5 * 2.776, within(0.005));
    }

    @Test
    void a_mean_of_shifts_has_less_of_what_differs_from_shift_to_shift() {
        ClauseAbility able =
                ability(study(3, 4, true), 0, "statistic: mean, needs: 9 shifts, between: [-70 deg, 80 deg]");

        assertThat(able.gauge().orElseThrow()).isCloseTo(Math.hypot(1, 4), within(1e-12));
    }

    @Test
    void a_spread_does_not_have_what_a_mounting_adds() {
        ClauseAbility able = ability(study(3, 40, true), 0, "statistic: standard-deviation, at-most: 40 deg");

        assertThat(able.share().orElseThrow()).isCloseTo(0.075, within(1e-12));
        assertThat(able.word()).isEqualTo(Word.CAN);
    }

    @Test
    void one_bound_is_held_twice_from_the_units_mean() {
        ClauseAbility able = ability(study(3, 4, true), 10, "statistic: every, at-most: 30 deg");

        assertThat(able.width()).hasValue(40);
        assertThat(able.word()).isEqualTo(Word.CANNOT);
    }

    @Test
    void beyond_its_bound_the_units_mean_tells_nothing() {
        assertThat(ability(study(3, 4, true), 31, "statistic: every, at-most: 30 deg")
                        .word())
                .isEqualTo(Word.NOT_TOLD);
    }

    @Test
    void two_mounts_know_their_spread_too_badly_to_judge_anything() {
        var two = new StudyResult(LocalDate.of(2026, 9, 14), "landing-error", 10, 2, 3, 1, 0, 1, true);

        ClauseAbility able = ability(two, 0, "statistic: every, between: [-12 deg, 12 deg]");

        assertThat(able.share().orElseThrow()).isCloseTo(0.25, within(1e-12));
        assertThat(able.expanded().orElseThrow()).isCloseTo(12.706, within(0.001)); // t at 97.5 % for 1
        assertThat(able.word()).as("no value could pass").isEqualTo(Word.CANNOT);
    }

    @Test
    void where_the_repeats_spread_is_the_units_own_only_means_are_told() {
        assertThat(ability(study(3, 1, false), 0, "statistic: every, between: [-70 deg, 70 deg]")
                        .word())
                .isEqualTo(Word.NOT_TOLD);
        assertThat(ability(study(3, 1, false), 0, "statistic: standard-deviation, at-most: 40 deg")
                        .word())
                .isEqualTo(Word.NOT_TOLD);
        assertThat(ability(study(3, 1, false), 0, "statistic: mean, between: [-70 deg, 70 deg]")
                        .word())
                .isEqualTo(Word.CAN);
    }

    @Test
    void nothing_seen_is_no_proof_of_a_perfect_rig() {
        assertThat(ability(study(3, 0, false), 0, "statistic: mean, between: [-70 deg, 70 deg]")
                        .word())
                .isEqualTo(Word.NOT_TOLD);
    }
}
