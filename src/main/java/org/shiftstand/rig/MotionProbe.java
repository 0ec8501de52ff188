package org.shiftstand.rig;

import java.util.List;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.link.HostMessage;

/**
 * Shifts a unit about, cuts its supply in the middle of one, and looks at everything that shows in the samples.
 *
 * <p>Homing, a few shifts inboard, one more that is cut half way; then armed again, one shift, homing. Homing before and
 * after ties the angles on both sides of the cut together: with the supply gone most units give no angles, and which
 * whole turn the shaft came to rest on is not known until it stands on sprocket 1 again.
 */
final class MotionProbe {
    /** After so long without motion a request was not acted upon. */
    static final double START_S = 1.5;

    private static final double MOST_SHIFT_S = 20;
    private static final int MOST_SPROCKETS = 30;
    private static final int SHIFTS = 5;
    private static final double REST_S = 0.5;
    private static final double AFTER_CUT_S = 1.2;
    private static final double TO_MOVE_S = 2;

    private final ProbeTalks talks;

    MotionProbe(ProbeTalks talks) {
        this.talks = talks;
    }

    /** @param into gets what was found; what a fault keeps from being found is not there */
    void run(List<Finding> into) {
        try (RigSession talk = talks.inMotion()) {
            talk.arm(talks.highMv());
            talk.listen(REST_S);
            int restTo = talk.trace().size();
            if (!home(talk)) {
                into.add(new Finding(
                        Check.HALL_CHANNELS,
                        Result.ATTENTION,
                        "the unit still moves after " + MOST_SPROCKETS + " outboard requests; where it stands is not"
                                + " known"));
                return;
            }
            long homeMicros = talk.lastMicros();
            int inboard = 0;
            while (inboard < SHIFTS && shift(talk, 1)) {
                inboard++;
            }
            into.addAll(new ChannelFindings(talk, restTo).all());
            if (inboard == 0) {
                String why = "no request inboard of sprocket 1 moved the shaft; is there a unit, and does it answer?";
                into.add(new Finding(Check.CUT_LATENCY, Result.NOT_MEASURED, why));
                into.add(new Finding(Check.COAST, Result.NOT_MEASURED, why));
                return;
            }
            cut(talk, inboard == SHIFTS ? 1 : -1, homeMicros, into);
        }
    }

    private void cut(RigSession talk, int direction, long homeMicros, List<Finding> into) {
        talk.request(direction);
        if (!talk.await(talk::moved, TO_MOVE_S)) {
            String why = "the shift that was to be cut did not move";
            into.add(new Finding(Check.CUT_LATENCY, Result.NOT_MEASURED, why));
            into.add(new Finding(Check.COAST, Result.NOT_MEASURED, why));
            return;
        }
        CutFindings cut = new CutFindings(talk, homeMicros, talk.rigMicros(talk.linkNow()));
        talk.command(new HostMessage.Cut());
        talk.listen(AFTER_CUT_S);
        into.add(cut.latency());
        cut.isOver();
        talk.arm(talks.highMv());
        talk.listen(REST_S);
        shift(talk, 1); // off the place where the cut left it: a unit may take that for its sprocket
        boolean home = home(talk);
        into.add(home ? cut.coast() : new Finding(Check.COAST, Result.NOT_MEASURED, "homing after the cut failed"));
    }

    /** One shift; whether it moved the shaft. */
    private boolean shift(RigSession talk, int direction) {
        talk.request(direction);
        return talk.awaitRest(talks.quietS(), START_S, MOST_SHIFT_S) && talk.moved();
    }

    /** Outboard until the unit stays where it is twice running: one request may be missed. */
    private boolean home(RigSession talk) {
        int still = 0;
        for (int i = 0; i < MOST_SPROCKETS && still < 2; i++) {
            still = shift(talk, -1) ? 0 : still + 1;
        }
        return still == 2;
    }

    /** Samples of a resting shaft with its sensors on, just before a time; empty ones count as none. */
    static int[] restBefore(HallTrace trace, HallTrace.Angles angles, long micros, int most) {
        int to = trace.at(micros);
        while (to > 0 && !angles.good(to - 1)) {
            to--;
        }
        int from = to;
        while (from > 0 && angles.good(from - 1) && to - from < most) {
            from--;
        }
        return new int[] {from, to};
    }
}
