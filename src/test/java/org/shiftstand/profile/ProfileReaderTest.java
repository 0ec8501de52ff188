package org.shiftstand.profile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;

class ProfileReaderTest {
    private static final String SMALL = """
            profile: three
            version: 1
            sprockets: 3
            positions: [0 deg, 700 deg, 1400 deg]
            """;

    private static Profile read(String text) {
        return ProfileReader.read(TextFile.of("x.profile.yaml", text));
    }

    /** All problems as the user would see them. */
    private static String problems(String text) {
        BadInput thrown = catchThrowableOfType(BadInput.class, () -> read(text));
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    @Test
    void the_tarn_drive() {
        Profile tarn = ProfileReader.find("tarn-drive");

        assertThat(tarn.name()).isEqualTo("tarn-drive");
        assertThat(tarn.version()).isEqualTo(2);
        assertThat(tarn.sprockets()).isEqualTo(10);
        assertThat(tarn.positionsDeg())
                .containsExactly(0.0, 712.0, 1455.0, 2170.0, 2930.0, 3700.0, 4410.0, 5190.0, 5905.0, 6680.0);
        assertThat(tarn.screwLeadMm()).hasValue(2.4);
        assertThat(tarn.outboardLimitDeg()).hasValue(-520);
        assertThat(tarn.inboardLimitDeg()).hasValue(7100);
        assertThat(tarn.holdS()).hasValue(0.7);
        assertThat(tarn.overtravelDeg(1, 2)).isEqualTo(270);
        assertThat(tarn.overtravelDeg(5, 6)).isZero();
        assertThat(tarn.overtravelDeg(10, 9)).isEqualTo(60);
        assertThat(tarn.overtravelDeg(2, 1)).isEqualTo(160);
        assertThat(tarn.cassette()).containsExactly(11, 12, 13, 14, 16, 18, 20, 22, 25, 28);
        assertThat(tarn.sha256()).hasSize(64);
    }

    @Test
    void what_is_left_out_is_not_known_and_overtravel_is_none() {
        Profile small = read(SMALL);

        assertThat(small.screwLeadMm()).isEmpty();
        assertThat(small.outboardLimitDeg()).isEmpty();
        assertThat(small.inboardLimitDeg()).isEmpty();
        assertThat(small.holdS()).isEmpty();
        assertThat(small.overtravelInboardDeg()).containsExactly(0.0, 0.0);
        assertThat(small.overtravelOutboardDeg()).containsExactly(0.0, 0.0);
        assertThat(small.cassette()).isEmpty();
    }

    @Test
    void overtravel_that_nobody_knows_is_neither_none_nor_a_number() {
        Profile gaps = read(SMALL + "overtravel: { inboard: [270 deg, unknown], outboard: [unknown, 0 deg] }\n");

        assertThat(gaps.overtravel(1, 2)).hasValue(270);
        assertThat(gaps.overtravel(2, 3)).isEmpty();
        assertThat(gaps.overtravel(3, 2)).isEmpty();
        assertThat(gaps.overtravel(2, 1)).hasValue(0);
        assertThat(gaps.unknownOvertravel()).containsExactly("2→3", "3→2");
        assertThatThrownBy(() -> gaps.overtravelDeg(2, 3)).hasMessageContaining("profile=three, from=2, to=3");
    }

    @Test
    void an_angle_may_be_in_turns() {
        assertThat(read(SMALL.replace("700 deg", "2 turn")).positionDeg(2)).isEqualTo(720);
    }

    @Nested
    class Refusing {
        @Test
        void everything_wrong_is_told_at_once_in_the_order_of_the_file() {
            assertThat(problems("""
                    profil: x
                    version: one
                    sprockets: 3
                    screw-lead: 2.4 deg
                    positions: [0 deg, 700 mm, 600 deg]
                    hold: 0 ms
                    overtravel: { inbord: [1 deg] }
                    cassette: [11, 12.5, 13]
                    """)).isEqualTo("""
                    x.profile.yaml:1:1: unknown key 'profil' in a profile; expected one of profile, version, title, sprockets, screw-lead, positions, mechanical-limits, hold, overtravel, cassette. Did you mean 'profile'?
                    x.profile.yaml:1:1: key 'profile' is missing in a profile; expected the profile's name, such as 'tarn-drive'
                    x.profile.yaml:2:10: version is the text 'one'; expected a whole number from 1 to 1000000
                    x.profile.yaml:4:13: screw-lead is an angle, '2.4 deg'; expected a length such as '2.4 mm'
                    x.profile.yaml:5:20: item 2 of positions is a length, '700 mm'; expected an angle such as '18 deg'
                    x.profile.yaml:6:7: hold is 0 ms; expected a duration above 0
                    x.profile.yaml:7:15: unknown key 'inbord' in overtravel; expected one of inboard, outboard. Did you mean 'inboard'?
                    x.profile.yaml:8:16: item 2 of cassette is the number 12.5; expected a whole number from 5 to 200""");
        }

        @Test
        void another_word_than_unknown_for_an_overtravel() {
            assertThat(problems(SMALL + "overtravel: { inboard: [270 deg, none] }\n"))
                    .isEqualTo("x.profile.yaml:5:34: item 2 of inboard: 'none' is no number with a unit; expected one"
                            + " such as '18 deg' or '700 ms'");
        }

        @Test
        void positions_out_of_order() {
            assertThat(problems(SMALL.replace("[0 deg, 700 deg, 1400 deg]", "[0 deg, 1400 deg, 700 deg]")))
                    .isEqualTo(
                            "x.profile.yaml:4:30: the position of sprocket 3, 700 deg, is not beyond that of sprocket 2,"
                                    + " 1400 deg; expected positions that ascend from the smallest sprocket");
        }

        @Test
        void too_few_positions() {
            assertThat(problems(SMALL.replace(", 1400 deg", "")))
                    .isEqualTo("x.profile.yaml:4:12: positions has 2 values; expected 3, one a sprocket");
        }

        @Test
        void positions_without_a_unit() {
            assertThat(problems(SMALL.replace("700 deg", "700")))
                    .isEqualTo(
                            "x.profile.yaml:4:20: item 2 of positions is the bare number 700; expected an angle such as"
                                    + " '18 deg'");
        }

        @Test
        void a_limit_inside_the_positions() {
            assertThat(problems(SMALL + "mechanical-limits: { outboard: 10 deg, inboard: 1400 deg }\n"))
                    .isEqualTo("""
                    x.profile.yaml:5:32: the outboard limit, 10 deg, is not outside the positions; expected it below that of sprocket 1, 0 deg
                    x.profile.yaml:5:49: the inboard limit, 1400 deg, is not outside the positions; expected it above that of sprocket 3, 1400 deg""");
        }

        @Test
        void overtravel_past_a_limit() {
            assertThat(problems(SMALL + """
                    mechanical-limits: { outboard: -100 deg, inboard: 1500 deg }
                    overtravel:
                      inboard: [90 deg, 100 deg]
                      outboard: [90 deg, 120 deg]
                    """)).isEqualTo("""
                    x.profile.yaml:7:21: overtravel of 100 deg past sprocket 3 reaches 1500 deg, at or past the inboard limit, 1500 deg; expected it to end before
                    x.profile.yaml:8:22: overtravel of 120 deg past sprocket 1 reaches -120 deg, at or past the outboard limit, -100 deg; expected it to end before""");
        }

        @Test
        void negative_overtravel_and_a_list_of_another_length() {
            assertThat(problems(SMALL + """
                    overtravel:
                      inboard: [-90 deg, 100 deg]
                      outboard: [90 deg]
                    """)).isEqualTo("""
                    x.profile.yaml:6:13: overtravel is -90 deg; expected 0 deg for none, or an angle above it: the direction is that of motion
                    x.profile.yaml:7:13: outboard overtravel has 1 values; expected 2, one for each shift between neighbours, 3→2 first""");
        }

        @Test
        void a_cassette_of_another_length_or_out_of_order() {
            assertThat(problems(SMALL + "cassette: [11, 13, 12, 14]\n")).isEqualTo("""
                    x.profile.yaml:5:11: cassette has 4 tooth counts; expected 3, one a sprocket
                    x.profile.yaml:5:20: sprocket 3 has 12 teeth, not more than sprocket 2; expected tooth counts that ascend from the smallest sprocket""");
        }

        @Test
        void a_name_that_cannot_be_part_of_a_file_name() {
            assertThat(problems(SMALL.replace("three", "../three")))
                    .isEqualTo(
                            "x.profile.yaml:1:10: the name '../three' cannot be used; expected 1 to 64 of A-Z a-z 0-9 . _ -");
        }
    }
}
