package org.shiftstand.sim;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.profile.Profile;

/**
 * The noise-free truth of a simulated run; settle band 20 degrees. Computed from the motion itself.
 *
 * @param profile name of the unit's profile
 * @param seed of the run
 * @param limitsDeg outboard and inboard mechanical limit, where the profile knows them
 * @param firstSampleMicros rig's clock at the run's first sample; times in the file count from there
 * @param shifts in order of requests; times on the rig's clock
 */
public record SimTruth(
        String profile, long seed, List<OptionalDouble> limitsDeg, long firstSampleMicros, List<ShiftTruth> shifts) {
    public SimTruth {
        limitsDeg = List.copyOf(limitsDeg);
        shifts = List.copyOf(shifts);
    }

    static SimTruth of(Profile profile, SimOptions options, List<ShiftTruth> shifts, long firstSampleMicros) {
        return new SimTruth(
                profile.name(),
                options.seed(),
                List.of(profile.outboardLimitDeg(), profile.inboardLimitDeg()),
                firstSampleMicros,
                shifts);
    }

    /** As a JSON document; times in seconds from the first sample, {@code null} for what does not exist. */
    public String toJson() {
        StringBuilder out = new StringBuilder("{\n");
        out.append(
                " \"format\": 1,\n \"about\": \"truth of a simulated run, from its noise-free motion; invented\",\n");
        out.append(" \"profile\": \"")
                .append(profile.replace("\\", "\\\\").replace("\"", "\\\""))
                .append("\",\n");
        out.append(" \"seed\": ").append(seed).append(",\n \"band_deg\": ").append(TruthRecorder.BAND_DEG);
        out.append(",\n \"limits_deg\": [").append(number(limitsDeg.get(0))).append(", ");
        out.append(number(limitsDeg.get(1))).append("],\n");
        out.append(" \"first_sample_micros\": ").append(firstSampleMicros).append(",\n \"shifts\": [");
        out.append(shifts.stream().map(this::shift).collect(Collectors.joining(",", "", "\n ]\n}\n")));
        return out.toString();
    }

    private String shift(ShiftTruth s) {
        double origin = firstSampleMicros * 1e-6;
        String faults = s.faults().stream().map(f -> '"' + f.word() + '"').collect(Collectors.joining(", ", "[", "]"));
        return "\n  {\"shift\": " + s.number()
                + ", \"cycle\": " + s.cycle()
                + ", \"from\": " + s.from()
                + ", \"to\": " + s.to()
                + ", \"direction\": " + s.direction().sign()
                + ", \"outcome\": \"" + s.outcome()
                + "\", \"evidence\": \"" + s.evidence()
                + "\", \"faults\": " + faults
                + ",\n   \"request_s\": " + number(s.requestS() - origin)
                + ", \"motion_start_s\": " + number(s.motionStartS(), origin)
                + ", \"travel_time_s\": " + number(s.travelTimeS())
                + ", \"settled_s\": " + number(s.settledS(), origin)
                + ", \"settle_time_s\": " + number(s.settleTimeS())
                + ", \"hold_s\": " + number(s.holdS())
                + ", \"rest_hold_s\": " + number(s.restHoldS())
                + ",\n   \"start_deg\": " + number(s.startDeg())
                + ", \"landing_deg\": " + number(s.landingDeg())
                + ", \"plateau_deg\": " + number(s.plateauDeg())
                + ", \"overtravel_deg\": " + number(s.overtravelDeg())
                + ", \"ringing_deg\": " + number(s.ringingDeg())
                + ", \"return_ringing_deg\": " + number(s.returnRingingDeg())
                + ",\n   \"extreme_deg\": " + number(s.extremeDeg())
                + ", \"clearance_deg\": " + number(s.clearanceDeg())
                + ", \"creep_deg\": " + number(s.creepDeg())
                + ", \"peak_current_a\": " + number(s.peakCurrentA()) + "}";
    }

    private static String number(OptionalDouble value) {
        return number(value, 0);
    }

    private static String number(OptionalDouble value, double origin) {
        return value.isPresent() ? number(value.getAsDouble() - origin) : "null";
    }

    /** Rounded to 1e-9: far below any meaning, and free of the noise of a subtraction. */
    private static String number(double value) {
        return Double.toString(StrictMath.rint(value * 1e9) / 1e9);
    }
}
