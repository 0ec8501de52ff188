package org.shiftstand.shift;

import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * All shifts of one source, numbered and aligned.
 *
 * @param shifts in time order
 * @param sprockets N: the profile's, else as many as were seen
 * @param bandDeg settle band b, degrees
 * @param sense {@code forward} or {@code reversed}
 * @param senseFrom what decided it: {@code option}, {@code requests}, {@code profile}, {@code assumed}
 * @param numbering how sprocket numbers and the origin were found, a sentence for readers
 * @param alignmentDeg offset added to the track so that angles fit the profile; empty without one
 * @param originMeasured true only when homing, a limits probe or a calibration fixed the origin
 * @param turnLostFrom number of the first shift whose angles may be whole turns off, where there is one; which
 *     others are is in the notices, and in each the absolute angles are not measured
 * @param resumptions breaks of the run, in time order, and what they did
 * @param notices remarks on the whole table
 */
public record ShiftTable(
        List<Shift> shifts,
        int sprockets,
        double bandDeg,
        String sense,
        String senseFrom,
        String numbering,
        OptionalDouble alignmentDeg,
        boolean originMeasured,
        OptionalInt turnLostFrom,
        List<Resumption> resumptions,
        List<String> notices) {
    public ShiftTable {
        shifts = List.copyOf(shifts);
        resumptions = List.copyOf(resumptions);
        notices = List.copyOf(notices);
    }

    /** Whether a shift was under way when the run was broken off: it was not made, no clause is about it. */
    public boolean brokenOff(Shift shift) {
        return resumptions.stream().anyMatch(r -> r.brokenOff().orElse(0) == shift.number());
    }

    /** The same with other shifts. */
    public ShiftTable withShifts(List<Shift> others) {
        return new ShiftTable(
                others,
                sprockets,
                bandDeg,
                sense,
                senseFrom,
                numbering,
                alignmentDeg,
                originMeasured,
                turnLostFrom,
                resumptions,
                notices);
    }

    /** Of a run without a break. */
    public ShiftTable(
            List<Shift> shifts,
            int sprockets,
            double bandDeg,
            String sense,
            String senseFrom,
            String numbering,
            OptionalDouble alignmentDeg,
            boolean originMeasured,
            OptionalInt turnLostFrom,
            List<String> notices) {
        this(
                shifts,
                sprockets,
                bandDeg,
                sense,
                senseFrom,
                numbering,
                alignmentDeg,
                originMeasured,
                turnLostFrom,
                List.of(),
                notices);
    }
}
