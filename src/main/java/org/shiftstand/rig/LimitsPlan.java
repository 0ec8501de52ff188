package org.shiftstand.rig;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.profile.Profile;

/**
 * What the search for limits needs beside the rig.
 *
 * @param unit id
 * @param profile travel to be expected, and the frame of the angles
 * @param standingOn sprocket that the unit stands on, 1…N
 * @param description what is known of the rig, where there is a file
 * @param currentA most current through the motor
 * @param supplyV supply of the unit
 * @param by who is there, for the file
 * @param today for the file
 */
public record LimitsPlan(
        String unit,
        Profile profile,
        int standingOn,
        Optional<RigDescription> description,
        double currentA,
        double supplyV,
        Optional<String> by,
        LocalDate today) {
    /**
     * Usual most current, ampere: about twice what turns an unloaded drive of this kind and a ninth of what stalls it;
     * common practice, no published source.
     */
    public static final double USUAL_CURRENT_A = 0.6;

    /** Below this a drive does not overcome its own friction. */
    public static final double LEAST_CURRENT_A = 0.1;

    /** Above this it is no gentle touch any more: a third of what stalls a drive of this kind. */
    public static final double MOST_CURRENT_A = 1.5;

    /** Usual supply, volt: two cells half empty; slow motion needs no more. */
    public static final double USUAL_SUPPLY_V = 7.4;

    /** Farther than the profile's travel by so much the shaft never goes: half a turn; a unit is never that far off. */
    static final double MARGIN_DEG = 180;

    /** Travel beyond the outer sprockets where the profile knows no limits: a sprocket's pitch, and half of one. */
    static final double UNKNOWN_BEYOND_DEG = 1000;

    Guards guards() {
        return description.map(RigDescription::guards).orElse(RunPlan.SIMULATED_GUARDS);
    }

    /** Turns of the shaft in one electrical turn of the Hall pair. */
    double turnsPerCycle() {
        return description.map(rig -> rig.hall().turnsPerCycle()).orElse(1.0);
    }

    double currentScaleA() {
        return description
                .map(RigDescription::currentScaleA)
                .orElse(OptionalDouble.empty())
                .orElse(0);
    }

    /** Where the unit stands, in the profile's frame. */
    double originDeg() {
        return profile.positionDeg(standingOn);
    }

    /** The farthest outboard that the shaft may go, in the profile's frame. */
    double leastDeg() {
        return profile.outboardLimitDeg().orElse(profile.positionDeg(1) - UNKNOWN_BEYOND_DEG) - MARGIN_DEG;
    }

    /** The farthest inboard. */
    double mostDeg() {
        return profile.inboardLimitDeg().orElse(profile.positionDeg(profile.sprockets()) + UNKNOWN_BEYOND_DEG)
                + MARGIN_DEG;
    }

    /** Whatever keeps this from being done, all at once; empty where nothing does. */
    public List<String> problems() {
        List<String> problems = new ArrayList<>();
        if (standingOn < 1 || standingOn > profile.sprockets()) {
            problems.add("--standing-on " + standingOn + ": expected 1 to " + profile.sprockets() + ", as the profile "
                    + profile.name() + " has them");
        }
        if (!(currentA >= LEAST_CURRENT_A && currentA <= MOST_CURRENT_A)) {
            problems.add(String.format(
                    Locale.ROOT,
                    "--current %s A: expected %s A to %s A: enough to turn the drive, too little to hurt it",
                    Watches.number(currentA),
                    Watches.number(LEAST_CURRENT_A),
                    Watches.number(MOST_CURRENT_A)));
        } else if (currentA > guards().currentA()) {
            problems.add("--current " + Watches.number(currentA) + " A: expected at most "
                    + Watches.number(guards().currentA()) + " A, where the rig's guard cuts");
        }
        double least = guards().supplyMinV();
        double most = guards().supplyMaxV() > 0 ? guards().supplyMaxV() : Double.MAX_VALUE;
        if (!(supplyV > 0 && supplyV >= least && supplyV <= most)) {
            problems.add("--supply " + Watches.number(supplyV) + " V: expected what the guards allow, "
                    + Watches.number(least) + " V to " + Watches.number(most) + " V");
        }
        return problems;
    }
}
