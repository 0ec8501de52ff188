package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.SimulatedRun;
import org.shiftstand.spec.SpecLint;
import org.shiftstand.spec.Verdict;
import tools.jackson.databind.json.JsonMapper;

/** Drafts of the bench captures: learned from two cycles of three, proved on the third. */
class BenchDraftTest {
    private static BenchDraft draft(String name) {
        JudgeOptions options =
                name.equals("bench-f") ? JudgeOptions.defaults().withSense("reversed") : JudgeOptions.defaults();
        try (SampleSource source = CsvCapture.open(BenchLearning.path(name + ".csv.gz"), CsvOptions.usual())) {
            return BenchDraft.of(source, name, options);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"bench-a", "bench-b", "bench-c", "bench-d", "bench-e", "bench-f", "bench-g", "bench-h"})
    void what_was_held_back_passes_and_lint_is_silent(String name) {
        BenchDraft draft = draft(name);

        Proof proof = draft.proof();

        assertThat(SpecLint.lint(name, draft.spec(), Optional.of(draft.profile()), Optional.empty()))
                .isEmpty();
        assertThat(proof.verdict()).as(proof.reason()).hasValue(Verdict.PASS);
        assertThat(proof.notShown()).isEmpty();
        assertThat(proof.shifts())
                .isEqualTo(draft.learned().sources().get(0).heldBack())
                .isGreaterThan(30);
    }

    @Test
    void learned_from_the_first_half_of_bench_a_the_second_half_passes(@TempDir Path folder) throws IOException {
        List<String> lines = lines("bench-a.csv.gz");
        int half = startOfCycleFour(lines);
        Path first = Files.write(folder.resolve("first.csv"), lines.subList(0, half));
        List<String> rest = new ArrayList<>(lines.subList(half, lines.size()));
        rest.add(0, lines.get(0));
        Path second = Files.write(folder.resolve("second.csv"), rest);

        try (SampleSource learnedFrom = CsvCapture.open(first, CsvOptions.usual());
                SampleSource unseen = CsvCapture.open(second, CsvOptions.usual())) {
            BenchDraft draft = BenchDraft.of(learnedFrom, "first.csv", JudgeOptions.defaults());
            Judgement judgement = Judge.judge(
                            unseen, draft.spec(), Optional.of(draft.profile()), JudgeOptions.defaults())
                    .judgement();

            assertThat(draft.learned().sources().get(0).learned()).isEqualTo(36);
            assertThat(judgement.table().shifts()).hasSize(54);
            assertThat(judgement.verdict()).as(judgement.reason()).isEqualTo(Verdict.PASS);
        }
    }

    private static List<String> lines(String capture) throws IOException {
        try (var reader = new BufferedReader(new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(BenchLearning.path(capture))), StandardCharsets.UTF_8))) {
            return reader.lines().toList();
        }
    }

    /** The row a third of a second before the first request of cycle 4, by the capture's truth. */
    private static int startOfCycleFour(List<String> lines) throws IOException {
        var truth = JsonMapper.shared().readTree(Files.readString(BenchLearning.path("bench-a.truth.json")));
        double atS = truth.get("shifts").get(54).get("request_s").asDouble() - 0.3;
        int row = 1;
        while (Double.parseDouble(lines.get(row).split(",")[0]) < atS) {
            row++;
        }
        return row;
    }

    @Test
    void a_simulated_unit_built_by_the_learned_profile_passes_and_one_overtravel_60_deg_short_fails_by_name() {
        BenchDraft draft = draft("bench-a");

        Judgement sound = judged(draft, "seed=4,landing-sd=7,wake-up=0"); // the sensors of bench-a wake without error
        Judgement faulty = judged(draft, "seed=4,landing-sd=7,wake-up=0,fault=overtravel-short,pair=3-4,amount=60");

        assertThat(sound.verdict()).as(sound.reason()).isEqualTo(Verdict.PASS);
        assertThat(faulty.verdict()).isEqualTo(Verdict.FAIL);
        assertThat(faulty.reason())
                .startsWith("1 of " + draft.spec().clauses().size() + " clauses fails; overtravel-3-4, pair 3→4: 20")
                .contains("too small (3 of 3 shifts outside)");
    }

    @Test
    void bounds_from_three_units_hold_for_a_fourth_and_not_for_one_that_stops_overtravelling() {
        Profile tarn = ProfileReader.find("tarn-drive");
        List<SampleSource> sources = new ArrayList<>();
        List<LearningInput> inputs = new ArrayList<>();
        for (int unit = 1; unit <= 3; unit++) {
            sources.add(SimulatedRun.of(tarn, "seed=" + (20 + unit), 6));
            inputs.add(BenchDraft.input(sources.get(unit - 1), "file-" + unit, "TD-" + unit, JudgeOptions.defaults()));
        }

        BenchDraft draft = BenchDraft.of(sources, inputs, JudgeOptions.defaults());

        assertThat(draft.spec().title()).isEqualTo("drive, draft as learned; 3 units");
        assertThat(draft.specText()).doesNotContain("says nothing of others");
        assertThat(draft.proofs())
                .allSatisfy(
                        proof -> assertThat(proof.verdict()).as(proof.reason()).hasValue(Verdict.PASS));
        Judgement fourth = judged(draft, "seed=24");
        assertThat(fourth.verdict()).as(fourth.reason()).isEqualTo(Verdict.PASS);
        Judgement faulty = judged(draft, "seed=24,fault=overtravel-missing,pair=2-1,amount=100");
        assertThat(faulty.verdict()).isEqualTo(Verdict.FAIL);
        assertThat(faulty.reason()).contains("overtravel-2-1");
    }

    @Test
    void a_capture_of_a_part_of_the_cassette_is_proved_by_the_clauses_it_can_show() {
        Profile tarn = ProfileReader.find("tarn-drive");
        List<SampleSource> sources =
                List.of(SimulatedRun.of(tarn, "seed=11", 6), SimulatedRun.of(tarn, "seed=12", 6, 4));
        List<LearningInput> inputs = List.of(
                BenchDraft.input(sources.get(0), "whole", "TD-1", JudgeOptions.defaults()),
                BenchDraft.input(sources.get(1), "part", "TD-1", JudgeOptions.defaults()));

        BenchDraft draft = BenchDraft.of(sources, inputs, JudgeOptions.defaults());

        Proof whole = draft.proofs().get(0);
        Proof part = draft.proofs().get(1);
        assertThat(whole.verdict()).as(whole.reason()).hasValue(Verdict.PASS);
        assertThat(whole.notShown()).isEmpty();
        assertThat(part.verdict()).as(part.reason()).hasValue(Verdict.PASS);
        assertThat(part.notShown())
                .contains("overtravel-4-5", "overtravel-10-9")
                .doesNotContain("overtravel-3-4");
    }

    private static Judgement judged(BenchDraft draft, String unit) {
        try (SampleSource source = SimulatedRun.of(draft.profile(), unit, 3)) {
            return Judge.judge(source, draft.spec(), Optional.of(draft.profile()), JudgeOptions.defaults())
                    .judgement();
        }
    }
}
