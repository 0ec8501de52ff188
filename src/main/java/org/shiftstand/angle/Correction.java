package org.shiftstand.angle;

/**
 * Correction of a Hall pair: offset, gain, phase (Heydemann 1981) and a second-order angle term.
 *
 * <p>With x = cos channel − {@code cosOffset}, y = sin channel − {@code sinOffset}: u = x, v = (x sin α + r y) / cos α,
 * φ = atan2(v, u), radius = hypot(u, v) / {@code radius}, angle = φ − ({@code sin2Deg} sin 2φ + {@code cos2Deg} cos 2φ),
 * less the terms of {@code higher} in long records; the shaft's angle is {@code turnsPerCycle} of it. Terms are in degrees
 * of the electrical angle, residual and uncertainty in degrees of the shaft.
 *
 * @param cosOffset offset of the cosine channel, counts or volts
 * @param sinOffset offset of the sine channel, counts or volts
 * @param gainRatio r, gain of the cosine channel over the sine channel
 * @param phaseDeg α, departure from quadrature, degrees
 * @param radius mean radius, counts or volts
 * @param sin2Deg second-order term, degrees
 * @param cos2Deg second-order term, degrees
 * @param ellipseFrom {@code fit} over the capture, {@code calibration}, or {@code nominal}
 * @param secondOrderFrom {@code fit}, {@code calibration} or {@code none}
 * @param residualDeg root mean square of what is left after the correction on near-constant speed, degrees; NaN without
 * @param uncertaintyDeg standard uncertainty of an angle; 0.5 where nothing supports the second-order term
 * @param higher terms of the orders 3 and 4; none but in long records that support them
 * @param drift of the offsets over hours, added to them; none but in long records whose offsets do drift
 * @param turnsPerCycle turns of the shaft in one turn of the electrical angle; 1 with the usual magnet, 1/2 with one of
 *     two periods a turn
 * @param rails where an output is clipped: there φ comes from the other output and the ellipse
 */
public record Correction(
        double cosOffset,
        double sinOffset,
        double gainRatio,
        double phaseDeg,
        double radius,
        double sin2Deg,
        double cos2Deg,
        String ellipseFrom,
        String secondOrderFrom,
        double residualDeg,
        double uncertaintyDeg,
        HigherOrder higher,
        OffsetDrift drift,
        double turnsPerCycle,
        Rails rails) {
    /** Without terms of higher order, offsets that stay, one electrical turn in a turn, nothing clipped. */
    public Correction(
            double cosOffset,
            double sinOffset,
            double gainRatio,
            double phaseDeg,
            double radius,
            double sin2Deg,
            double cos2Deg,
            String ellipseFrom,
            String secondOrderFrom,
            double residualDeg,
            double uncertaintyDeg) {
        this(
                cosOffset,
                sinOffset,
                gainRatio,
                phaseDeg,
                radius,
                sin2Deg,
                cos2Deg,
                ellipseFrom,
                secondOrderFrom,
                residualDeg,
                uncertaintyDeg,
                HigherOrder.NONE,
                OffsetDrift.NONE,
                1,
                Rails.NONE);
    }

    /** The same for another magnet; residual and uncertainty are kept. */
    Correction withTurnsPerCycle(double turns) {
        return new Correction(
                cosOffset,
                sinOffset,
                gainRatio,
                phaseDeg,
                radius,
                sin2Deg,
                cos2Deg,
                ellipseFrom,
                secondOrderFrom,
                residualDeg,
                uncertaintyDeg,
                higher,
                drift,
                turns,
                rails);
    }

    /** The same with outputs clipped. */
    Correction withRails(Rails clipped) {
        return new Correction(
                cosOffset,
                sinOffset,
                gainRatio,
                phaseDeg,
                radius,
                sin2Deg,
                cos2Deg,
                ellipseFrom,
                secondOrderFrom,
                residualDeg,
                uncertaintyDeg,
                higher,
                drift,
                turnsPerCycle,
                clipped);
    }
}
