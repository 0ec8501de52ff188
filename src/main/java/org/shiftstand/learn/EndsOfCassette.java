package org.shiftstand.learn;

import java.util.List;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Outcome;

/** Counts what shows where the cassette ends. */
final class EndsOfCassette {
    private EndsOfCassette() {}

    /** @param shifts of all sources in their order, also those that are not learned from */
    static SprocketCount of(List<SeenShift> shifts, int sprockets) {
        int turnsOutboard = 0;
        int turnsInboard = 0;
        int refusedOutboard = 0;
        int refusedInboard = 0;
        for (int i = 0; i < shifts.size(); i++) {
            SeenShift s = shifts.get(i);
            boolean still = s.shift().outcome() == Outcome.MISSED;
            if (still && s.from() == 1 && s.direction() == Direction.OUTBOARD) {
                refusedOutboard++;
            }
            if (still && s.from() == sprockets && s.direction() == Direction.INBOARD) {
                refusedInboard++;
            }
            boolean follows = i + 1 < shifts.size() && shifts.get(i + 1).source() == s.source();
            if (follows && !still && s.shift().outcome() == Outcome.LANDED) {
                boolean turns = shifts.get(i + 1).direction() != s.direction();
                turnsOutboard += turns && s.to() == 1 ? 1 : 0;
                turnsInboard += turns && s.to() == sprockets ? 1 : 0;
            }
        }
        double outboard = refusedOutboard > 0 ? 1 : 1 - Math.pow(0.5, turnsOutboard);
        double inboard = refusedInboard > 0 ? 1 : 1 - Math.pow(0.5, turnsInboard);
        return new SprocketCount(
                sprockets, turnsOutboard, turnsInboard, refusedOutboard, refusedInboard, Math.min(outboard, inboard));
    }
}
