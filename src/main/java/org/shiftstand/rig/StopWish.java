package org.shiftstand.rig;

import java.util.function.BooleanSupplier;

/** A wish to stop that may not be the user's, such as of a disk that is nearly full. */
public interface StopWish extends BooleanSupplier {
    /** How the run ends that this wish stops. Asked once the wish is there. */
    RunEnd end();

    /** How a run ends that any wish stops: the user's, where it is of no other kind. */
    static RunEnd endOf(BooleanSupplier stop) {
        return stop instanceof StopWish wish ? wish.end() : new RunEnd.StoppedByUser();
    }
}
