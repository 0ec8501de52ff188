package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.planning.cassette.CassetteWish;
import org.shiftstand.planning.cassette.ObservedSpread;
import org.shiftstand.planning.cassette.OvertravelRule;
import org.shiftstand.planning.cassette.RoomRule;
import org.shiftstand.planning.cassette.Spacing;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Dimension;
import picocli.CommandLine.Option;

/** What a cassette plan is asked for, as it is typed; everything that is wrong is told at once. */
final class CassetteOptions {
    @Option(
            names = "--sprockets",
            paramLabel = "LIST",
            defaultValue = "11,12,13,14",
            description = "Counts to plan, such as 12 or 11..13; ${DEFAULT-VALUE} unless told otherwise.")
    private String sprockets;

    @Option(
            names = "--pitch",
            paramLabel = "LIST",
            description = "From sprocket to sprocket of the new cassette: one length for all counts, or one for each, "
                    + "such as '3.9mm,3.7mm'. The first sprocket stays. Default: both ends stay.")
    private @Nullable String pitch;

    @Option(
            names = "--present-pitch",
            paramLabel = "LENGTH",
            description = "From sprocket to sprocket of the present cassette; tells how the linkage turns cage travel "
                    + "into millimetres there. Default: millimetres are cage travel by the screw lead.")
    private @Nullable String presentPitch;

    @Option(
            names = "--spacing",
            paramLabel = "measured|even",
            defaultValue = "measured",
            description = "Carry over what is uneven about the present positions, or lay equal angles; "
                    + "${DEFAULT-VALUE} unless told otherwise.")
    private String spacing;

    @Option(
            names = "--overtravel",
            paramLabel = "kept|scaled",
            defaultValue = "kept",
            description = "Keep the angles of the overtravel table, or scale them with the pitch; ${DEFAULT-VALUE} "
                    + "unless told otherwise.")
    private String overtravel;

    @Option(
            names = "--measured",
            paramLabel = "FILE",
            description = "Run record or capture of such a unit on the present cassette: how landings scatter and "
                    + "shifts ring is measured there. May be repeated.")
    private List<Path> measured = new ArrayList<>();

    @Option(names = "--spread", paramLabel = "ANGLE", description = "Standard deviation of landings.")
    private @Nullable String spread;

    @Option(
            names = "--shifts",
            paramLabel = "N",
            description = "How many shifts --spread rests on. Default: it is exact.")
    private @Nullable Integer shifts;

    @Option(names = "--ringing", paramLabel = "ANGLE", description = "Largest ringing of a shift.")
    private @Nullable String ringing;

    @Option(
            names = "--offset",
            paramLabel = "ANGLE",
            description = "How far mean landings lie off their positions. Default: 0 deg, or as measured.")
    private @Nullable String offset;

    @Option(
            names = "--uncertainty",
            paramLabel = "ANGLE",
            description = "Expanded uncertainty (k = 2) of a measured angle. Default: 1 deg, or as measured.")
    private @Nullable String uncertainty;

    @Option(
            names = "--border",
            paramLabel = "SHARE",
            defaultValue = "50%",
            description = "How far towards a neighbour a shaft may get, overtravel included; ${DEFAULT-VALUE} of the "
                    + "way unless told otherwise: own rule, no published source.")
    private String border;

    @Option(
            names = "--clearance",
            paramLabel = "ANGLE",
            defaultValue = "0deg",
            description = "What must be left to a mechanical limit; ${DEFAULT-VALUE} unless told otherwise.")
    private String clearance;

    @Option(
            names = "--coverage",
            paramLabel = "SHARE",
            defaultValue = "99.9%",
            description = "Share of the shifts that must stay inside; ${DEFAULT-VALUE} unless told otherwise.")
    private String coverage;

    @Option(
            names = "--confidence",
            paramLabel = "SHARE",
            defaultValue = "95%",
            description = "With which they do; ${DEFAULT-VALUE} unless told otherwise.")
    private String confidence;

    /** Files to measure spread and ringing in; empty where the options tell, or nobody. */
    List<Path> measured() {
        return List.copyOf(measured);
    }

