package org.shiftstand.planning.cassette;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.shiftstand.profile.Profile;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

class SprocketLineTest {
    private static final OptionalDouble NOT_KNOWN = OptionalDouble.empty();

    private static SprocketLine measured(OptionalDouble presentPitchMm) {
        return SprocketLine.of(Profiles.three(), presentPitchMm, Spacing.MEASURED);
    }

    static Stream<Arguments> travels() throws IOException {
        try (InputStream in =
                Objects.requireNonNull(SprocketLineTest.class.getResourceAsStream("/sim/screw_and_limits.json"))) {
            JsonNode table = JsonMapper.shared().readTree(in).get("table");
            assertThat(table.size()).isEqualTo(8);
            return table.valueStream()
                    .map(row -> Arguments.of(
                            row.get("angle_deg").asDouble(),
                            row.get("travel_mm").asDouble()));
        }
    }

    /** REF-PHYS-01, screw_and_limits.json: travel = angle/360 × lead, lead 2.4 mm. */
    @ParameterizedTest
    @MethodSource("travels")
    void the_screw_turns_an_angle_into_travel(double deg, double mm) {
        assertThat(SprocketLine.travelMm(deg, 2.4)).isCloseTo(mm, within(1e-12));
    }

    /** The same table through a drive of that lead, whose sprockets are as far apart as its cage travels. */
    @ParameterizedTest
    @MethodSource("travels")
    void without_the_present_pitch_millimetres_are_cage_travel(double deg, double mm) {
        Profile even = Profiles.of(
                List.of(0.0, 900.0), OptionalDouble.of(2.4), NOT_KNOWN, NOT_KNOWN, List.of(0.0), List.of(0.0));
        SprocketLine line = SprocketLine.of(even, NOT_KNOWN, Spacing.MEASURED);

        assertThat(line.mm(deg).orElseThrow()).isCloseTo(mm, within(1e-12));
        assertThat(line.linkage()).isEmpty();
    }

    @Nested
    class Between_sprockets {
        @Test
        void the_angle_is_interpolated() {
            assertThat(measured(NOT_KNOWN).degAt(0.5)).isEqualTo(300);
            assertThat(measured(NOT_KNOWN).degAt(1.5)).isEqualTo(950);
        }

        @Test
        void equal_angles_leave_out_what_is_uneven() {
            SprocketLine even = SprocketLine.of(Profiles.three(), NOT_KNOWN, Spacing.EVEN);

            assertThat(even.degAt(0.5)).isEqualTo(325);
            assertThat(even.degAt(1)).isEqualTo(650);
            assertThat(even.degAt(2)).isEqualTo(1300);
        }
    }

    @Test
    void past_the_last_sprocket_it_goes_on_with_the_mean_pitch() {
        assertThat(measured(NOT_KNOWN).degAt(3)).isEqualTo(1300 + 650);
    }

    /** 650 deg by a lead of 3.6 mm are 6.5 mm; the sprockets are 5.2 mm apart: 0.8. */
    @Test
    void the_present_pitch_tells_the_mean_ratio_of_the_linkage() {
        SprocketLine line = measured(OptionalDouble.of(5.2));

        assertThat(line.linkage().orElseThrow()).isCloseTo(0.8, within(1e-12));
        assertThat(line.mm(650).orElseThrow()).isCloseTo(5.2, within(1e-12));
    }

    @Test
    void the_present_pitch_alone_gives_millimetres_without_a_screw_lead() {
        Profile noLead = Profiles.of(
                List.of(0.0, 600.0, 1300.0), NOT_KNOWN, NOT_KNOWN, NOT_KNOWN, List.of(0.0, 0.0), List.of(0.0, 0.0));

        SprocketLine line = SprocketLine.of(noLead, OptionalDouble.of(5.2), Spacing.MEASURED);

        assertThat(line.mm(325).orElseThrow()).isCloseTo(2.6, within(1e-12));
        assertThat(line.linkage()).isEmpty();
    }

    @Test
    void without_either_there_are_no_millimetres() {
        Profile noLead = Profiles.of(List.of(0.0, 600.0), NOT_KNOWN, NOT_KNOWN, NOT_KNOWN, List.of(0.0), List.of(0.0));

        assertThat(SprocketLine.of(noLead, NOT_KNOWN, Spacing.MEASURED).mm(100)).isEmpty();
    }
}
