package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.learn.DraftSpec;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearningInput;
import org.shiftstand.learn.ProfileText;
import org.shiftstand.learn.Proof;
import org.shiftstand.learn.Remeasured;
import org.shiftstand.learn.Written;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;
import org.shiftstand.spec.Verdict;

/**
 * The profile and the draft spec of what was learned, and whether the draft passes what was held back.
 *
 * @param profile text of the profile, or why there is none
 * @param spec text of the draft; empty without a profile
 * @param proofs one a source; empty without a draft
 */
record DraftOfLearned(Written profile, Optional<String> spec, List<Proof> proofs) {
    DraftOfLearned {
        proofs = List.copyOf(proofs);
    }

    /**
     * Measures the sources again by the learned profile and proves the draft on what was held back.
     *
     * @param sources of the inputs, still open
     * @param profileFile name of the profile's file, beside the spec's
     */
    static DraftOfLearned of(
            Learned learned,
            List<LearningInput> inputs,
            List<SampleSource> sources,
            JudgeOptions options,
            String profileFile) {
        Written text = ProfileText.of(learned);
        Optional<String> whole = text.whole();
        if (whole.isEmpty()) {
            return new DraftOfLearned(text, Optional.empty(), List.of());
        }
        Profile profile = ProfileReader.read(TextFile.of(profileFile, whole.get()));
        List<Remeasured> again = new ArrayList<>();
        for (int i = 0; i < inputs.size(); i++) {
            again.add(Remeasured.of(
                    sources.get(i), inputs.get(i), learned.sources().get(i), profile, options));
        }
        String draft = DraftSpec.of(learned, profile, profileFile, again);
        Spec spec = SpecReader.read(TextFile.of("draft.spec.yaml", draft));
        return new DraftOfLearned(
                text,
                Optional.of(draft),
                again.stream().map(source -> Proof.of(spec, profile, source)).toList());
    }

    /** Whether the draft passes what was held back, a line a source; or why there is no draft. */
    List<String> words() {
        if (spec.isEmpty()) {
            return List.of(profile.match(new Written.Cases<String>() {
                @Override
                public String text(String text) {
                    return "No draft spec.";
                }

                @Override
                public String withheld(List<String> reasons) {
                    return "No profile and no draft spec: " + String.join("; ", reasons);
                }
            }));
        }
        return proofs.stream()
                .map(proof -> "Draft spec on what was held back of " + proof.source() + " (" + proof.shifts()
                        + " shifts): "
                        + proof.verdict().map(Verdict::word).orElse("not proved")
                        + "; " + proof.reason())
                .toList();
    }
}
