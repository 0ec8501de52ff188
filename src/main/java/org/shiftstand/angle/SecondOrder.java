package org.shiftstand.angle;

import java.util.List;
import java.util.Optional;

/**
 * The second-order angle term, estimated from stretches of near-constant speed.
 *
 * <p>Over such a stretch the true angle is a cubic in time to well below the term looked for. What a local cubic leaves
 * of the angle is regressed on what it leaves of sin 2φ and cos 2φ, all stretches together: least squares over two
 * coefficients common to all and four of each stretch. Stretches that fit much worse than the median one are no cubic
 * (the speed has a corner there) and are left out of the next round.
 *
 * @param sin2Deg coefficient of sin 2φ, degrees
 * @param cos2Deg coefficient of cos 2φ, degrees
 * @param residualDeg root mean square of what is left, degrees
 * @param standardErrorDeg of either coefficient, the larger one, degrees
 * @param stretches how many were used
 */
record SecondOrder(double sin2Deg, double cos2Deg, double residualDeg, double standardErrorDeg, int stretches) {
    private static final int ROUNDS = 4;
    /** Misfit over the median misfit beyond which a stretch is left out. */
    static final double FAR = 1.5;

    /** The same before any term is known: a single wild sample must not make the first round give up. */
    private static final double WILD = 4;

    private static final SecondOrder NONE = new SecondOrder(0, 0, Double.NaN, Double.NaN, 0);

    private static final int FEWEST = 8;
    private static final double LARGEST_ERROR_DEG = 0.1;
    private static final double LARGEST_RESIDUAL_DEG = 1.5;

    /** Empty where too few stretches support it, or they do not agree. */
    static Optional<SecondOrder> estimate(Stretches from, Ellipse ellipse, Rails rails) {
        List<SteadyStretch> usable = SteadyStretch.all(from, ellipse, rails);
        Optional<SecondOrder> estimate = solve(fitting(usable, NONE, WILD));
        for (int round = 1; round < ROUNDS && estimate.isPresent(); round++) {
            estimate = solve(fitting(usable, estimate.get(), FAR));
        }
        return estimate;
    }

    static List<SteadyStretch> fitting(List<SteadyStretch> stretches, SecondOrder term, double times) {
        double[] misfits =
                stretches.stream().mapToDouble(s -> s.misfitDeg(term)).sorted().toArray();
        double limit = misfits.length == 0 ? 0 : times * misfits[misfits.length / 2];
        return stretches.stream().filter(s -> s.misfitDeg(term) <= limit).toList();
    }

    private static Optional<SecondOrder> solve(List<SteadyStretch> stretches) {
        double ss = 0;
        double sc = 0;
        double cc = 0;
        double sa = 0;
        double ca = 0;
        double aa = 0;
        for (SteadyStretch stretch : stretches) {
            for (int i = 0; i < Stretches.KNOTS; i++) {
                double s = stretch.sin2[i];
                double c = stretch.cos2[i];
                double a = stretch.angleDeg[i];
                ss += s * s;
                sc += s * c;
                cc += c * c;
                sa += s * a;
                ca += c * a;
                aa += a * a;
            }
        }
        double determinant = ss * cc - sc * sc;
        if (stretches.size() < FEWEST || !(determinant > 0)) {
            return Optional.empty();
        }
        double sin2 = (sa * cc - ca * sc) / determinant;
        double cos2 = (ca * ss - sa * sc) / determinant;
        // each knot stands in two overlapping stretches: half as many are independent
        double freedom = Math.max(1, stretches.size() * (Stretches.KNOTS - 4) / 2.0 - 2);
        double residual = Math.sqrt(Math.max(0, aa - sin2 * sa - cos2 * ca) / 2 / freedom);
        double error = residual * Math.sqrt(2 * Math.max(ss, cc) / determinant);
        if (!(error <= LARGEST_ERROR_DEG) || !(residual <= LARGEST_RESIDUAL_DEG)) {
            return Optional.empty();
        }
        return Optional.of(new SecondOrder(sin2, cos2, residual, error, stretches.size()));
    }
}
