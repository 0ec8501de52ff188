package org.shiftstand.learn.compare;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.shiftstand.spec.ComparedGroup;
import org.shiftstand.stats.Equivalence;
import org.shiftstand.stats.Sample;

/** The values of one group in one run, by cell: shifts onto one sprocket from one side. A final class since it carries arrays. */
final class Series {
    private final List<double[]> cells;

    private Series(List<double[]> cells) {
        this.cells = cells;
    }

    /**
     * One for each group, only of cells that all of them have: else a cell that misses on one side would look like a change.
     */
    static List<Series> common(List<ComparedGroup> groups) {
        Set<String> shared = new HashSet<>();
        for (int i = 0; i < groups.size(); i++) {
            List<String> names =
                    groups.get(i).cells().stream().map(ComparedGroup.Cell::name).toList();
            if (i == 0) {
                shared.addAll(names);
            } else {
                shared.retainAll(names);
            }
        }
        return groups.stream()
                .map(group -> new Series(group.cells().stream()
                        .filter(cell -> shared.contains(cell.name()))
                        .map(ComparedGroup.Cell::values)
                        .toList()))
                .toList();
    }

    int n() {
        return cells.stream().mapToInt(cell -> cell.length).sum();
    }

    List<double[]> cells() {
        return cells;
    }

    /** Each cell with the same weight. */
    double mean() {
        return cells.stream()
                .mapToDouble(cell -> Sample.of(cell).mean().orElseThrow())
                .average()
                .orElseThrow();
    }

    List<Sample> samples() {
        return cells.stream().map(Sample::of).toList();
    }

    /**
     * The mean with its error from the scatter within cells.
     *
     * @param share effective over actual number of values
     */
    Equivalence.Estimated estimated(double share) {
        double sd = Sample.pooledStandardDeviation(samples()).orElse(0);
        double perCell = cells.stream().mapToDouble(cell -> 1.0 / cell.length).sum();
        double variance = sd * sd * perCell / ((double) cells.size() * cells.size());
        double values = n() * share;
        return new Equivalence.Estimated(mean(), variance / share, Math.max(values - cells.size(), 0.5));
    }

    /** Each value less the median of its cell, all cells after one another. */
    double[] centred() {
        return cells.stream()
                .map(Series::centred)
                .flatMapToDouble(Arrays::stream)
                .toArray();
    }

    /** Distances from the median of the cell, cell by cell. */
    List<double[]> distances() {
        List<double[]> distances = new ArrayList<>();
        for (double[] cell : cells) {
            distances.add(Arrays.stream(centred(cell)).map(Math::abs).toArray());
        }
        return distances;
    }

    private static double[] centred(double[] cell) {
        double median = Sample.of(cell).median().orElseThrow();
        return Arrays.stream(cell).map(value -> value - median).toArray();
    }
}
