package org.shiftstand.learn;

import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.spec.SpecLint;

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
    void print(String name) {
        BenchDraft draft = draft(name);
        System.out.println(draft.specText());
        System.out.println(
                name + " " + SpecLint.lint("x", draft.spec(), Optional.of(draft.profile()), Optional.empty()));
        Proof p = draft.proof();
        System.out.println(name + " " + p.verdict() + " " + p.reason());
        p.clauses().stream()
                .filter(c -> c.verdict() != org.shiftstand.spec.Verdict.PASS)
                .forEach(
                        c -> System.out.println(name + "   " + c.clause().id() + " " + c.verdict() + " " + c.reason()));
    }
}
