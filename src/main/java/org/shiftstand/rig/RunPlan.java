package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.profile.Profile;

/**
 * Everything that a run needs beside the rig.
 *
 * @param unit id of the unit
 * @param actions the procedure laid out flat; the first {@code SetSupply} is the voltage the unit is armed with
 * @param procedure the script itself: sampling rate and {@code stop-when}
 * @param profile hold and number of sprockets, for waiting and homing
 * @param guards enforced in the rig first, here second; 0 or NaN where one is not wanted
 * @param stallCurrentA current that tells a stall in {@code stop-when}; a quarter of the guard's current where nothing
 *     states one
 * @param currentScaleA ampere a count, instead of what the rig states
 * @param identity further facts for the record in reading order: operator, station, tool version
 * @param texts exact texts for the record by role, see {@link org.shiftstand.record.RunHeader}
 * @param textNames their file names by role
 * @param simulated whether the rig is simulated, for the record
 */
public record RunPlan(
        String unit,
        List<Action> actions,
        Procedure procedure,
        Optional<Profile> profile,
        Guards guards,
        OptionalDouble stallCurrentA,
        OptionalDouble currentScaleA,
        Map<String, String> identity,
        Map<String, String> texts,
        Map<String, String> textNames,
        boolean simulated) {
    /** Outcomes that {@code stop-when} can see while a run goes on, without measuring angles. */
    public static final Set<String> LIVE_OUTCOMES = Set.of("missed", "not-settled", "stalled");

    /** Guards for a simulated rig where no rig description is given: 9 A for 20 ms, 4 V to 9 V, 60 degC. */
    public static final Guards SIMULATED_GUARDS = new Guards(9, 0.02, 0, 0, 0, 60, 4, 9);

    public RunPlan {
        actions = List.copyOf(actions);
    }

    /** Whatever keeps this plan from being run, all at once; empty where nothing does. */
    public List<String> problems() {
        List<String> problems = new ArrayList<>();
        double rate = procedure.sampleRateHz();
        if (!(rate >= 1) || rate > 1e6 || rate != Math.rint(rate)) {
            problems.add("sample-rate is " + rate + " Hz; expected a whole number of hertz from 1 to 1000000");
        }
        Set<String> unseen = new TreeSet<>(procedure.stopWhen().outcomes());
        unseen.removeAll(LIVE_OUTCOMES);
        if (!unseen.isEmpty()) {
            problems.add(
                    "stop-when: outcome " + String.join(", ", unseen) + " cannot be seen during a run; expected one of "
                            + String.join(", ", new TreeSet<>(LIVE_OUTCOMES)));
        }
        if (supply().isEmpty()) {
            problems.add("the procedure sets no supply before the first motion; begin its steps with"
                    + " one such as 'supply: 8.2 V'");
        }
        return problems;
    }

    /** Voltage to arm with: set before anything moves. */
    OptionalDouble supply() {
        for (Action action : actions) {
            if (action instanceof Action.SetSupply s) {
                return OptionalDouble.of(s.volts());
            }
            if (!(action instanceof Action.Pause)) {
                return OptionalDouble.empty();
            }
        }
        return OptionalDouble.empty();
    }

    int shifts() {
        return (int)
                actions.stream().filter(a -> a instanceof Action.RequestShift).count();
    }
}
