package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

class ProfileTextTest {
    private static Profile read(MadeLearned made) {
        String text = text(made);
        return ProfileReader.read(TextFile.of("made.profile.yaml", text));
    }

    private static String text(MadeLearned made) {
        return ProfileText.of(made.learned()).whole().orElseThrow();
    }

    @Nested
    class Read_back {
        @Test
        void says_what_was_learned() {
            Profile profile = read(MadeLearned.four().screwLead(2.4));

            assertThat(profile.name()).isEqualTo("made");
            assertThat(profile.version()).isEqualTo(1);
            assertThat(profile.positionsDeg()).containsExactly(0.0, 700.0, 1405.5, 2100.0);
            assertThat(profile.screwLeadMm()).hasValue(2.4);
            assertThat(profile.holdS()).hasValue(0.7);
            assertThat(profile.overtravelInboardDeg()).containsExactly(270.0, 300.3, 0.0);
            assertThat(profile.overtravelOutboardDeg()).containsExactly(0.0, 90.0, 160.0);
            assertThat(profile.outboardLimitDeg()).isEmpty();
        }

        @Test
        void has_a_gap_where_a_row_was_not_seen_or_is_irregular() {
            Profile profile = read(MadeLearned.four()
                    .row(3, 4, MadeLearned.gap("no shift from 3 to 4 was seen"))
                    .row(4, 3, MadeLearned.irregular(200)));

            assertThat(profile.overtravel(3, 4)).isEmpty();
            assertThat(profile.unknownOvertravel()).containsExactly("3→4", "4→3");
        }
    }

    @Test
    void comments_say_from_what_how_sure_and_what_is_assumed() {
        assertThat(text(MadeLearned.four()
                        .row(3, 4, MadeLearned.gap("no shift from 3 to 4 was seen"))
                        .row(4, 3, MadeLearned.irregular(200))))
                .isEqualTo("""
                # Learned from captures by 'shiftstand characterise'; nothing here was set by hand:
                #   made.csv, unit TD-1: 24 of 36 shifts learned from, 12 held back for proving; SHA-256 %s
                # One unit: says nothing of others.
                # Settle band 20 deg, confidence 95 %%. Angles are degrees of the gearbox output shaft.
                # Stopping bias: the shaft stops 3 deg ± 0.5 deg short of its target, taken back here (from landings after a return against those without).
                profile: made
                version: 1
                sprockets: 4
                # screw-lead: not stated
                positions:    # where the firmware aims, from sprocket 1
                  - 0 deg    # sprocket 1: the origin
                  - 700 deg    # sprocket 2: ± 1.5 deg, 4 landings inboard, 4 outboard
                  - 1405.5 deg    # sprocket 3: ± 1.5 deg, 4 landings inboard, 4 outboard
                  - 2100 deg    # sprocket 4: ± 1.5 deg, 4 landings inboard, 0 outboard
                # mechanical-limits and cassette: no capture shows them; add them where they are known
                # hold: time after arrival within 20 deg, ± 2 ms, sd 2 ms, 4 shifts; the same in all rows within 10 ms; within 10 deg it is 680 ms
                hold: 700 ms
                overtravel:    # past the landing, in the direction of motion
                  inboard:
                    - 270 deg    # 1→2: ± 2.4 deg; achieved 264 deg, sd 3 deg, in all of 4 shifts; up to 52.7 %% without it could have gone unseen (95 %%)
                    - 300.3 deg    # 2→3: ± 2.4 deg; achieved 294.3 deg, sd 3 deg, in all of 4 shifts; up to 52.7 %% without it could have gone unseen (95 %%)
                    - unknown    # 3→4: gap: no shift from 3 to 4 was seen
                  outboard:
                    - unknown    # 4→3: irregular: 1 of 4 shifts with overtravel, of 194 deg achieved; what it follows is not decided
                    - 90 deg    # 3→2: ± 2.4 deg; achieved 84 deg, sd 3 deg, in all of 4 shifts; up to 52.7 %% without it could have gone unseen (95 %%)
                    - 160 deg    # 2→1: ± 2.4 deg; achieved 154 deg, sd 3 deg, in all of 4 shifts; up to 52.7 %% without it could have gone unseen (95 %%)
                """.formatted("ab".repeat(32)));
    }

    @Test
    void an_unknown_stopping_bias_is_stated() {
        assertThat(text(MadeLearned.four()
                        .stopping(new StoppingBias(
                                0,
                                Double.POSITIVE_INFINITY,
                                OptionalDouble.empty(),
                                "not known: no row tells",
                                false))))
                .contains("# Stopping bias: not known: no row tells. Achieved values stand for programmed ones.\n");
    }

    @Test
    void a_file_name_cannot_break_out_of_its_comment() {
        assertThat(read(MadeLearned.four().source("a\nprofile: evil\u2028version: 7\u0085x"))
                        .name())
                .isEqualTo("made");
    }

    @Nested
    class Withheld {
        @Test
        void where_a_position_is_not_known() {
            assertThat(ProfileText.of(MadeLearned.drive(0, Double.NaN, 1400).learned()))
                    .isEqualTo(new Written.Withheld(java.util.List.of(
                            "the position of sprocket 2 is not known: no landing on sprocket 2 was seen")));
        }

        @Test
        void where_positions_do_not_ascend() {
            assertThat(ProfileText.of(MadeLearned.drive(0, 700, 699.99).learned())
                            .whole())
                    .isEmpty();
        }
    }
}
