package org.shiftstand.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.time.LocalDate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;

class StudyInRigTest {
    private static final LocalDate DAY = LocalDate.of(2026, 9, 14);
    private static final StudyResult STUDY =
            new StudyResult(DAY, "landing-error", 10, 3, 3, 1, 0.19993317972, 0.2268379, true);

    private static TextFile rig(String... more) {
        return TextFile.of(
                "mine.rig.yaml",
                "# mine\nrig: bench-two\ndrive: requests   # as bought\nguards: { current: 9 A for 20 ms, average-current: 2 A"
                        + " over 2 s, on-time: 50 min/h, temperature: 60 degC, supply: 6 V..8.6 V }\n"
                        + String.join("\n", more));
    }

    @Test
    void it_is_added_at_the_end_and_all_the_rest_stays() {
        TextFile kept = StudyInRig.added(rig(), STUDY, "kept.rig.yaml");

        assertThat(kept.text()).isEqualTo(rig().text() + """
                        study:
                          - { on: 2026-09-14, measure: landing-error, units: 10, mounts: 3, repeats: 3, shifts: 1,
                              repeatability: 0.199933 deg, reproducibility: 0.226838 deg, repeatability-used: true }
                        """);
        assertThat(RigDescriptionReader.read(kept).studies())
                .containsExactly(new StudyResult(DAY, "landing-error", 10, 3, 3, 1, 0.199933, 0.226838, true));
    }

    @Test
    void the_example_of_a_rig_description_takes_one() {
        TextFile example = TextFile.read("bench-two", Path.of("rig", "bench-two.rig.yaml"));

        TextFile kept = StudyInRig.added(example, STUDY, "kept.rig.yaml");

        assertThat(kept.text()).startsWith(example.text());
        assertThat(RigDescriptionReader.read(kept).studies()).hasSize(1);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "study: { on: 2026-09-01, measure: hold, units: 5, mounts: 2, repeats: 4, repeatability: 0.4 ms,"
                        + " reproducibility: 0 ms }\n",
                "study:\n- { on: 2026-09-01, measure: hold, units: 5, mounts: 2, repeats: 4, repeatability: 0.4 ms,"
                        + " reproducibility: 0 ms }\n# after\npower: supply",
                "study:\n  on: 2026-09-01\n  measure: hold\n  units: 5\n  mounts: 2\n  repeats: 4\n  repeatability: 0.4 ms\n"
                        + "  reproducibility: 0 ms\n\npower: supply\n"
            })
    void a_study_of_another_measure_stays_beside_it(String written) {
        TextFile once = StudyInRig.added(rig(written), STUDY, "kept.rig.yaml");
        TextFile twice = StudyInRig.added(once, STUDY, "kept.rig.yaml");

        assertThat(RigDescriptionReader.read(once).studies())
                .extracting(StudyResult::measure)
                .containsExactly("hold", "landing-error");
        assertThat(twice.text())
                .as("an earlier one of the same measure is replaced")
                .isEqualTo(once.text());
        if (written.contains("power")) {
            assertThat(RigDescriptionReader.read(once).power()).contains(RigDescription.Power.SUPPLY);
        }
    }

    @Test
    void where_nothing_can_be_added_it_says_so() {
        TextFile braces = TextFile.of(
                "mine.rig.yaml",
                "{ "
                        + rig().text()
                                .replaceAll("#.*", "")
                                .strip()
                                .replace("\ndrive", ", drive")
                                .replace("\nguards", ", guards")
                        + " }");
        RigDescriptionReader.read(braces);

        assertThatThrownBy(() -> StudyInRig.added(braces, STUDY, "kept.rig.yaml"))
                .isInstanceOf(BadInput.class)
                .hasMessageStartingWith("mine.rig.yaml: is written so that no study can be added (");
    }
}
