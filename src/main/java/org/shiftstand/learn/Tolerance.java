package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.quantity.Unit;
import org.shiftstand.stats.ToleranceFactor;

/**
 * Limits that hold the stated share of shifts of every row of a group: mean ± k·sd of each row, the farthest ends taken.
 *
 * <p>k is exact for a mean of few shifts with a spread pooled over many ({@link ToleranceFactor}); a row that scatters more
 * than the others has its own. Below three units each row of each unit has its own mean.
 *
 * @param k the largest of the rows
 * @param sd that goes with it, base unit
 * @param freedom of that sd
 * @param leastMean least of the rows' means
 * @param greatestMean greatest of them
 */
record Tolerance(
        double low,
        double high,
        double k,
        double sd,
        double freedom,
        double leastMean,
        double greatestMean,
        RowValues values,
        Unit unit) {
    /** With fewer degrees of freedom a spread says next to nothing, and its factor is beyond use; own choice. */
    static final double LEAST_FREEDOM = 2;

    enum Sides {
        BOTH,
        UPPER,
        LOWER
    }

    /** Empty without values, or where too few shifts are of one row to tell spread. */
    static Optional<Tolerance> of(RowValues values, Variation variation, LearnOptions options, Sides sides) {
        boolean kind = variation.ofTheKind();
        List<Limits> limits = new ArrayList<>();
        for (RowValues.Centre centre : values.centres(kind)) {
            boolean own = uneven(variation, centre) && centre.freedom() >= LEAST_FREEDOM;
            double pooledSd = kind ? variation.totalSd() : variation.withinSd();
            double freedom = own ? centre.freedom() : kind ? variation.totalFreedom() : variation.withinFreedom();
            if (freedom < LEAST_FREEDOM) {
                return Optional.empty();
            }
            double sd = own ? Math.max(pooledSd, Math.sqrt(centre.squares() / centre.freedom())) : pooledSd;
            double worth = kind ? Math.min(centre.n(), variation.meanWorth()) : centre.n();
            double k = sides == Sides.BOTH
                    ? ToleranceFactor.twoSided(worth, freedom, options.coverage(), options.confidence())
                    : ToleranceFactor.oneSided(worth, freedom, options.coverage(), options.confidence());
            limits.add(new Limits(centre.mean(), k, sd, freedom));
        }
        return limits.isEmpty() ? Optional.empty() : Optional.of(farthest(limits, values, variation));
    }

    private static boolean uneven(Variation variation, RowValues.Centre centre) {
        return variation.uneven().contains(centre.row());
    }

    private static Tolerance farthest(List<Limits> limits, RowValues values, Variation variation) {
        Limits widest = limits.stream()
                .max(java.util.Comparator.comparingDouble(l -> l.k() * l.sd()))
                .orElseThrow();
        return new Tolerance(
                limits.stream()
                        .mapToDouble(l -> l.mean() - l.k() * l.sd())
                        .min()
                        .orElseThrow(),
                limits.stream()
                        .mapToDouble(l -> l.mean() + l.k() * l.sd())
                        .max()
                        .orElseThrow(),
                widest.k(),
                widest.sd(),
                widest.freedom(),
                limits.stream().mapToDouble(Limits::mean).min().orElseThrow(),
                limits.stream().mapToDouble(Limits::mean).max().orElseThrow(),
                values,
                variation.measure().unit());
    }

    /** {@code 72 shifts in 18 rows of 1 unit: means 129 ms to 199 ms, k 4.33 × sd 3 ms (54 degrees of freedom)}. */
    String because(int units) {
        String rows = values.rows() == 1 ? "" : " in " + values.rows() + " rows";
        String means = Figure.of(leastMean, unit).equals(Figure.of(greatestMean, unit))
                ? "mean " + Figure.of(leastMean, unit)
                : "means " + Figure.of(leastMean, unit) + " to " + Figure.of(greatestMean, unit);
        return Provenance.shifts(values.count()) + rows + " of " + units + (units == 1 ? " unit: " : " units: ") + means
                + ", k " + Figure.fixed(k, 2) + " × sd " + Figure.fine(sd, unit) + " (" + Figure.fixed(freedom, 1)
                + " degrees of freedom)";
    }

    private record Limits(double mean, double k, double sd, double freedom) {}
}
