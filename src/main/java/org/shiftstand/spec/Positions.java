package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.shiftstand.quantity.Direction;
import org.shiftstand.stats.Sample;

/**
 * Repeatability and reversal of a group's landings, as ISO 230-2:2014 defines them for the positions of an axis.
 *
 * <p>A position is a sprocket; its two directions of approach are inboard and outboard.
 */
final class Positions {
    private Positions() {}

    /**
     * The largest repeatability of any sprocket: 4 s of its one direction, or where both were made the larger of 2 s + 2 s +
     * |B| and either 4 s; empty where no direction has two values.
     */
    static OptionalDouble repeatability(List<GroupValues.Natural> groups) {
        return bySprocket(groups).stream()
                .map(Positions::repeatability)
                .flatMapToDouble(OptionalDouble::stream)
                .max();
    }

    private static OptionalDouble repeatability(Approaches of) {
        OptionalDouble inboard = of.inboard.standardDeviation();
        OptionalDouble outboard = of.outboard.standardDeviation();
        if (inboard.isEmpty() || outboard.isEmpty()) {
            OptionalDouble only = inboard.isPresent() ? inboard : outboard;
            return only.isPresent() ? OptionalDouble.of(4 * only.getAsDouble()) : only;
        }
        double in = inboard.getAsDouble();
        double out = outboard.getAsDouble();
        double both = 2 * in + 2 * out + Math.abs(of.reversal().orElse(0));
        return OptionalDouble.of(Math.max(both, Math.max(4 * in, 4 * out)));
    }

    /** Mean inboard minus mean outboard; of several sprockets the one farthest from 0; empty where none has both. */
    static OptionalDouble reversal(List<GroupValues.Natural> groups) {
        return bySprocket(groups).stream()
                .map(Approaches::reversal)
                .flatMapToDouble(OptionalDouble::stream)
                .reduce((a, b) -> Math.abs(b) > Math.abs(a) ? b : a);
    }

    /** The sprocket with that reversal, both its directions. */
    static List<Approaches> bySprocket(List<GroupValues.Natural> groups) {
        Map<Integer, Approaches> sprockets = new TreeMap<>();
        for (GroupValues.Natural group : groups) {
            Approaches before = sprockets.getOrDefault(group.to(), Approaches.NONE);
            sprockets.put(
                    group.to(),
                    group.direction() == Direction.INBOARD
                            ? new Approaches(group.sample(), before.outboard)
                            : new Approaches(before.inboard, group.sample()));
        }
        return new ArrayList<>(sprockets.values());
    }

    /** Landings on one sprocket by their direction of approach. */
    record Approaches(Sample inboard, Sample outboard) {
        static final Approaches NONE = new Approaches(Sample.of(), Sample.of());

        OptionalDouble reversal() {
            OptionalDouble in = inboard.mean();
            OptionalDouble out = outboard.mean();
            return in.isPresent() && out.isPresent()
                    ? OptionalDouble.of(in.getAsDouble() - out.getAsDouble())
                    : OptionalDouble.empty();
        }
    }
}
