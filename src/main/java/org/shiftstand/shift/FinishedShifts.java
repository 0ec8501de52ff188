package org.shiftstand.shift;

import java.util.List;
import java.util.function.Consumer;

/**
 * Measures shifts that are complete and gives them on in their order, numbering the stretches between which whole turns may
 * have been lost.
 */
final class FinishedShifts {
    private final ShiftMeasurer measurer;
    private final Consumer<Chain> out;
    private int stretch;
    private List<RawShift> latest = List.of();

    FinishedShifts(ShiftMeasurer measurer, Consumer<Chain> out) {
        this.measurer = measurer;
        this.out = out;
    }

    /** @param doubtful whether its windows may belong together otherwise */
    void add(Span span, boolean doubtful) {
        RawShift shift = measurer.measure(span);
        shift.groupingDoubtful = doubtful;
        shift.finished();
        add(Chain.of(shift));
    }

    /** Motions in each grouping that they may have. */
    void add(Chain chain, boolean doubtful) {
        for (RawShift shift : chain.all()) {
            shift.groupingDoubtful = doubtful;
            shift.finished();
        }
        add(chain);
    }

    private void add(Chain chain) {
        stretch = chain.number(stretch);
        latest = chain.endings();
        out.accept(chain);
    }

    /**
     * Says how long the last landing was seen, so that a return may be missing.
     *
     * @param atCaptureEnd whether the capture ended then
     * @param cutAtRest whether the supply was cut then
     */
    void seen(double seenS, boolean atCaptureEnd, boolean cutAtRest) {
        for (RawShift shift : latest) {
            shift.seenAfterLandingS = seenS;
            shift.atCaptureEnd = atCaptureEnd;
            shift.cutAtRest = cutAtRest;
        }
    }

    /** The last one, in each grouping that it may belong to; none before the first. */
    List<RawShift> latest() {
        return latest;
    }
}
