package org.shiftstand.angle;

/**
 * Angle terms of the orders 3 and 4, learned from a long record: φ is further corrected by − (Σ s_k sin kφ + c_k cos kφ).
 *
 * <p>The order 1 is not among them: over the travel for which the speed stays a cubic in time, sin φ is nearly one too.
 *
 * @param sin3Deg degrees
 * @param cos3Deg degrees
 * @param sin4Deg degrees
 * @param cos4Deg degrees
 * @param residualBeforeDeg root mean square, on stretches that were held out, of what the second order leaves, degrees;
 *     NaN where nothing was learned
 * @param residualAfterDeg the same of what these terms leave with it
 * @param stretches of near-constant speed that they come from
 */
public record HigherOrder(
        double sin3Deg,
        double cos3Deg,
        double sin4Deg,
        double cos4Deg,
        double residualBeforeDeg,
        double residualAfterDeg,
        int stretches) {
    public static final HigherOrder NONE = new HigherOrder(0, 0, 0, 0, Double.NaN, Double.NaN, 0);

    /** Whether anything was learned. */
    public boolean isLearned() {
        return stretches > 0;
    }
}
