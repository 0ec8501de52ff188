package org.shiftstand.learn;

import java.util.ArrayList;
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
record BenchDraft(Learned learned, Profile profile, String specText, Spec spec, List<Proof> proofs) {
    static BenchDraft of(SampleSource source, String name, JudgeOptions options) {
        return of(List.of(source), List.of(input(source, name, "unit", options)), options);
    }

    static BenchDraft of(List<SampleSource> sources, List<LearningInput> inputs, JudgeOptions options) {
        Learned learned = Learning.learn(inputs, LearnOptions.of("drive"), OptionalDouble.of(2.4));
        Profile profile = ProfileReader.read(TextFile.of(
                "drive.profile.yaml", ProfileText.of(learned).whole().orElseThrow()));
        List<Remeasured> again = new ArrayList<>();
        for (int i = 0; i < sources.size(); i++) {
            again.add(Remeasured.of(
                    sources.get(i), inputs.get(i), learned.sources().get(i), profile, options));
        }
        String text = DraftSpec.of(learned, profile, "drive.profile.yaml", again);
        Spec spec = SpecReader.read(TextFile.of("drive.spec.yaml", text));
        return new BenchDraft(
                learned,
                profile,
                text,
                spec,
                again.stream().map(source -> Proof.of(spec, profile, source)).toList());
    }

    static LearningInput input(SampleSource source, String name, String unit, JudgeOptions options) {
        return new LearningInput(
                name, unit, Map.of(), Measuring.measure(source, Optional.empty(), options), OptionalInt.empty());
    }

    Proof proof() {
        return proofs.get(0);
    }
}
