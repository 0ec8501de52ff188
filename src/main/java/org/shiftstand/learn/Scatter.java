package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.apache.commons.math3.distribution.FDistribution;
import org.shiftstand.shift.Measure;
import org.shiftstand.stats.BrownForsythe;
import org.shiftstand.stats.Holm;
import org.shiftstand.stats.Sample;

/**
 * Values of one measure by row and unit, and how they scatter: pooled within row and unit, and between units of a row (one-way
 * random effects, pooled over rows; a negative component is 0).
 */
final class Scatter {
    /** Of the ratio of variances; own choice, held to by CoverageTest. */
    private static final double RATIO_CONFIDENCE = 0.90;

    private final Measure measure;
    private final Map<String, Map<Integer, List<Double>>> rows = new TreeMap<>();
    private final Map<String, Integer> order = new java.util.HashMap<>();

    Scatter(Measure measure) {
        this.measure = measure;
    }

    void add(String row, int unit, double value) {
        order.putIfAbsent(row, order.size());
        rows.computeIfAbsent(row, k -> new TreeMap<>())
                .computeIfAbsent(unit, k -> new ArrayList<>())
                .add(value);
    }

    boolean isEmpty() {
        return rows.isEmpty();
    }

    /** @param floor scatter below this is of the measuring, and no row is called uneven for it; base unit */
    Variation variation(double floor, double alpha) {
        double within = 0;
        int withinFreedom = 0;
        double between = 0;
        int betweenFreedom = 0;
        double replicates = 0; // Σ over rows of (units − 1) × n0
        int units = (int) rows.values().stream()
                .flatMap(row -> row.keySet().stream())
                .distinct()
                .count();
        int values = 0;
        for (Map<Integer, List<Double>> row : rows.values()) {
            int n = row.values().stream().mapToInt(List::size).sum();
            double squares = 0;
            double all = row.values().stream()
                    .flatMap(List::stream)
                    .mapToDouble(v -> v)
                    .average()
                    .orElseThrow();
            for (List<Double> cell : row.values()) {
                double mean = mean(cell);
                within +=
                        cell.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
                withinFreedom += cell.size() - 1;
                between += cell.size() * (mean - all) * (mean - all);
                squares += (double) cell.size() * cell.size();
            }
            betweenFreedom += row.size() - 1;
            replicates += n - squares / n;
            values += n;
        }
        double w = withinFreedom > 0 ? within / withinFreedom : 0;
        double perRow = values / (double) rows.size();
        if (betweenFreedom == 0) {
            return variation(w, withinFreedom, units, OptionalDouble.empty(), w, withinFreedom, perRow, floor, alpha);
        }
        double b = between / betweenFreedom;
        double n0 = replicates / betweenFreedom;
        double component = Math.max(0, (b - w) / n0);
        if (units < Variation.LEAST_UNITS) {
            return variation(
                    w,
                    withinFreedom,
                    units,
                    OptionalDouble.of(Math.sqrt(component)),
                    w,
                    withinFreedom,
                    perRow,
                    floor,
                    alpha);
        }
        // variance of one shift of any unit: component + within = MSb/n0 + (1 − 1/n0) MSw; its freedom and what a mean
        // is worth
        // by Satterthwaite at a cautious ratio of the two components
        double rest = Math.max(0, 1 - 1 / n0);
        double total = b / n0 + rest * w;
        double ratio = cautiousRatio(b, w, n0, units - 1.0, withinFreedom);
        if (!Double.isFinite(ratio)) {
            return variation(
                    w,
                    withinFreedom,
                    units,
                    OptionalDouble.of(Math.sqrt(component)),
                    total,
                    units - 1.0,
                    units,
                    floor,
                    alpha);
        }
        double freedom =
                (ratio + 1) * (ratio + 1) / (Math.pow(ratio + 1 / n0, 2) / (units - 1.0) + rest * rest / withinFreedom);
        double worth = units * (ratio + 1) / (ratio + 1 / n0);
        return variation(
                w, withinFreedom, units, OptionalDouble.of(Math.sqrt(component)), total, freedom, worth, floor, alpha);
    }

    /**
     * Upper limit of the ratio of variance between units to that within: the ratio itself is too uncertain with few units, and
     * taken as it is gives bounds that hold too seldom. The idea is that of Mee (1984), Technometrics 26, 251, cited from memory. Units differ alike in all
     * rows as the cautious case, so that rows add nothing to its freedom.
     */
    private static double cautiousRatio(double b, double w, double n0, double betweenFreedom, double withinFreedom) {
        if (!(w > 0) || !(withinFreedom > 0)) {
            return Double.POSITIVE_INFINITY;
        }
        double lowest = new FDistribution(null, betweenFreedom, withinFreedom)
                .inverseCumulativeProbability(1 - RATIO_CONFIDENCE);
        return Math.max(0, (b / w / lowest - 1) / n0);
    }

    private Variation variation(
            double within,
            double withinFreedom,
            int units,
            OptionalDouble between,
            double total,
            double totalFreedom,
            double worth,
            double floor,
            double alpha) {
        double sd = Math.sqrt(within);
        return new Variation(
                measure,
                sd,
                withinFreedom,
                units,
                between,
                Math.sqrt(total),
                totalFreedom,
                worth,
                uneven(Math.max(floor, sd), alpha));
    }

    /** Rows that scatter more than all others together, allowing for how many rows there are. */
    private List<String> uneven(double least, double alpha) {
        List<String> names = new ArrayList<>(rows.keySet());
        names.sort(java.util.Comparator.comparingInt(name -> order.getOrDefault(name, 0)));
        List<String> tried = new ArrayList<>();
        List<Double> p = new ArrayList<>();
        for (String name : names) {
            double[] own = centred(name);
            double[] others = names.stream()
                    .filter(other -> !other.equals(name))
                    .flatMapToDouble(other -> java.util.Arrays.stream(centred(other)))
                    .toArray();
            if (own.length >= 3 && others.length >= 3) {
                tried.add(name);
                double sd = Sample.of(own).standardDeviation().orElse(0);
                double value = BrownForsythe.of(List.of(Sample.of(own), Sample.of(others)))
                        .pValue();
                p.add(sd > 1.2 * least && !Double.isNaN(value) ? value : 1.0);
            }
        }
        double[] adjusted = Holm.adjusted(p.stream().mapToDouble(v -> v).toArray());
        List<String> found = new ArrayList<>();
        for (int i = 0; i < tried.size(); i++) {
            if (adjusted[i] < alpha) {
                found.add(tried.get(i));
            }
        }
        return found;
    }

    private double[] centred(String name) {
        return rows.getOrDefault(name, Map.of()).values().stream()
                .flatMapToDouble(cell -> {
                    double mean = mean(cell);
                    return cell.stream().mapToDouble(v -> v - mean);
                })
                .toArray();
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(v -> v).average().orElseThrow();
    }
}
