package org.shiftstand.angle;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** States of the unwrapper at sparse places, so that a drawing need not decode from the start; at most 512. */
final class Checkpoints {
    private static final int MOST = 512;
    private static final int FIRST_SPACING = 8192;

    private final List<Point> points = new ArrayList<>();
    private long spacing = FIRST_SPACING;

    /** State before sample {@code sample}, all earlier ones being before {@code timeS}. */
    record Point(long sample, double timeS, Unwrapper state) {}

    /** Whether a point this far in is wanted and not yet there. */
    synchronized boolean wants(long sample) {
        return sample
                >= (points.isEmpty() ? spacing : points.get(points.size() - 1).sample() + spacing);
    }

    synchronized void add(long sample, double timeS, Unwrapper state) {
        if (!wants(sample)) {
            return;
        }
        points.add(new Point(sample, timeS, state.copy()));
        if (points.size() == MOST) {
            for (int i = MOST - 2; i >= 0; i -= 2) {
                points.remove(i);
            }
            spacing *= 2;
        }
    }

    /** The last point at or before an instant. */
    synchronized @Nullable Point before(double fromS) {
        Point best = null;
        for (Point point : points) {
            if (point.timeS() <= fromS) {
                best = point;
            }
        }
        return best;
    }
}
