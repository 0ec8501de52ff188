package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.SqliteRunWriter;

class OwnLimitsTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @TempDir
    private Path folder;

    private static String limits(String unit, double outboard, double inboard) {
        return "unit: " + unit + "\non: 2026-09-14\nmethod: measured by hand\nby: station 2\noutboard: { at: "
                + outboard + " deg }\ninboard: { at: " + inboard + " deg }\n";
    }

    private Path file(String unit, double outboard, double inboard) throws IOException {
        return Files.writeString(folder.resolve(unit + ".limits.yaml"), limits(unit, outboard, inboard));
    }

    private Path record(Optional<String> limits) {
        Map<String, String> texts = new LinkedHashMap<>();
        texts.put(
                "spec",
                Bundled.find("tarn-drive-end-of-line", Bundled.Kind.SPEC).text());
        texts.put("profile", Bundled.find("tarn-drive", Bundled.Kind.PROFILE).text());
        limits.ifPresent(text -> texts.put("limits", text));
        Map<String, String> names = new LinkedHashMap<>();
        texts.keySet().forEach(role -> names.put(role, role + ".yaml"));
        Path file = folder.resolve("td-0107.run");
        RunHeader header = new RunHeader(
                "TD-0107", Map.of(), texts, names, 1_953_125, 0.0012, 0.005, 1_790_000_000_000_000L, true);
        try (RunWriter writer = SqliteRunWriter.create(file, header)) {
            writer.block(0, 5_000_000, 1_953_125, new short[64 * 4]);
            writer.finish("");
        }
        return file;
    }

    private static JudgeCase assembled(Path record, Named named) {
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            return input.assemble(named, JudgeOptions.defaults());
        }
    }

    @Nested
    class In_a_record {
        @Test
        void go_before_those_of_the_profile_and_are_named() {
            JudgeCase judge = assembled(record(Optional.of(limits("TD-0107", -515, 7080))), Named.nothing());

            assertThat(judge.options().shifts().outboardLimitDeg()).hasValue(-515);
            assertThat(judge.options().shifts().inboardLimitDeg()).hasValue(7080);
            assertThat(judge.profile().orElseThrow().inboardLimitDeg()).hasValue(7080);
            assertThat(judge.options().limitsFrom().orElseThrow())
                    .isEqualTo("unit TD-0107's own mechanical limits, measured by hand on 2026-09-14 by station 2:"
                            + " outboard -515 deg, inboard 7080 deg");
        }

        @Test
        void yield_to_a_file_that_is_named() throws IOException {
            Path named = file("TD-0107", -510, 7070);

            JudgeCase judge = assembled(
                    record(Optional.of(limits("TD-0107", -515, 7080))),
                    Named.nothing().withLimits(Optional.of(named.toString())));

            assertThat(judge.options().shifts().outboardLimitDeg()).hasValue(-510);
        }

        @Test
        void are_not_needed() {
            JudgeCase judge = assembled(record(Optional.empty()), Named.nothing());

            assertThat(judge.options().limitsFrom()).isEmpty();
            assertThat(judge.profile().orElseThrow().inboardLimitDeg()).isEqualTo(TARN.inboardLimitDeg());
        }
    }

    @Test
    void limits_of_another_unit_are_refused() throws IOException {
        Path other = file("TD-0108", -515, 7080);

        assertThatThrownBy(() ->
                        assembled(record(Optional.empty()), Named.nothing().withLimits(Optional.of(other.toString()))))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("has the limits of unit TD-0108, and the unit is TD-0107");
    }

    @Test
    void limits_inside_the_positions_are_refused_both_at_once() throws IOException {
        Path inside = file("TD-0107", 100, 6000);

        assertThatThrownBy(() ->
                        assembled(record(Optional.empty()), Named.nothing().withLimits(Optional.of(inside.toString()))))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("the outboard limit, 100 deg, is inside the positions of profile tarn-drive;"
                        + " expected it below that of sprocket 1, 0 deg")
                .hasMessageContaining("the inboard limit, 6000 deg, is inside the positions of profile tarn-drive;"
                        + " expected it above that of sprocket 10, 6680 deg");
    }

    @Nested
    class For_a_check {
        @Test
        void the_file_of_the_unit_is_found_in_the_folder() throws IOException {
            file("TD-0107", -515, 7080);

            OwnLimits found =
                    OwnLimits.forCheck(Optional.empty(), "TD-0107", folder).orElseThrow();

            assertThat(found.said())
                    .startsWith("Limits from TD-0107.limits.yaml: unit TD-0107's own mechanical limits, measured by");
            assertThat(found.in(TARN).outboardLimitDeg()).hasValue(-515);
        }

        @Test
        void there_may_be_none() {
            assertThat(OwnLimits.forCheck(Optional.empty(), "TD-0107", folder)).isEmpty();
        }

        @Test
        void a_file_called_after_the_unit_but_of_another_is_refused() throws IOException {
            Files.writeString(folder.resolve("TD-0107.limits.yaml"), limits("TD-0108", -515, 7080));

            assertThatThrownBy(() -> OwnLimits.forCheck(Optional.empty(), "TD-0107", folder))
                    .isInstanceOf(BadInput.class)
                    .hasMessageStartingWith("TD-0107.limits.yaml: has the limits of unit TD-0108");
        }

        @Test
        void a_named_file_must_be_there() {
            assertThatThrownBy(() -> OwnLimits.forCheck(Optional.of("none.yaml"), "TD-0107", folder))
                    .isInstanceOf(BadInput.class)
                    .hasMessage("none.yaml: no such file; expected the path of a limits file");
        }
    }
}