    /**
     * The wish without what is still to be measured.
     *
     * @param problems takes everything that is wrong
     * @param profile empty where it could not be read
     * @return empty where something is wrong
     */
    Optional<CassetteWish> wish(List<Problem> problems, Optional<Profile> profile) {
        int before = problems.size();
        var typed = new TypedQuantities(problems);
        List<CassetteWish.Wanted> wanted = new WantedCassettes(problems).of(sprockets, Optional.ofNullable(pitch));
        OptionalDouble present = typed.above0("--present-pitch", presentPitch, Dimension.LENGTH);
        if (pitch != null
                && presentPitch == null
                && profile.filter(p -> p.screwLeadMm().isEmpty()).isPresent()) {
            problems.add(
                    new Problem(
                            "--pitch " + pitch,
                            0,
                            0,
                            "cannot be turned into an angle: the profile has no screw-lead; expected one there, or --present-pitch"));
        }
        OptionalDouble reach = typed.share("--border", border);
        OptionalDouble left = typed.from0("--clearance", clearance, Dimension.ANGLE);
        OptionalDouble holds = typed.share("--coverage", coverage);
        OptionalDouble sure = typed.share("--confidence", confidence);
        Optional<Spacing> laid = typed.word("--spacing", spacing, Spacing.values(), Spacing::word);
        Optional<OvertravelRule> table =
                typed.word("--overtravel", overtravel, OvertravelRule.values(), OvertravelRule::word);
        Optional<ObservedSpread> told = told(problems, typed);
        if (problems.size() > before) {
            return Optional.empty();
        }
        return Optional.of(new CassetteWish(
                wanted,
                present,
                laid.orElseThrow(),
                table.orElseThrow(),
                told.orElseThrow(),
                new RoomRule(reach.getAsDouble(), left.getAsDouble(), holds.getAsDouble(), sure.getAsDouble())));
    }

    /** Spread and ringing as the options tell. */
    private Optional<ObservedSpread> told(List<Problem> problems, TypedQuantities typed) {
        int before = problems.size();
        OptionalDouble sd = typed.above0("--spread", spread, Dimension.ANGLE);
        OptionalDouble rings = typed.from0("--ringing", ringing, Dimension.ANGLE);
        OptionalDouble off = typed.from0("--offset", offset, Dimension.ANGLE);
        OptionalDouble unsure = typed.from0("--uncertainty", uncertainty, Dimension.ANGLE);
        if (shifts != null && (shifts < 2 || spread == null)) {
            problems.add(new Problem(
                    "--shifts " + shifts,
                    0,
                    0,
                    spread == null
                            ? "says how many shifts --spread rests on, and there is no --spread; add it, or leave this out"
                            : "is too few for a spread; expected 2 or more"));
        }
        if (!measured.isEmpty() && (spread != null || ringing != null || shifts != null)) {
            problems.add(
                    new Problem(
                            "--measured " + measured.get(0),
                            0,
                            0,
                            "tells spread and ringing, and --spread, --shifts or --ringing tells them too; expected one of both"));
        }
        return problems.size() > before
                ? Optional.empty()
                : Optional.of(new ObservedSpread(
                        sd,
                        shifts == null ? OptionalInt.empty() : OptionalInt.of(shifts),
                        off.orElse(0),
                        rings,
                        unsure.orElse(ObservedSpread.USUAL_UNCERTAINTY_DEG),
                        spread == null ? "" : "as told by --spread"));
    }

    /** What was measured, with what the options set in its place. */
    ObservedSpread over(ObservedSpread seen) {
        var typed = new TypedQuantities(new ArrayList<>());
        return new ObservedSpread(
                seen.landingSdDeg(),
                seen.shifts(),
                typed.from0("--offset", offset, Dimension.ANGLE).orElse(seen.offsetDeg()),
                seen.ringingMaxDeg(),
                typed.from0("--uncertainty", uncertainty, Dimension.ANGLE).orElse(seen.uncertaintyDeg()),
                seen.from());
    }

    /** Throws everything that is wrong. */
    static void check(List<Problem> problems) {
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }
}
