package org.shiftstand.rig;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;

/** Plans of unit TD-0107 on a simulated rig, with nothing but what a run needs. */
public final class Plans {
    private Plans() {}

    /** A procedure laid out against a profile, with the usual guards. */
    public static RunPlan of(Procedure procedure, Profile profile) {
        return of(procedure, profile, RunPlan.SIMULATED_GUARDS);
    }

    static RunPlan of(Procedure procedure, Profile profile, Guards guards) {
        return of(Script.layOut(procedure, profile), procedure, Optional.of(profile), guards, OptionalDouble.empty());
    }

    /** Actions as they are, whatever the procedure says. */
    static RunPlan of(
            List<Action> actions,
            Procedure procedure,
            Optional<Profile> profile,
            Guards guards,
            OptionalDouble stallCurrentA) {
        return new RunPlan(
                "TD-0107",
                actions,
                procedure,
                profile,
                guards,
                stallCurrentA,
                OptionalDouble.empty(),
                Map.of(),
                Map.of(),
                Map.of(),
                true);
    }
}
