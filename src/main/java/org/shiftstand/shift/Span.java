package org.shiftstand.shift;

import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.Request;

/**
 * The samples of one shift in a trace, before anything is measured.
 *
 * @param before the rest it starts from; null where the shaft was moving
 * @param rests rests reached since, in time order; empty where it never rested or never left {@code before}
 * @param from first sample that belongs to the shift
 * @param to first sample that no longer does
 * @param request the mark or stamp that opened it, where there are any
 * @param requestS instant of the request; NaN where the onset of motion stands for it, or where it is not known
 * @param ending why it has no more samples
 */
record Span(
        @Nullable Rest before,
        List<Rest> rests,
        int from,
        int to,
        Optional<Request> request,
        double requestS,
        Ending ending) {
    /** Why a shift has no more samples. */
    enum Ending {
        /** It rests. */
        RESTED,
        /** The next request came while it moved. */
        NEXT_REQUEST,
        /** The supply was cut while it moved. */
        SUPPLY_CUT,
        /** It went on moving for longer than a shift may. */
        NEVER_RESTED,
        /** The capture ends while it moves, or before it could have moved. */
        CAPTURE_END,
        /** The run was broken off while it moved, or before it could have moved, and went on later. */
        BROKEN_OFF
    }

    /** The final rest; null where there is none. */
    @Nullable
    Rest landing() {
        if (!rests.isEmpty()) {
            return rests.get(rests.size() - 1);
        }
        return ending == Ending.RESTED ? before : null;
    }
}
