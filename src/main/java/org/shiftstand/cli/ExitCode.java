package org.shiftstand.cli;

import org.shiftstand.rig.RunEnd;
import org.shiftstand.spec.Verdict;

/** What a command tells the shell. */
final class ExitCode {
    /** Pass, or done. */
    static final int DONE = 0;
    /** The unit fails its spec, or a stop rule on an outcome ended the run. */
    static final int FAIL = 1;
    /** Bad usage or input; nothing was started. */
    static final int BAD_INPUT = 2;
    /** The evidence does not decide. */
    static final int NO_VERDICT = 3;
    /** Rig, link, guard or emergency stop. */
    static final int RIG = 4;
    /** A defect of our own. */
    static final int DEFECT = 70;

    /** Stopped by the user after the supply was cut; SIGTERM gives 143 by itself. */
    static final int STOPPED = 130;

    private ExitCode() {}

    static int of(Verdict verdict) {
        return switch (verdict) {
            case PASS -> DONE;
            case FAIL -> FAIL;
            case NO_VERDICT -> NO_VERDICT;
        };
    }

    /** Of a run that has left nothing to be told. */
    static int withoutResult(RunEnd end) {
        return end instanceof RunEnd.StoppedByUser ? STOPPED : RIG;
    }
}
