package org.shiftstand.report;

import java.util.List;
import org.shiftstand.judge.Judgement;

/** How a report is signed and kept, or that it is not. */
final class Signing {
    private Signing() {}

    /** Sentences, each a paragraph. */
    static List<String> of(Judgement judgement, ReportOptions options) {
        String samples = judgement.source().name();
        if (options.generated().isEmpty()) {
            return List.of(
                    "This report was made for an archive. It carries no signature on itself: whoever signed the archive did so in"
                            + " a file of its own, in the folder signatures beside it, over all of its bytes, these included.",
                    "Whether anybody has signed, who, and whether a byte has changed since, this page cannot know; shiftstand"
                            + " verify says it of the archive.");
        }
        return List.of(
                "This file is not signed, and nothing on it stands for a signature. Who authorised it is said under \u201cAbout"
                        + " this report\u201d, by whoever stated it; a name there proves nothing by itself.",
                "What it rests on is fixed by the digests in the title block: whoever has " + samples
                        + " with that SHA-256, the spec and the profile, gets the same result again with shiftstand judge.",
                "To keep it so that every later change shows: shiftstand archive " + samples + " --out BAG"
                        + " makes a bag of samples, report and all files used; shiftstand sign adds who tested, checked or"
                        + " released it, over all of it; shiftstand verify finds any changed byte and judges again.");
    }
}
