package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judgement;
import org.shiftstand.sim.SimulatedRun;
import org.shiftstand.spec.SpecLint;
import org.shiftstand.spec.Verdict;

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

    private static Judgement judged(BenchDraft draft, String unit) {
        try (SampleSource source = SimulatedRun.of(draft.profile(), unit, 3)) {
            return Judge.judge(source, draft.spec(), Optional.of(draft.profile()), JudgeOptions.defaults())
                    .judgement();
        }
    }
}
