package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.shiftstand.quantity.Direction;
import org.shiftstand.stats.Positioning.Approach;
import org.shiftstand.stats.Positioning.Position;
import org.shiftstand.stats.Sample;

/**
 * A group's landings as positions of an axis (ISO 230-2): a position is a sprocket, its two directions of approach are
 * inboard, the positive one, and outboard.
 */
final class Positions {
    private Positions() {}

    /**
     * The largest repeatability of any sprocket, bidirectional where it was reached from both sides; empty where no direction
     * has two values.
     */
    static OptionalDouble repeatability(List<GroupValues.Natural> groups) {
        return bySprocket(groups).stream()
                .map(Positions::repeatability)
                .flatMapToDouble(OptionalDouble::stream)
                .max();
    }

    private static OptionalDouble repeatability(Position position) {
        OptionalDouble both = position.repeatability(Approach.BOTH);
        OptionalDouble inboard = position.repeatability(Approach.FORWARD);
        return both.isPresent() ? both : inboard.isPresent() ? inboard : position.repeatability(Approach.BACKWARD);
    }

    /** The reversal of the sprocket where it is farthest from 0; empty where none was reached from both sides. */
    static OptionalDouble reversal(List<GroupValues.Natural> groups) {
        return bySprocket(groups).stream()
                .map(Position::reversal)
                .flatMapToDouble(OptionalDouble::stream)
                .reduce((a, b) -> Math.abs(b) > Math.abs(a) ? b : a);
    }

    /** In the order of their numbers. */
    static List<Position> bySprocket(List<GroupValues.Natural> groups) {
        Position none = new Position(Sample.of(), Sample.of());
        Map<Integer, Position> sprockets = new TreeMap<>();
        for (GroupValues.Natural group : groups) {
            Position before = sprockets.getOrDefault(group.to(), none);
            sprockets.put(
                    group.to(),
                    group.direction() == Direction.INBOARD
                            ? new Position(group.sample(), before.backward())
                            : new Position(before.forward(), group.sample()));
        }
        return new ArrayList<>(sprockets.values());
    }
}
