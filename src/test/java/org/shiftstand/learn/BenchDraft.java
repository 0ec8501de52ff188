package org.shiftstand.learn;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/** Sources learned from, and what is written of them. */
record BenchDraft(Learned learned, Drafts drafts) {
    static BenchDraft of(SampleSource source, String name, JudgeOptions options) {
        return of(List.of(source), List.of(input(source, name, "unit", options)), options);
    }

    static BenchDraft of(List<SampleSource> sources, List<LearningInput> inputs, JudgeOptions options) {
        Learned learned = Learning.learn(inputs, LearnOptions.of("drive"), OptionalDouble.of(2.4));
        return new BenchDraft(learned, Drafts.of(learned, inputs, sources, options, FixedPoint.CENTIDEGREES));
    }

    static LearningInput input(SampleSource source, String name, String unit, JudgeOptions options) {
        return new LearningInput(
                name, unit, Map.of(), Measuring.measure(source, Optional.empty(), options), OptionalInt.empty());
    }

    Profile profile() {
        return ProfileReader.read(
                TextFile.of("drive.profile.yaml", drafts.profile().whole().orElseThrow()));
    }

    String specText() {
        return drafts.spec().whole().orElseThrow();
    }

    Spec spec() {
        return SpecReader.read(TextFile.of("drive.spec.yaml", specText()));
    }

    Proof proof() {
        return drafts.proofs().get(0);
    }
}
