package org.shiftstand.planning.cassette;

import java.util.List;
import java.util.stream.IntStream;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/**
 * One direction of an overtravel table over the place of the sprocket shifted to, in steps of the present cassette.
 *
 * <p>Between two programmed values it is interpolated linearly; between a programmed one and none the nearer decides whether
 * there is one, the programmed value unchanged (a mixture would be a value that nobody programmed); half way counts as
 * programmed, which needs more room. Beside a row that is not known nothing is known. Beyond the first and the last row
 * their values hold.
 */
final class CarriedOvertravel {
    private final int firstStep;
    private final List<Double> byTarget;

    private CarriedOvertravel(int firstStep, List<Double> byTarget) {
        this.firstStep = firstStep;
        this.byTarget = byTarget;
    }

    static CarriedOvertravel of(Profile profile, Direction direction) {
        boolean inboard = direction == Direction.INBOARD;
        int first = inboard ? 2 : 1; // sprockets that a shift of this direction can go to
        List<Double> values = IntStream.range(first, first + profile.sprockets() - 1)
                .mapToObj(
                        to -> profile.overtravel(inboard ? to - 1 : to + 1, to).orElse(Double.NaN))
                .toList();
        return new CarriedOvertravel(first - 1, values);
    }

    /** Degrees; 0 for none, NaN where it is not known. */
    double at(double steps) {
        double row = Math.max(0, Math.min(byTarget.size() - 1.0, steps - firstStep));
        int below = (int) row;
        double share = row - below;
        double low = byTarget.get(below);
        if (share == 0) {
            return low;
        }
        double high = byTarget.get(below + 1);
        if (Double.isNaN(low) || Double.isNaN(high)) {
            return Double.NaN; // a gap in a table is never filled from its neighbours
        }
        if (low > 0 && high > 0) {
            return low + share * (high - low);
        }
        boolean nearerIsHigh = high > 0 ? share >= 0.5 : share > 0.5;
        return nearerIsHigh ? high : low;
    }
}
