package org.shiftstand.cli;

import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Course;

/** How long a run will still take, from its script and from the pace so far. Used by one thread. */
final class TimeLeft {
    /** So much of the script, seconds, before its own pace is trusted. */
    private static final double TRUSTED_S = 30;

    private static final double LEAST_PACE = 0.5;
    private static final double MOST_PACE = 2;

    private final Course course;
    private final double[] doneS;
    private int shifts;
    private double elapsedS = -1;
    private double plannedS;
    private double tookS;

    TimeLeft(Course course) {
        this.course = course;
        doneS = new double[course.shifts() + 1];
        int n = 0;
        for (int i = 0; i < course.actions().size(); i++) {
            if (course.actions().get(i) instanceof Action.RequestShift) {
                doneS[++n] = course.endS(i);
            }
        }
    }

    /**
     * Another shift is over.
     *
     * @param shiftsDone of the whole script
     * @param runElapsedS seconds since the unit was powered; begins anew after a cut
     */
    void over(int shiftsDone, double runElapsedS) {
        int now = Math.min(shiftsDone, course.shifts());
        boolean onwards = elapsedS >= 0 && now > shifts && runElapsedS > elapsedS;
        if (onwards && shifts > 0) { // homing goes by where the unit stands, which nobody knows
            plannedS += doneS[now] - doneS[shifts];
            tookS += runElapsedS - elapsedS;
        }
        shifts = now;
        elapsedS = runElapsedS;
    }

    /** Seconds that are left from the last shift on. */
    double seconds() {
        double pace = plannedS < TRUSTED_S ? 1 : Math.max(LEAST_PACE, Math.min(MOST_PACE, tookS / plannedS));
        return (course.totalS() - doneS[shifts]) * pace;
    }

    /** Seconds of the script that are done. */
    double doneS() {
        return doneS[shifts];
    }

    /** Share of the script that is left, 0 to 1. */
    double share() {
        return course.totalS() == 0 ? 0 : 1 - doneS[shifts] / course.totalS();
    }
}
