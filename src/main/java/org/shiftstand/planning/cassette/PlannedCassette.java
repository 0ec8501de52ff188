package org.shiftstand.planning.cassette;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;

/**
 * One number of sprockets, planned.
 *
 * @param pitchMm from sprocket to sprocket, by the mean; empty where millimetres are not known
 * @param fixedPitch whether that pitch was asked for; else both ends are kept
 * @param positionsDeg of sprockets 1…M, ascending
 * @param overtravelInboardDeg 1→2, 2→3, … length M − 1; 0 for none, NaN where it is not known
 * @param overtravelOutboardDeg M→M−1, … 2→1, length M − 1; likewise
 * @param beyondDeg how far the last sprocket lies past the present last one; 0 where it does not. There positions are
 *     extrapolated
 * @param checks for each shift between neighbours two: past its sprocket, and short of it
 */
public record PlannedCassette(
        int sprockets,
        OptionalDouble pitchMm,
        boolean fixedPitch,
        List<Double> positionsDeg,
        List<Double> overtravelInboardDeg,
        List<Double> overtravelOutboardDeg,
        double beyondDeg,
        List<RoomCheck> checks) {
    private static final Comparator<RoomCheck> TIGHTEST_FIRST =
            Comparator.comparingDouble(check -> check.marginDeg().orElse(Double.POSITIVE_INFINITY));

    public PlannedCassette {
        positionsDeg = List.copyOf(positionsDeg);
        overtravelInboardDeg = List.copyOf(overtravelInboardDeg);
        overtravelOutboardDeg = List.copyOf(overtravelOutboardDeg);
        checks = List.copyOf(checks);
    }

    /** No room anywhere is no room; else anything undecided is not decided. */
    public Room room() {
        if (checks.stream().anyMatch(check -> check.room() == Room.NO_ROOM)) {
            return Room.NO_ROOM;
        }
        return checks.stream().allMatch(check -> check.room() == Room.ROOM) ? Room.ROOM : Room.NOT_DECIDED;
    }

    /** The check with the least margin; empty only where none has one. */
    public Optional<RoomCheck> tightest() {
        return tightest(checks);
    }

    /** Of some checks the one with the least margin; empty where none has one. */
    public static Optional<RoomCheck> tightest(List<RoomCheck> checks) {
        return checks.stream().filter(check -> check.marginDeg().isPresent()).min(TIGHTEST_FIRST);
    }

    /** The tightest where a landing alone decides: without overtravel on that side. */
    public Optional<RoomCheck> tightestLanding() {
        return checks.stream()
                .filter(check -> check.side() == RoomCheck.Side.BACK)
                .min(TIGHTEST_FIRST);
    }

    /** The check at the mechanical limit on a side. */
    public RoomCheck atLimit(Direction side) {
        return checks.stream()
                .filter(check -> check.side() == RoomCheck.Side.LIMIT && check.direction() == side)
                .findFirst()
                .orElseThrow();
    }

    /** Checks whose programmed position or overtravel lies at or past a known limit: such a table must not be run. */
    public List<RoomCheck> reachingLimits() {
        return checks.stream()
                .filter(check -> check.side() == RoomCheck.Side.LIMIT)
                .filter(check -> check.gapDeg().isPresent()
                        && check.gapDeg().getAsDouble() <= check.overtravelDeg().orElse(0))
                .toList();
    }

    /** Mean angle from sprocket to sprocket. */
    public double pitchDeg() {
        return (positionsDeg.get(sprockets - 1) - positionsDeg.get(0)) / (sprockets - 1);
    }
}
