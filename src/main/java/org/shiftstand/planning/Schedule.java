package org.shiftstand.planning;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Course;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.PlannedShift;

/**
 * A procedure as a supply of shifts: what it asks for by any number of cycles, and how long that takes on a rig. Beyond its
 * own cycles it is taken to begin again from its first step.
 */
public final class Schedule {
    /** Cycles beyond this are not looked at; at a minute a cycle it is more than a week. */
    static final int MOST_CYCLES = 10_000;

    private final Course course;
    private final List<PlannedShift> planned;
    private final double[] endsS; // of each cycle, from 0

    private Schedule(Course course, List<PlannedShift> planned) {
        this.course = course;
        this.planned = planned;
        this.endsS = new double[course.cycles()];
        for (int i = 0; i < course.actions().size(); i++) {
            if (course.actions().get(i) instanceof Action.RequestShift shift) {
                endsS[shift.cycle() - 1] = course.endS(i);
            }
        }
    }

    /**
     * A laid-out procedure.
     *
     * @param planned the shifts among the actions, in their order
     */
    public static Schedule of(List<Action> actions, List<PlannedShift> planned, Profile profile) {
        return new Schedule(Course.of(actions, profile), List.copyOf(planned));
    }

    /** How many cycles the procedure has as it stands. */
    public int cycles() {
        return endsS.length;
    }

    /** Shifts of the first so many cycles. */
    public List<PlannedShift> plan(int cycles) {
        List<PlannedShift> plan = new ArrayList<>();
        for (int before = 0; before < cycles && cycles() > 0; before += cycles()) {
            for (PlannedShift shift : planned) {
                int cycle = before + shift.cycle();
                if (cycle <= cycles) {
                    plan.add(new PlannedShift(cycle, shift.from(), shift.to(), shift.step(), shift.supplyV()));
                }
            }
        }
        return plan;
    }

    /** From the first action to the end of so many cycles, seconds; an estimate, see {@link Course}. */
    public double seconds(int cycles) {
        if (cycles <= 0 || cycles() == 0) {
            return 0;
        }
        int rounds = (cycles - 1) / cycles();
        double last = endsS[(cycles - 1) % cycles()];
        return rounds * course.totalS() + (cycles == cycles() ? course.totalS() : last);
    }
}
