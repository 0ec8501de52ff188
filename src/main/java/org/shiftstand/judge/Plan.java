package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.procedure.Action;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.PlannedShift;

/** The shifts that are expected of a unit, from which a clause's groups are made. */
public final class Plan {
    private Plan() {}

    /** What a laid-out procedure asks for, each shift with the supply set before it; homing is no shift to be judged. */
    public static List<PlannedShift> of(List<Action> actions) {
        var planned = new ArrayList<PlannedShift>();
        OptionalDouble supplyV = OptionalDouble.empty();
        for (Action action : actions) {
            if (action instanceof Action.SetSupply supply) {
                supplyV = OptionalDouble.of(supply.volts());
            } else if (action instanceof Action.RequestShift shift) {
                planned.add(
                        new PlannedShift(shift.cycle(), shift.from(), shift.to(), Optional.of(shift.step()), supplyV));
            }
        }
        return List.copyOf(planned);
    }

    /**
     * What a capture without a procedure should show of a unit: every shift between neighbours, inboard then outboard, at
     * least once in whichever cycles there are.
     */
    public static List<PlannedShift> ofProfile(Profile profile) {
        var planned = new ArrayList<PlannedShift>();
        int n = profile.sprockets();
        for (int from = 1; from < n; from++) {
            planned.add(pair(from, from + 1));
        }
        for (int from = n; from > 1; from--) {
            planned.add(pair(from, from - 1));
        }
        return List.copyOf(planned);
    }

    /** Without a procedure and a profile: the pairs that were seen, in ascending order. */
    public static List<PlannedShift> seen(ShiftTable table) {
        return table.shifts().stream()
                .filter(shift -> shift.cycle() > 0 && shift.from() != shift.to())
                .map(shift -> pair(shift.from(), shift.to()))
                .distinct()
                .sorted(Comparator.comparingInt(PlannedShift::from).thenComparingInt(PlannedShift::to))
                .toList();
    }

    private static PlannedShift pair(int from, int to) {
        return new PlannedShift(0, from, to, Optional.empty(), OptionalDouble.empty());
    }
}
