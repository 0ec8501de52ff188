package org.shiftstand.angle;

import java.util.List;
import org.shiftstand.capture.SampleSource;

/** The break that comes next on a walk over samples. */
final class NextBreak {
    private final List<SampleSource.Break> breaks;
    private int next;
    /** Samples later than this are behind it; infinite where no more come. */
    double boundaryS;

    NextBreak(List<SampleSource.Break> breaks) {
        this.breaks = breaks;
        look();
    }

    NextBreak copy() {
        var copy = new NextBreak(breaks);
        copy.next = next;
        copy.look();
        return copy;
    }

    /** Whether a sample at this instant is behind the break, which then is the one after it. */
    boolean passedBy(double timeS) {
        boolean passed = false;
        while (timeS > boundaryS) {
            passed = true;
            next++;
            look();
        }
        return passed;
    }

    private void look() {
        boundaryS = next < breaks.size() ? breaks.get(next).boundaryS() : Double.POSITIVE_INFINITY;
    }
}
