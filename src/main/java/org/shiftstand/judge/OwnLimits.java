package org.shiftstand.judge;

import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.bench.UnitLimitsReader;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Decimal;

/**
 * A limits file and what it says, held against the unit and the profile that it is to be used with.
 *
 * @param text the file, as a record keeps it in role {@link #ROLE}
 */
public record OwnLimits(TextFile text, UnitLimits limits) {
    /** The role of a limits file among the texts of a record. */
    public static final String ROLE = "limits";

    /**
     * The limits for a check: the file that was named, else {@code UNIT.limits.yaml} in a folder; empty where there is
     * neither.
     *
     * @throws BadInput where the file cannot be used, or is of another unit
     */
    public static Optional<OwnLimits> forCheck(Optional<String> named, String unit, Path folder) {
        if (named.isPresent()) {
            return Optional.of(read(Bundled.find(named.get(), Bundled.Kind.LIMITS), Optional.of(unit)));
        }
        String usual = UnitLimits.fileName(unit);
        Path file = folder.resolve(usual);
        return Files.exists(file, LinkOption.NOFOLLOW_LINKS)
                ? Optional.of(read(TextFile.read(usual, file), Optional.of(unit)))
                : Optional.empty();
    }

    /**
     * Reads a limits file.
     *
     * @param unit whose limits are wanted; empty where the run does not say whose it is
     * @throws BadInput where the file cannot be used, or is of another unit
     */
    public static OwnLimits read(TextFile text, Optional<String> unit) {
        UnitLimits limits = UnitLimitsReader.read(text);
        if (unit.isPresent() && !unit.get().equals(limits.unit())) {
            throw new BadInput(new Problem(
                    text.name(),
                    0,
                    0,
                    "has the limits of unit " + limits.unit() + ", and the unit is " + unit.get()
                            + "; expected limits of the same unit: each unit has its own. Name its file with --limits,"
                            + " or find them with 'rig limits'"));
        }
        return new OwnLimits(text, limits);
    }

    /** Whatever keeps these limits from being used with a profile, all at once; empty where nothing does. */
    public List<Problem> problems(Profile profile) {
        List<Problem> problems = new ArrayList<>();
        double first = profile.positionDeg(1);
        double last = profile.positionDeg(profile.sprockets());
        if (!(limits.outboard().atDeg() < first)) {
            problems.add(inside("outboard", limits.outboard().atDeg(), "below that of sprocket 1, ", first, profile));
        }
        if (!(limits.inboard().atDeg() > last)) {
            problems.add(inside(
                    "inboard",
                    limits.inboard().atDeg(),
                    "above that of sprocket " + profile.sprockets() + ", ",
                    last,
                    profile));
        }
        return problems;
    }

    private Problem inside(String side, double limit, String expected, double position, Profile profile) {
        return new Problem(
                text.name(),
                0,
                0,
                "the " + side + " limit, " + Decimal.text(limit) + " deg, is inside the positions of profile "
                        + profile.name() + "; expected it " + expected + Decimal.text(position)
                        + " deg. Was it counted from another origin, or is this another profile?");
    }

    /** The profile with these limits in the place of its own. */
    public Profile in(Profile profile) {
        return profile.withLimits(
                OptionalDouble.of(limits.outboard().atDeg()),
                OptionalDouble.of(limits.inboard().atDeg()));
    }

    /** The options with these limits, and where they come from. */
    public JudgeOptions in(JudgeOptions options) {
        return options.withBench(options.bench().with(limits))
                .withLimits(
                        OptionalDouble.of(limits.outboard().atDeg()),
                        OptionalDouble.of(limits.inboard().atDeg()),
                        limits.sentence());
    }

    /** For a person at the start of a run: which limits are used. */
    public String said() {
        return "Limits from " + text.name() + ": " + limits.sentence() + ".";
    }
}
