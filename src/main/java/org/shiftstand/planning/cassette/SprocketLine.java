package org.shiftstand.planning.cassette;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;

/**
 * The shaft angle over the place across the cassette. Places are counted in steps of the present cassette: 0 is its sprocket
 * 1, N − 1 its sprocket N; between two sprockets the angle is interpolated linearly, beyond the ends it goes on with the mean
 * pitch.
 *
 * <p>The screw turns an angle into travel: mm = deg/360 × lead. What the cage travels, and how far apart the sprockets are,
 * differ by the linkage. Where the present pitch is known, the mean of that ratio is known, and a step is the present
 * pitch; where it is not, a step is the mean travel from sprocket to sprocket, as if the ratio were 1.
 */
public final class SprocketLine {
    private final List<Double> positionsDeg;
    private final boolean even;
    private final OptionalDouble stepMm;
    private final OptionalDouble linkage;

    private SprocketLine(List<Double> positionsDeg, boolean even, OptionalDouble stepMm, OptionalDouble linkage) {
        this.positionsDeg = positionsDeg;
        this.even = even;
        this.stepMm = stepMm;
        this.linkage = linkage;
    }

    /** @param presentPitchMm from sprocket to sprocket, above 0, where it is known */
    public static SprocketLine of(Profile profile, OptionalDouble presentPitchMm, Spacing spacing) {
        List<Double> positions = profile.positionsDeg();
        double pitchDeg = (positions.get(positions.size() - 1) - positions.get(0)) / (positions.size() - 1);
        OptionalDouble travelMm = profile.screwLeadMm().isPresent()
                ? OptionalDouble.of(travelMm(pitchDeg, profile.screwLeadMm().getAsDouble()))
                : OptionalDouble.empty();
        OptionalDouble linkage = presentPitchMm.isPresent() && travelMm.isPresent()
                ? OptionalDouble.of(presentPitchMm.getAsDouble() / travelMm.getAsDouble())
                : OptionalDouble.empty();
        return new SprocketLine(
                positions, spacing == Spacing.EVEN, presentPitchMm.isPresent() ? presentPitchMm : travelMm, linkage);
    }

    /** Travel of the screw's nut over an angle of the shaft: deg/360 × lead. */
    public static double travelMm(double deg, double leadMm) {
        return deg / 360 * leadMm;
    }

    /** The angle at a place, in steps of the present cassette. */
    double degAt(double steps) {
        int last = positionsDeg.size() - 1;
        double first = positionsDeg.get(0);
        if (steps == last) {
            return positionsDeg.get(last); // an end that is kept is kept to the last digit
        }
        if (even || steps < 0) {
            return first + steps * pitchDeg();
        }
        if (steps > last) {
            return positionsDeg.get(last) + (steps - last) * pitchDeg();
        }
        int below = (int) steps;
        double from = positionsDeg.get(below);
        return from + (steps - below) * (positionsDeg.get(below + 1) - from);
    }

    /** Mean angle from sprocket to sprocket of the present cassette. */
    public double pitchDeg() {
        return travelDeg() / lastStep();
    }

    /** From sprocket 1 to sprocket N of the present cassette. */
    public double travelDeg() {
        return positionsDeg.get(positionsDeg.size() - 1) - positionsDeg.get(0);
    }

    int lastStep() {
        return positionsDeg.size() - 1;
    }

    /** Millimetres that one step counts; empty where neither the screw lead nor the present pitch is known. */
    public OptionalDouble stepMm() {
        return stepMm;
    }

    /** Mean of millimetres at the sprockets over millimetres of cage travel; empty where it is taken as 1 or nothing is known. */
    public OptionalDouble linkage() {
        return linkage;
    }

    /** An angle in millimetres, by the mean of the present cassette. */
    public OptionalDouble mm(double deg) {
        return stepMm.isPresent() ? OptionalDouble.of(deg / pitchDeg() * stepMm.getAsDouble()) : OptionalDouble.empty();
    }
}
