package org.shiftstand.planning.cassette;

import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;

/**
 * What one shift needs on one side of the sprocket it goes to, against what there is.
 *
 * @param from sprocket, 1…M
 * @param to neighbour of it
 * @param side where the need lies
 * @param gapDeg from the sprocket to what lies on that side: the next sprocket, or the mechanical limit; empty where that
 *     limit is not known
 * @param availableDeg share of the gap that may be used; empty like the gap
 * @param overtravelDeg programmed past the landing on that side; 0 for none, empty where the table has a gap
 * @param scatterDeg factor times standard deviation of landings; empty where it is not known
 * @param factor that factor
 * @param ringingDeg largest seen; empty where it is not known
 * @param offsetDeg of mean landings from their positions
 * @param uncertaintyDeg of an angle, expanded
 */
public record RoomCheck(
        int from,
        int to,
        Side side,
        OptionalDouble gapDeg,
        OptionalDouble availableDeg,
        OptionalDouble overtravelDeg,
        OptionalDouble scatterDeg,
        double factor,
        OptionalDouble ringingDeg,
        double offsetDeg,
        double uncertaintyDeg) {

    /** Where a shift may get too far. */
    public enum Side {
        /** Past the sprocket, towards the one after it. */
        NEXT("next"),
        /** Past the last sprocket, towards the mechanical limit. */
        LIMIT("limit"),
        /** Not quite there, towards the sprocket it came from. */
        BACK("back");

        private final String word;

        Side(String word) {
            this.word = word;
        }

        /** As in JSON. */
        public String word() {
            return word;
        }
    }

    public Direction direction() {
        return Direction.of(to - from);
    }

    /** The sprocket on that side; without meaning beside a limit. */
    public int towards() {
        return side == Side.BACK ? from : to + direction().sign();
    }

    /** What is needed as far as it is known; what is not known counts as 0. */
    public double neededDeg() {
        return overtravelDeg.orElse(0) + scatterDeg.orElse(0) + othersDeg();
    }

    /** The needs that neither spread nor overtravel make. */
    private double othersDeg() {
        return ringingDeg.orElse(0) + offsetDeg + uncertaintyDeg;
    }

    /** Whether every need is known. */
    public boolean needsKnown() {
        return scatterDeg.isPresent() && ringingDeg.isPresent() && overtravelDeg.isPresent();
    }

    /** Available minus needed, negative where it is too tight; at most this much where a need is not known. */
    public OptionalDouble marginDeg() {
        return availableDeg.isPresent()
                ? OptionalDouble.of(availableDeg.getAsDouble() - neededDeg())
                : OptionalDouble.empty();
    }

    public Room room() {
        if (marginDeg().isPresent() && marginDeg().getAsDouble() < 0) {
            return Room.NO_ROOM;
        }
        return marginDeg().isPresent() && needsKnown() ? Room.ROOM : Room.NOT_DECIDED;
    }

    /** Largest overtravel that fits with everything else as it is; empty without one, or where not even 0 fits. */
    public OptionalDouble overtravelAtMostDeg() {
        return overtravelDeg.orElse(0) > 0 ? fitting(scatterDeg.orElse(0) + othersDeg(), 1) : OptionalDouble.empty();
    }

    /** Largest standard deviation of landings that fits with everything else as it is; empty where not even 0 fits. */
    public OptionalDouble spreadAtMostDeg() {
        return fitting(overtravelDeg.orElse(0) + othersDeg(), factor);
    }

    private OptionalDouble fitting(double besideDeg, double perUnit) {
        return availableDeg.isPresent() && availableDeg.getAsDouble() >= besideDeg
                ? OptionalDouble.of((availableDeg.getAsDouble() - besideDeg) / perUnit)
                : OptionalDouble.empty();
    }

    /** Smallest gap that fits with everything as it is; empty where the gap is not known. */
    public OptionalDouble gapAtLeastDeg() {
        if (gapDeg.isEmpty() || marginDeg().isEmpty()) {
            return OptionalDouble.empty();
        }
        // of a limit the whole gap but the clearance may be used, of a neighbour a share
        double missing = -marginDeg().getAsDouble();
        return OptionalDouble.of(
                side == Side.LIMIT
                        ? gapDeg.getAsDouble() + missing
                        : gapDeg.getAsDouble() * neededDeg() / availableDeg.getAsDouble());
    }
}
