package org.shiftstand.shift;

import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Measures shifts that are complete and gives them on in their order, numbering the stretches between which whole turns may
 * have been lost.
 */
final class FinishedShifts {
    private final ShiftMeasurer measurer;
    private final Consumer<Chain> out;
    private int stretch;
    private @Nullable RawShift latest;

    FinishedShifts(ShiftMeasurer measurer, Consumer<Chain> out) {
        this.measurer = measurer;
        this.out = out;
    }

    /** @param doubtful whether its windows may belong together otherwise */
    void add(Span span, boolean doubtful) {
        RawShift shift = measurer.measure(span);
        shift.groupingDoubtful = doubtful;
        shift.startStretch = stretch;
        stretch += shift.turnUncertain ? 1 : 0;
        shift.landingStretch = stretch;
        shift.finished();
        latest = shift;
        out.accept(Chain.of(shift));
    }

    /** Motions in each grouping that they may have. */
    void add(Chain chain, boolean doubtful) {
        for (RawShift shift : chain.all()) {
            shift.groupingDoubtful = doubtful;
            shift.finished();
        }
        stretch = chain.number(stretch);
        List<RawShift> usual = chain.usual();
        latest = usual.get(usual.size() - 1);
        out.accept(chain);
    }

    /** The last one; of a chain, of its usual grouping. Null before the first. */
    @Nullable
    RawShift latest() {
        return latest;
    }
}
