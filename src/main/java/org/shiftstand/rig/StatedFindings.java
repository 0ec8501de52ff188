package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage.Identity;

/** Holds what a rig says of itself against its description. */
final class StatedFindings {
    private StatedFindings() {}

    static List<Finding> of(Identity rig, Optional<RigDescription> description) {
        List<String> problems = new ArrayList<>();
        String drive = rig.drive() == 1 ? "direct" : "requests";
        if (rig.rigName().isBlank()) {
            problems.add("it has no name, so that it cannot be told from another");
        }
        if (rig.rigFirmware().isBlank()) {
            problems.add("it does not say its firmware, so that a change would go unseen");
        }
        description.ifPresent(d -> {
            if (!d.name().equals(rig.rigName())) {
                problems.add("the description is of rig " + d.name() + "; expected that of this rig");
            }
            if (!d.drive().equals(drive)) {
                problems.add("the description says drive: " + d.drive() + "; expected " + drive);
            }
            if (d.hall().high() - d.hall().low() + 1 != rig.hallCounts()) {
                problems.add(
                        "the description gives the Hall converter " + d.hall().low() + ".."
                                + d.hall().high() + "; expected as many counts as the rig has, " + rig.hallCounts());
            }
        });
        String said = "rig " + rig.rigName() + ", firmware " + orNone(rig.rigFirmware()) + ", unit's firmware "
                + orNone(rig.unitFirmware()) + ", protocol " + rig.major() + "." + rig.minor() + " (this program "
                + MessageCodec.MAJOR + "." + MessageCodec.MINOR + "), drive: " + drive + ", at most "
                + rig.maxSampleRateHz() + " Hz";
        return List.of(ProbeTalks.finding(
                Check.IDENTITY,
                problems.isEmpty(),
                problems.isEmpty() ? said : said + "; but " + String.join("; ", problems),
                Map.of()));
    }

    private static String orNone(String text) {
        return text.isBlank() ? "not said" : text;
    }
}
