package org.shiftstand.judge;

import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.spec.Spec;

/**
 * The texts that go before what a run record holds: of files that a user named, or kept from an earlier judgement.
 *
 * <p>Each is looked for when it is asked for, so that what is wrong in several files can be told at once.
 */
public interface NamedTexts {
    /** What a text is for; the word is its role in a run record. */
    enum Role {
        SPEC,
        PROFILE,
        PROCEDURE,
        RIG,
        LIMITS,
        PARTICULARS,
        /** The profile that a spec names; no role in a record. */
        PROFILE_OF_SPEC;

        /** {@code spec}, {@code profile-of-spec}. */
        public String word() {
            return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
        }
    }

    /**
     * The text for a role; empty where none was named.
     *
     * @throws BadInput where a named file is missing or no text
     */
    Optional<TextFile> text(Role role);

    /**
     * The profile that a spec names; empty where it names none.
     *
     * @throws BadInput where there is no such file
     */
    Optional<TextFile> profileOf(TextFile specText, Spec spec);
}
