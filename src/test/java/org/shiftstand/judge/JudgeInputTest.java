package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.spec.PlannedShift;

class JudgeInputTest {
    private static final long INTERVAL_NANOS = 1_953_125; // 512 Hz

    @TempDir
    private Path folder;

    private static String packed(String name, Bundled.Kind kind) {
        return Bundled.find(name, kind).text();
    }

    private static Map<String, String> texts() {
        Map<String, String> texts = new LinkedHashMap<>();
        texts.put("spec", packed("specs/tarn-drive-end-of-line.spec.yaml", Bundled.Kind.SPEC));
        texts.put("profile", packed("specs/tarn-drive.profile.yaml", Bundled.Kind.PROFILE));
        texts.put("procedure", """
                procedure: six-sweeps
                version: 1
                sample-rate: 512 Hz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: last, and-back: true, times: 6, rest: 350 ms }
                """);
        return texts;
    }

    private Path record(Map<String, String> texts, Optional<String> end) {
        Path file = folder.resolve("td-0107.record");
        Map<String, String> names = new LinkedHashMap<>();
        texts.keySet().forEach(role -> names.put(role, role + ".yaml"));
        RunHeader header = new RunHeader(
                "TD-0107",
                Map.of("unit firmware", "2.4.1"),
                texts,
                names,
                INTERVAL_NANOS,
                0.0012,
                0.005,
                1_790_000_000_000_000L,
                true);
        try (RunWriter writer = SqliteRunWriter.create(file, header)) {
            writer.block(0, 5_000_000, INTERVAL_NANOS, new short[64 * 4]);
            end.ifPresent(writer::finish);
        }
        return file;
    }

    private Path csv() throws IOException {
        return Files.writeString(
                folder.resolve("unit.csv"),
                "time_s,hall_sin,hall_cos\n0,2048,3600\n0.001953125,2069,3599\n0.00390625,2090,3598\n");
    }

    @Nested
    class A_run_record {
        @Test
        void brings_its_own_spec_profile_and_procedure() {
            try (JudgeInput input = JudgeInput.open(record(texts(), Optional.of("")), CsvOptions.usual())) {
                JudgeCase assembled = input.assemble(Named.nothing(), JudgeOptions.defaults());

                assertThat(input.source().identity().kind()).isEqualTo("record");
                assertThat(assembled.spec().name()).isEqualTo("tarn-drive-end-of-line");
                assertThat(assembled.profile().orElseThrow().name()).isEqualTo("tarn-drive");
                List<PlannedShift> plan = assembled.options().plan().orElseThrow();
                assertThat(plan).hasSize(6 * 18); // six sweeps over ten sprockets and back
                assertThat(plan.get(0).supplyV()).hasValue(8.2);
            }
        }

        @Test
        void says_of_which_unit_and_run_it_is() {
            try (JudgeInput input = JudgeInput.open(record(texts(), Optional.of("")), CsvOptions.usual())) {
                JudgeOptions options =
                        input.assemble(Named.nothing(), JudgeOptions.defaults()).options();

                assertThat(options.unit()).contains("TD-0107");
                assertThat(options.runEnd()).isEmpty();
                assertThat(options.identity())
                        .containsEntry("unit firmware", "2.4.1")
                        .containsEntry("started", "2026-09-21T14:13:20Z")
                        .containsEntry("procedure", "six-sweeps version 1")
                        .containsEntry("profile from", "the run record")
                        .containsKey("simulated");
            }
        }

        @Test
        void that_ended_early_says_why() {
            try (JudgeInput input = JudgeInput.open(record(texts(), Optional.of("over-current")), CsvOptions.usual())) {
                assertThat(input.assemble(Named.nothing(), JudgeOptions.defaults())
                                .options()
                                .runEnd())
                        .contains("over-current");
            }
        }

        @Test
        void that_was_never_finished_says_so() {
            try (JudgeInput input = JudgeInput.open(record(texts(), Optional.empty()), CsvOptions.usual())) {
                assertThat(input.assemble(Named.nothing(), JudgeOptions.defaults())
                                .options()
                                .runEnd())
                        .contains("the record was never finished: the program or the power stopped");
            }
        }

        @Test
        void is_judged_by_another_spec_and_that_spec_s_profile_where_one_is_named() throws IOException {
            Path spec = Files.writeString(
                    folder.resolve("other.spec.yaml"),
                    packed("specs/passive-capture.spec.yaml", Bundled.Kind.SPEC)
                            .replace("version: 1", "version: 1\nprofile: other.profile.yaml"));
            Files.writeString(
                    folder.resolve("other.profile.yaml"),
                    packed("specs/tarn-drive.profile.yaml", Bundled.Kind.PROFILE)
                            .replace("profile: tarn-drive", "profile: other-drive"));

            try (JudgeInput input = JudgeInput.open(record(texts(), Optional.of("")), CsvOptions.usual())) {
                JudgeCase assembled = input.assemble(Named.spec(spec.toString()), JudgeOptions.defaults());

                assertThat(assembled.spec().name()).isEqualTo("passive-capture");
                assertThat(assembled.profile().orElseThrow().name()).isEqualTo("other-drive");
            }
        }

