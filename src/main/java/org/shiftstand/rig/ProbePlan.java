package org.shiftstand.rig;

import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescription.Guards;

/**
 * What a probe needs beside the rig.
 *
 * @param unit id of the unit that is on it
 * @param description what is known of the rig, where there is a file
 * @param holdS programmed hold of the unit, seconds, so that a plateau is not taken for the end of a shift
 * @param askForStop whether a person is there to press the emergency stop
 * @param tool program and version
 */
public record ProbePlan(
        String unit, Optional<RigDescription> description, OptionalDouble holdS, boolean askForStop, String tool) {
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
}
