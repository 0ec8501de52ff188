package org.shiftstand.judge;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.TextFile;
import org.shiftstand.spec.Spec;

/** Remembers every text that a judgement asked for and got, for {@link KeptTexts}. */
public final class TextsHandedOut implements NamedTexts {
    private final NamedTexts from;
    private final Map<Role, TextFile> handedOut = new EnumMap<>(Role.class);

    public TextsHandedOut(NamedTexts from) {
        this.from = from;
    }

    @Override
    public Optional<TextFile> text(Role role) {
        return noted(role, from.text(role));
    }

    @Override
    public Optional<TextFile> profileOf(TextFile specText, Spec spec) {
        return noted(Role.PROFILE_OF_SPEC, from.profileOf(specText, spec));
    }

    /** What was handed out by now. */
    public KeptTexts kept() {
        return new KeptTexts(handedOut);
    }

    private Optional<TextFile> noted(Role role, Optional<TextFile> text) {
        text.ifPresent(t -> handedOut.put(role, t));
        return text;
    }
}
