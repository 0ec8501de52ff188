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

/** A source learned from, and what is written of it. */
record BenchDraft(Learned learned, Profile profile, Remeasured again, String specText, Spec spec) {
    static BenchDraft of(SampleSource source, String name, JudgeOptions options) {
        LearningInput input = new LearningInput(
                name, "unit", Map.of(), Measuring.measure(source, Optional.empty(), options), OptionalInt.empty());
        Learned learned = Learning.learn(List.of(input), LearnOptions.of("drive"), OptionalDouble.of(2.4));
        Profile profile = ProfileReader.read(TextFile.of(
                "drive.profile.yaml", ProfileText.of(learned).whole().orElseThrow()));
        Remeasured again = Remeasured.of(source, input, learned.sources().get(0), profile, options);
        String text = DraftSpec.of(learned, profile, "drive.profile.yaml", List.of(again));
        return new BenchDraft(learned, profile, again, text, SpecReader.read(TextFile.of("drive.spec.yaml", text)));
    }

    Proof proof() {
        return Proof.of(spec, profile, again);
    }
}
