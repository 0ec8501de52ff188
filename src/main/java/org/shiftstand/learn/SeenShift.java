package org.shiftstand.learn;

import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;

/**
 * A shift with the numbers of the joined cassette.
 *
 * @param source index of its input
 * @param unit index of its unit
 * @param from joined number
 * @param to joined number
 */
record SeenShift(int source, int unit, int from, int to, Shift shift) {
    /** Every so many cycles are kept for proving. */
    static final int HELD_BACK_EVERY = 3;

    static boolean heldBack(Shift shift) {
        return shift.cycle() > 0 && shift.cycle() % HELD_BACK_EVERY == 0;
    }

    boolean heldBack() {
        return heldBack(shift);
    }

    /** Whether it is a good shift of the script: what is learned from and proved with. */
    boolean counts() {
        return shift.cycle() > 0 && shift.inPlace() && shift.outcome() == Outcome.LANDED && from != to;
    }

    boolean learned() {
        return counts() && !heldBack();
    }

    int sign() {
        return shift.direction().sign();
    }

    Direction direction() {
        return shift.direction();
    }

    OptionalDouble value(Measure measure) {
        Measured measured = shift.get(measure);
        return measured.number();
    }

    /** Whether it went past its landing and came back; only where overtravel was measured. */
    boolean wentPast() {
        return value(Measure.OVERTRAVEL).orElse(0) > 0;
    }

    /** Direction of its last motion. */
    int approach() {
        return wentPast() ? -sign() : sign();
    }
}
