package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/**
 * The files that are written of what was learned, as texts, and whether the draft spec passes what was held back.
 *
 * @param profile withheld where a position is not known
 * @param spec withheld where there is no profile
 * @param header withheld where a number does not fit
 * @param firmware likewise empty
 * @param proofs one a source, in the order given; none without a spec
 */
public record Drafts(
        Written profile, Written spec, Written header, Optional<FirmwareTable> firmware, List<Proof> proofs) {
    public Drafts {
        proofs = List.copyOf(proofs);
    }

    /**
     * Writes all, measures every source again by the learned profile, drafts the spec and proves it.
     *
     * @param inputs what was learned from
     * @param sources the same, open, in the same order; each is read again
     * @param options as for the first measuring
     */
    public static Drafts of(
            Learned learned,
            List<LearningInput> inputs,
            List<SampleSource> sources,
            JudgeOptions options,
            FixedPoint fixed) {
        FirmwareTable.Made made = FirmwareTable.of(learned, fixed);
        Written header = FirmwareHeader.of(learned, fixed);
        Optional<FirmwareTable> firmware = made.tooLarge().isEmpty() ? Optional.of(made.table()) : Optional.empty();
        Written profileText = ProfileText.of(learned);
        Optional<String> text = profileText.whole();
        if (text.isEmpty()) {
            Written none = new Written.Withheld(List.of("without a profile there is nothing to hold a spec against"));
            return new Drafts(profileText, none, header, firmware, List.of());
        }
        Profile profile = ProfileReader.read(TextFile.of(profileFile(learned), text.get()));
        List<Remeasured> again = new ArrayList<>();
        for (int i = 0; i < inputs.size(); i++) {
            again.add(Remeasured.of(
                    sources.get(i), inputs.get(i), learned.sources().get(i), profile, options));
        }
        String specText = DraftSpec.of(learned, profile, profileFile(learned), again);
        Spec spec = SpecReader.read(TextFile.of(specFile(learned), specText));
        return new Drafts(
                profileText,
                new Written.Text(specText),
                header,
                firmware,
                again.stream().map(source -> Proof.of(spec, profile, source)).toList());
    }

    /** {@code NAME.profile.yaml}, beside the spec. */
    public static String profileFile(Learned learned) {
        return learned.options().name() + ".profile.yaml";
    }

    /** {@code NAME.spec.yaml}. */
    public static String specFile(Learned learned) {
        return learned.options().name() + ".spec.yaml";
    }
}
