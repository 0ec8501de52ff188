package org.shiftstand.judge;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.spec.Spec;

/**
 * Texts of an earlier judgement, so that it can be made again where the files are no more, or are others by now.
 *
 * @param byRole what was found then, under the names that it had then; a role that is not in it was not named
 */
public record KeptTexts(Map<Role, TextFile> byRole) implements NamedTexts {
    public KeptTexts {
        byRole = Collections.unmodifiableMap(byRole.isEmpty() ? new EnumMap<>(Role.class) : new EnumMap<>(byRole));
    }

    @Override
    public Optional<TextFile> text(Role role) {
        return Optional.ofNullable(byRole.get(role));
    }

    @Override
    public Optional<TextFile> profileOf(TextFile specText, Spec spec) {
        return spec.profile()
                .map(named -> text(Role.PROFILE_OF_SPEC)
                        .orElseThrow(() -> new BadInput(new Problem(
                                specText.name(),
                                0,
                                0,
                                "names the profile '" + named
                                        + "', which was not kept with it; name one with --profile"))));
    }
}
