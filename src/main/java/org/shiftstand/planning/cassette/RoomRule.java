package org.shiftstand.planning.cassette;

/**
 * What counts as room; every figure is an assumption and is printed with the plan.
 *
 * @param border how far towards a neighbour a shaft may get, as a share of the angle between the two; above 0, below 1
 * @param leastClearanceDeg what must be left to a mechanical limit, degrees; not below 0
 * @param coverage share of the shifts that must stay inside, 0…1
 * @param confidence with which they do, where the spread is that of a sample, 0…1
 */
public record RoomRule(double border, double leastClearanceDeg, double coverage, double confidence) {
    /**
     * Half way: there a shaft is as near to the next sprocket as to its own, and a shift counts as short or double. Coverage
     * and confidence as learning takes them. Own choice, no published source.
     */
    public static final RoomRule USUAL = new RoomRule(0.5, 0, 0.999, 0.95);

    public RoomRule {
        if (!(border > 0 && border < 1)
                || !(leastClearanceDeg >= 0 && Double.isFinite(leastClearanceDeg))
                || !(coverage > 0 && coverage < 1)
                || !(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("shares between 0 and 1, a clearance of 0 or more: border=" + border
                    + ", leastClearanceDeg=" + leastClearanceDeg + ", coverage=" + coverage + ", confidence="
                    + confidence);
        }
    }
}
