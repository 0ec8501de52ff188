package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.math3.distribution.FDistribution;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.shiftstand.shift.Measure;

/**
 * Positions, reversal, stopping bias and the captures' origins out of the landings, by weighted least squares over the means
 * of like landings: landing = position + origin + direction × reversal − approach × bias.
 *
 * <p>Reversal and bias are told apart only where both kinds of approach occur; else reversal alone (which then holds both),
 * else neither. The scale of errors is the scatter within like landings, or the lack of fit where that is larger at 5 %. A
 * unit's places differ from those of the kind by an amount that both directions share: of several units, the scale of errors
 * of positions is the lack of fit of whole places, where that is larger.
 */
final class LandingFit {
    /** Below this part of its own length a column is explained by the others. */
    private static final double EXPLAINED = 1e-6;

    private final int sprockets;
    private final int sources;
    private final boolean[] seen;
    private final boolean reversal;
    private final boolean bias;
    private final RealVector solution;
    private final RealMatrix inverse;
    private final double scatterDeg;
    private final Scale scale;
    private final Scale ofPlaces;

    private LandingFit(
            int sprockets,
            int sources,
            boolean[] seen,
            boolean reversal,
            boolean bias,
            RealVector solution,
            RealMatrix inverse,
            Scale scale,
            double scatterDeg,
            Scale ofPlaces) {
        this.sprockets = sprockets;
        this.sources = sources;
        this.seen = seen;
        this.reversal = reversal;
        this.bias = bias;
        this.solution = solution;
        this.inverse = inverse;
        this.scatterDeg = scatterDeg;
        this.scale = scale;
        this.ofPlaces = ofPlaces;
    }

    private record Like(int source, int unit, int to, int direction, int approach) {}

    /** A place of one unit: what its landings share, whichever way they came. */
    private record Place(int unit, int to) {}

    /**
     * Fits.
     *
     * @param shifts to learn from, with measured landings and overtravel
     * @param knownBias where it is given; NaN estimates it
     */
    static LandingFit of(List<SeenShift> shifts, int sprockets, int sources, double knownBias) {
        Map<Like, List<Double>> groups = new LinkedHashMap<>();
        boolean[] seen = new boolean[sprockets];
        for (SeenShift s : shifts) {
            double landing = s.value(Measure.LANDING).orElseThrow();
            double taken = Double.isNaN(knownBias) ? landing : landing + s.approach() * knownBias;
            groups.computeIfAbsent(
                            new Like(s.source(), s.unit(), s.to(), s.sign(), s.approach()), k -> new ArrayList<>())
                    .add(taken);
            seen[s.to() - 1] = true;
        }
        List<Like> keys = List.copyOf(groups.keySet());
        boolean reversal = estimable(keys, seen, sprockets, sources, List.of(), Like::direction);
        boolean bias = Double.isNaN(knownBias)
                && reversal
                && estimable(keys, seen, sprockets, sources, List.of(Like::direction), key -> -key.approach());
        return solve(groups, keys, seen, sprockets, sources, reversal, bias);
    }

    /** Whether a column is more than a mixture of the positions, origins and the columns given. */
    private static boolean estimable(
            List<Like> keys,
            boolean[] seen,
            int sprockets,
            int sources,
            List<java.util.function.ToIntFunction<Like>> beside,
            java.util.function.ToIntFunction<Like> column) {
        if (keys.isEmpty()) {
            return false;
        }
        RealMatrix others = new Array2DRowRealMatrix(keys.size(), sprockets + sources - 1 + beside.size());
        RealVector own = new ArrayRealVector(keys.size());
        for (int g = 0; g < keys.size(); g++) {
            fill(others, g, keys.get(g), sprockets);
            for (int b = 0; b < beside.size(); b++) {
                others.setEntry(g, sprockets + sources - 1 + b, beside.get(b).applyAsInt(keys.get(g)));
            }
            own.setEntry(g, column.applyAsInt(keys.get(g)));
        }
        RealMatrix square = others.transpose().multiply(others);
        ridge(square, seen);
        RealVector explained = others.operate(
                new QRDecomposition(square).getSolver().solve(others.transpose().operate(own)));
        return own.subtract(explained).getNorm() > EXPLAINED * own.getNorm() * Math.sqrt(keys.size());
    }

    /** Places that were not seen get a value of their own, so that the equations stay solvable; it is never used. */
    private static void ridge(RealMatrix square, boolean[] seen) {
        for (int k = 0; k < seen.length; k++) {
            if (!seen[k]) {
                square.addToEntry(k, k, 1);
            }
        }
        for (int i = seen.length; i < square.getColumnDimension(); i++) {
            if (square.getEntry(i, i) == 0) {
                square.setEntry(i, i, 1);
            }
        }
    }

    private static void fill(RealMatrix x, int row, Like key, int sprockets) {
        x.setEntry(row, key.to() - 1, 1);
        if (key.source() > 0) {
            x.setEntry(row, sprockets + key.source() - 1, 1);
        }
    }

