package org.shiftstand.judge;

import java.util.Optional;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/**
 * Files that a user named; each goes before what a run record holds.
 *
 * @param spec file or packed name
 * @param profile file or packed name
 * @param procedure file or packed name
 * @param limits file with the unit's own mechanical limits
 * @param particulars file with what people state of the run, or packed name
 * @param bench description of the rig that the run was made on, file or packed name
 */
public record Named(
        Optional<String> spec,
        Optional<String> profile,
        Optional<String> procedure,
        Optional<String> limits,
        Optional<String> particulars,
        Optional<String> bench)
        implements NamedTexts {
    public Named(Optional<String> spec, Optional<String> profile, Optional<String> procedure) {
        this(spec, profile, procedure, Optional.empty(), Optional.empty(), Optional.empty());
    }

    /** Nothing named. */
    public static Named nothing() {
        return new Named(Optional.empty(), Optional.empty(), Optional.empty());
    }

    public static Named spec(String typed) {
        return new Named(Optional.of(typed), Optional.empty(), Optional.empty());
    }

    public Named withLimits(Optional<String> typed) {
        return new Named(spec, profile, procedure, typed, particulars, bench);
    }

    public Named withParticulars(Optional<String> typed) {
        return new Named(spec, profile, procedure, limits, typed, bench);
    }

    public Named withBench(Optional<String> typed) {
        return new Named(spec, profile, procedure, limits, particulars, typed);
    }

    @Override
    public Optional<TextFile> text(Role role) {
        return switch (role) {
            case SPEC -> spec.map(typed -> Bundled.find(typed, Bundled.Kind.SPEC));
            case PROFILE -> profile.map(typed -> Bundled.find(typed, Bundled.Kind.PROFILE));
            case PROCEDURE -> procedure.map(typed -> Bundled.find(typed, Bundled.Kind.PROCEDURE));
            case RIG -> bench.map(typed -> Bundled.find(typed, Bundled.Kind.RIG));
            case LIMITS -> limits.map(typed -> Bundled.find(typed, Bundled.Kind.LIMITS));
            case PARTICULARS -> particulars.map(ParticularsReader::find);
            case PROFILE_OF_SPEC -> Optional.empty();
        };
    }

    @Override
    public Optional<TextFile> profileOf(TextFile specText, Spec of) {
        return SpecReader.profileOf(specText, of);
    }
}
