package org.shiftstand.bench;

import java.time.LocalDate;

/**
 * What a gauge study on a rig found for one measure.
 *
 * @param measure its key
 * @param units how many were in the study, with {@code mounts} and {@code repeats}
 * @param shifts how many shifts one value is the mean of; 1 for single shifts
 * @param repeatability standard deviation of repeats in one mount, base unit; of values as they are, 0 or more
 * @param reproducibility of mounting anew, the interaction with the unit included; likewise
 * @param repeatabilityUsed whether the repeatability counts as the rig's: it holds whatever the unit itself did differently
 */
public record StudyResult(
        LocalDate on,
        String measure,
        int units,
        int mounts,
        int repeats,
        int shifts,
        double repeatability,
        double reproducibility,
        boolean repeatabilityUsed) {
    public StudyResult {
        if (!(repeatability >= 0 && reproducibility >= 0)
                || Double.isInfinite(repeatability)
                || Double.isInfinite(reproducibility)) {
            throw new IllegalArgumentException("standard deviations are 0 or more: repeatability=" + repeatability
                    + ", reproducibility=" + reproducibility);
        }
    }

    /** As tables name it. */
    public String source() {
        return "gauge study of " + on + ", " + units + " units, " + mounts + " mounts, " + repeats + " repeats";
    }

    /** Of one shift: means of several shifts spread less by the root of their number. */
    public double repeatabilityOfOneShift() {
        return repeatability * Math.sqrt(shifts);
    }

    /** Degrees of freedom within the cells. */
    public double repeatabilityFreedom() {
        return (double) units * mounts * (repeats - 1);
    }

    /** Degrees of freedom between mounts. */
    public double reproducibilityFreedom() {
        return mounts - 1.0;
    }
}