    private static LandingFit solve(
            Map<Like, List<Double>> groups,
            List<Like> keys,
            boolean[] seen,
            int sprockets,
            int sources,
            boolean reversal,
            boolean bias) {
        int unknowns = sprockets + sources - 1 + (reversal ? 1 : 0) + (bias ? 1 : 0);
        RealMatrix x = new Array2DRowRealMatrix(Math.max(1, keys.size()), unknowns);
        RealVector y = new ArrayRealVector(Math.max(1, keys.size()));
        double[] weight = new double[Math.max(1, keys.size())];
        double within = 0;
        int withinFreedom = 0;
        for (int g = 0; g < keys.size(); g++) {
            Like key = keys.get(g);
            fill(x, g, key, sprockets);
            if (reversal) {
                x.setEntry(g, sprockets + sources - 1, key.direction());
            }
            if (bias) {
                x.setEntry(g, sprockets + sources, -key.approach());
            }
            List<Double> values = groups.getOrDefault(key, List.of());
            double mean = values.stream().mapToDouble(v -> v).average().orElseThrow();
            y.setEntry(g, mean);
            weight[g] = values.size();
            within += values.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
            withinFreedom += values.size() - 1;
        }
        RealMatrix weighted = x.copy();
        for (int g = 0; g < keys.size(); g++) {
            weighted.setRowVector(g, weighted.getRowVector(g).mapMultiply(weight[g]));
        }
        RealMatrix square = x.transpose().multiply(weighted);
        ridge(square, seen);
        RealMatrix inverse = symmetricInverse(square);
        RealVector solution = inverse.operate(weighted.transpose().operate(y));
        RealVector left = y.subtract(x.operate(solution));
        double lack = 0;
        for (int g = 0; g < keys.size(); g++) {
            lack += weight[g] * left.getEntry(g) * left.getEntry(g);
        }
        int places = 0;
        for (boolean s : seen) {
            places += s ? 1 : 0;
        }
        int lackFreedom = keys.size() - (unknowns - sprockets + places);
        Scale scale = Scale.of(within, withinFreedom, lack, lackFreedom);
        return new LandingFit(
                sprockets,
                sources,
                seen,
                reversal,
                bias,
                solution,
                inverse,
                scale,
                withinFreedom > 0 ? Math.sqrt(within / withinFreedom) : Double.NaN,
                scale.orOfPlaces(keys, weight, left, places));
    }

    private static RealMatrix symmetricInverse(RealMatrix square) {
        EigenDecomposition eigen = new EigenDecomposition(square);
        double[] values = eigen.getRealEigenvalues();
        double largest = 0;
        for (double v : values) {
            largest = Math.max(largest, v);
        }
        RealMatrix inverse = new Array2DRowRealMatrix(values.length, values.length);
        for (int i = 0; i < values.length; i++) {
            if (values[i] > largest * 1e-12) {
                RealVector v = eigen.getEigenvector(i);
                inverse = inverse.add(v.outerProduct(v).scalarMultiply(1 / values[i]));
            }
        }
        return inverse;
    }

    private record Scale(double variance, double freedom) {
        static Scale of(double within, int withinFreedom, double lack, int lackFreedom) {
            double w = withinFreedom > 0 ? within / withinFreedom : Double.NaN;
            double l = lackFreedom > 0 ? lack / lackFreedom : Double.NaN;
            if (Double.isNaN(w)) {
                return Double.isNaN(l) ? new Scale(Double.NaN, 0) : new Scale(l, lackFreedom);
            }
            boolean lacking = !Double.isNaN(l)
                    && l > w
                    && (w == 0
                            || 1 - new FDistribution(null, lackFreedom, withinFreedom).cumulativeProbability(l / w)
                                    < 0.05);
            return lacking ? new Scale(l, lackFreedom) : new Scale(w, withinFreedom);
        }

        /** Of one unit this; of several that of whole places where it is larger. */
        Scale orOfPlaces(List<Like> keys, double[] weight, RealVector left, int places) {
            Map<Place, double[]> own = new LinkedHashMap<>();
            for (int g = 0; g < keys.size(); g++) {
                double[] sums = own.computeIfAbsent(
                        new Place(keys.get(g).unit(), keys.get(g).to()), k -> new double[2]);
                sums[0] += weight[g];
                sums[1] += weight[g] * left.getEntry(g);
            }
            long units = own.keySet().stream().map(Place::unit).distinct().count();
            double placeFreedom = own.size() - places - (units - 1.0);
            if (units < 2 || placeFreedom <= 0) {
                return this;
            }
            double lack =
                    own.values().stream().mapToDouble(s -> s[1] * s[1] / s[0]).sum();
            return lack / placeFreedom > variance || Double.isNaN(variance)
                    ? new Scale(lack / placeFreedom, placeFreedom)
                    : this;
        }
    }

    /** Whether any landing on it was seen. */
    boolean seen(int sprocket) {
        return seen[sprocket - 1];
    }

    double positionDeg(int sprocket) {
        return solution.getEntry(sprocket - 1);
    }

    /** Standard error of the distance between two places. */
    double distanceErrorDeg(int a, int b) {
        int i = a - 1;
        int j = b - 1;
        double spread = inverse.getEntry(i, i) + inverse.getEntry(j, j) - 2 * inverse.getEntry(i, j);
        return Math.sqrt(Math.max(0, spread) * ofPlaces.variance());
    }

    /** Origin of a source against the first. */
    double originDeg(int source) {
        return source == 0 ? 0 : solution.getEntry(sprockets + source - 1);
    }

    boolean reversalKnown() {
        return reversal;
    }

    double reversalDeg() {
        return reversal ? solution.getEntry(sprockets + sources - 1) : 0;
    }

    boolean biasKnown() {
        return bias;
    }

    double biasDeg() {
        return bias ? solution.getEntry(sprockets + sources) : 0;
    }

    double biasErrorDeg() {
        return bias
                ? Math.sqrt(inverse.getEntry(sprockets + sources, sprockets + sources) * scale.variance())
                : Double.NaN;
    }

    /** Within like landings, pooled; NaN where nothing repeats. */
    double scatterDeg() {
        return scatterDeg;
    }

    /** Of the standard error of the bias. */
    double freedom() {
        return scale.freedom();
    }

    /** Of the standard error of a distance between two places. */
    double freedomOfPlaces() {
        return ofPlaces.freedom();
    }
}
