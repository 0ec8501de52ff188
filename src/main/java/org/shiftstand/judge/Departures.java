package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.spec.Spec;

/** Tells where a judgement goes by other files than the record holds or the spec names. */
final class Departures {
    private final Map<String, TextFile> own;
    private final NamedTexts named;

    /**
     * One judgement's files.
     *
     * @param own texts of the record by role
     * @param named files that the user named
     */
    Departures(Map<String, TextFile> own, NamedTexts named) {
        this.own = own;
        this.named = named;
    }

    /** A sentence for each file that is another; the same text under another name is not another file. */
    List<String> of(TextFile specText, Spec spec, Optional<TextFile> profile, Optional<Procedure> procedure) {
        List<String> told = new ArrayList<>();
        Optional<TextFile> ownSpec = Optional.ofNullable(own.get("spec"));
        if (ownSpec.filter(text -> differs(text, specText)).isPresent()) {
            told.add("judged by the spec " + specText.name() + ", in place of the record's own");
        }
        Optional.ofNullable(own.get("procedure"))
                .flatMap(text -> procedure.filter(used -> !used.sha256().equals(text.sha256())))
                .map(used -> "judged by the procedure " + used.name() + " version " + used.version()
                        + ", in place of the record's own")
                .ifPresent(told::add);
        profile.flatMap(used -> otherProfile(specText, spec, used)).ifPresent(told::add);
        return told;
    }

    private Optional<String> otherProfile(TextFile specText, Spec spec, TextFile used) {
        Optional<TextFile> ownProfile = Optional.ofNullable(own.get("profile"));
        if (ownProfile.isPresent() && named.text(NamedTexts.Role.SPEC).isEmpty() && differs(ownProfile.get(), used)) {
            return Optional.of("measured and judged by the profile " + used.name() + ", in place of the record's own");
        }
        return spec.profile()
                .filter(asked -> !isTheOne(asked, specText, spec, used))
                .map(asked -> "measured and judged by the profile " + used.name() + ", not by " + asked
                        + " that the spec names");
    }

    /** A record's text says only its file's name; where both files can be had, the texts decide. */
    private boolean isTheOne(String asked, TextFile specText, Spec spec, TextFile used) {
        String askedName = fileName(asked);
        String usedName = fileName(used.name());
        if (askedName.equals(usedName) || askedName.startsWith(usedName + ".")) {
            return true;
        }
        try {
            return named.profileOf(specText, spec)
                    .filter(text -> !differs(text, used))
                    .isPresent();
        } catch (BadInput e) {
            return false; // the file that the spec names is not there: another one stands in for it
        }
    }

    private static boolean differs(TextFile one, TextFile other) {
        return !one.sha256().equals(other.sha256());
    }

    private static String fileName(String path) {
        return path.substring(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
    }
}