        @Test
        void keeps_its_own_profile_where_the_other_spec_names_none() {
            try (JudgeInput input = JudgeInput.open(record(texts(), Optional.of("")), CsvOptions.usual())) {
                JudgeCase assembled =
                        input.assemble(Named.spec("specs/passive-capture.spec.yaml"), JudgeOptions.defaults());

                assertThat(assembled.profile().orElseThrow().name()).isEqualTo("tarn-drive");
                assertThat(assembled.options().plan()).isPresent();
            }
        }

        @Test
        void is_told_by_its_first_bytes_not_its_name() throws IOException {
            Path renamed = Files.move(record(texts(), Optional.of("")), folder.resolve("looks-like.csv"));

            try (JudgeInput input = JudgeInput.open(renamed, CsvOptions.usual())) {
                assertThat(input.source().identity().kind()).isEqualTo("record");
            }
        }
    }

    @Nested
    class A_capture {
        @Test
        void has_no_spec_of_its_own() throws IOException {
            try (JudgeInput input = JudgeInput.open(csv(), CsvOptions.usual())) {
                assertThatThrownBy(() -> input.assemble(Named.nothing(), JudgeOptions.defaults()))
                        .isInstanceOf(BadInput.class)
                        .hasMessage("unit.csv: has no spec of its own; expected one, such as --spec"
                                + " specs/passive-capture.spec.yaml");
            }
        }

        @Test
        void is_judged_with_the_profile_that_the_spec_names() throws IOException {
            try (JudgeInput input = JudgeInput.open(csv(), CsvOptions.usual())) {
                JudgeCase assembled = input.assemble(
                        Named.spec("specs/tarn-drive-end-of-line.spec.yaml"),
                        JudgeOptions.defaults().withUnit("TD-0042"));

                assertThat(assembled.profile().orElseThrow().name()).isEqualTo("tarn-drive");
                assertThat(assembled.options().unit()).contains("TD-0042");
                assertThat(assembled.options().plan()).isEmpty();
            }
        }

        @Test
        void is_measured_without_a_profile_where_none_is_named() throws IOException {
            try (JudgeInput input = JudgeInput.open(csv(), CsvOptions.usual())) {
                assertThat(input.profile(Named.nothing())).isEmpty();
            }
        }

        @Test
        void that_is_missing_is_said_to_be() {
            assertThatThrownBy(() -> JudgeInput.open(folder.resolve("none.csv"), CsvOptions.usual()))
                    .isInstanceOf(BadInput.class)
                    .hasMessageContaining("no such file");
        }
    }

    @Test
    void problems_of_all_named_files_come_at_once() throws IOException {
        Path spec = Files.writeString(
                folder.resolve("bad.spec.yaml"),
                packed("specs/passive-capture.spec.yaml", Bundled.Kind.SPEC)
                        .replace("statistic: range", "statistic: rage"));
        Path profile = Files.writeString(
                folder.resolve("bad.profile.yaml"),
                packed("specs/tarn-drive.profile.yaml", Bundled.Kind.PROFILE).replace("1455 deg", "1455 mm"));

        try (JudgeInput input = JudgeInput.open(csv(), CsvOptions.usual())) {
            Named named =
                    new Named(Optional.of(spec.toString()), Optional.of(profile.toString()), Optional.of("nothing"));

            assertThatThrownBy(() -> input.assemble(named, JudgeOptions.defaults()))
                    .isInstanceOfSatisfying(
                            BadInput.class,
                            e -> assertThat(e.problems())
                                    .extracting(problem -> Path.of(problem.file())
                                            .getFileName()
                                            .toString())
                                    .contains("bad.spec.yaml", "bad.profile.yaml", "nothing"));
        }
    }

    @Test
    void a_text_that_a_record_holds_is_named_as_its_file_was() {
        Map<String, String> texts = texts();
        texts.computeIfPresent("spec", (role, text) -> text.replace("at-most: 18 deg", "at-most: 18 mm"));

        try (JudgeInput input = JudgeInput.open(record(texts, Optional.of("")), CsvOptions.usual())) {
            assertThatThrownBy(() -> input.assemble(Named.nothing(), JudgeOptions.defaults()))
                    .isInstanceOf(BadInput.class)
                    .hasMessageStartingWith("spec.yaml:");
        }
    }

    @Test
    void texts_keep_the_digest_of_the_file_they_came_from() {
        TextFile file = Bundled.find("specs/tarn-drive-end-of-line.spec.yaml", Bundled.Kind.SPEC);

        try (JudgeInput input = JudgeInput.open(record(texts(), Optional.of("")), CsvOptions.usual())) {
            assertThat(input.assemble(Named.nothing(), JudgeOptions.defaults())
                            .spec()
                            .sha256())
                    .isEqualTo(file.sha256());
        }
    }
}
