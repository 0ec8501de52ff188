package org.shiftstand.shift;

import java.util.OptionalDouble;

/** What a unit did in one shift; the first rule that matches. */
final class OutcomeRules {
    private final Numbering numbering;
    private final double bandDeg;
    private final OptionalDouble stallCurrentA;

    OutcomeRules(Numbering numbering, ShiftOptions options) {
        this.numbering = numbering;
        this.bandDeg = options.bandDeg();
        this.stallCurrentA = options.stallCurrentA();
    }

    /**
     * The outcome.
     *
     * @param to sprocket asked for, or landed on
     * @param targetKnown whether {@code to} was asked for
     * @param way +1 inboard, −1 outboard: what was asked for, or where that is not known the motion
     */
    Outcome of(RawShift shift, int to, boolean targetKnown, int way) {
        boolean rests = !Double.isNaN(shift.landingDeg);
        boolean endsInside = shift.ending == Span.Ending.CAPTURE_END || shift.ending == Span.Ending.BROKEN_OFF;
        if (shift.damaged || shift.brokenOff || !rests && endsInside) {
            return Outcome.UNKNOWN;
        }
        if (shift.ending == Span.Ending.NEXT_REQUEST || shift.ending == Span.Ending.SUPPLY_CUT) {
            return Outcome.INTERRUPTED;
        }
        if (!rests) {
            return Outcome.NOT_SETTLED;
        }
        if (shift.evidence == Evidence.PARTIAL && !targetKnown) {
            return Outcome.UNKNOWN;
        }
        double landing = numbering.place(shift.landingDeg);
        double moved = landing - numbering.place(shift.startDeg);
        if (moved * way < -bandDeg) {
            return Outcome.REVERSED;
        }
        if (!shift.left) {
            return Outcome.MISSED;
        }
        Double goal = numbering.positions().get(to);
        if (!targetKnown) {
            return Math.abs(moved) < bandDeg ? Outcome.SHORT : Outcome.LANDED;
        }
        if (goal == null) {
            return Outcome.UNKNOWN;
        }
        double beyond = (landing - goal) * way;
        if (!numbering.decided() && Math.abs(beyond) > numbering.halfPitch(to, beyond > 0 ? way : -way)) {
            return Outcome.UNKNOWN; // assumed numbers accuse no unit
        }
        if (-beyond > numbering.halfPitch(to, -way)) {
            boolean stalled = stallCurrentA.isPresent() && shift.endCurrentA > stallCurrentA.getAsDouble();
            return stalled ? Outcome.STALLED : Outcome.SHORT;
        }
        return beyond > numbering.halfPitch(to, way) ? Outcome.DOUBLE : Outcome.LANDED;
    }
}
