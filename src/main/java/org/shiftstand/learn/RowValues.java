package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** Values of one measure over the learning shifts of all sources, by row and unit. */
final class RowValues {
    private final Map<String, Map<String, List<Double>>> rows = new LinkedHashMap<>();

    /**
     * @param takes which shifts
     * @param byApproach whether shifts of a row with overtravel and without are rows of their own
     */
    static RowValues of(List<Remeasured> sources, Measure measure, Predicate<Shift> takes, boolean byApproach) {
        RowValues values = new RowValues();
        for (Remeasured source : sources) {
            for (Shift shift : source.learning()) {
                if (takes.test(shift)) {
                    String row = shift.from() + "→" + shift.to() + (byApproach && overtravelled(shift) ? " past" : "");
                    shift.get(measure).number().ifPresent(v -> values.add(row, source.unit(), v));
                }
            }
        }
        return values;
    }

    static boolean overtravelled(Shift shift) {
        return shift.get(Measure.OVERTRAVEL).number().orElse(0) > 0;
    }

    void add(String row, String unit, double value) {
        rows.computeIfAbsent(row, k -> new LinkedHashMap<>())
                .computeIfAbsent(unit, k -> new ArrayList<>())
                .add(value);
    }

    boolean isEmpty() {
        return rows.isEmpty();
    }

    int rows() {
        return rows.size();
    }

    int count() {
        return (int) rows.values().stream()
                .flatMap(row -> row.values().stream())
                .mapToLong(List::size)
                .sum();
    }

    double least() {
        return all().min().orElseThrow();
    }

    double greatest() {
        return all().max().orElseThrow();
    }

    private java.util.stream.DoubleStream all() {
        return rows.values().stream()
                .flatMap(row -> row.values().stream())
                .flatMap(List::stream)
                .mapToDouble(v -> v);
    }

    /**
     * What a tolerance interval is laid about: with three units or more each row, its mean over unit means; else each row of
     * each unit, since units may differ in a way that two cannot tell.
     */
    List<Centre> centres(boolean ofTheKind) {
        List<Centre> centres = new ArrayList<>();
        rows.forEach((name, units) -> {
            if (ofTheKind) {
                centres.add(Centre.of(name, List.copyOf(units.values())));
            } else {
                units.values().forEach(values -> centres.add(Centre.of(name, List.of(values))));
            }
        });
        return centres;
    }

    /** Spread within row and unit, where nobody has worked it out before. */
    Variation pooled(Measure measure, int units) {
        double squares = 0;
        double freedom = 0;
        for (Centre centre : centres(false)) {
            squares += centre.squares();
            freedom += centre.freedom();
        }
        double sd = freedom > 0 ? Math.sqrt(squares / freedom) : 0;
        return new Variation(measure, sd, freedom, units, java.util.OptionalDouble.empty(), sd, freedom, 1, List.of());
    }

    /**
     * A row, or a row of one unit.
     *
     * @param squares sum of squares about unit means
     * @param freedom values less units
     */
    record Centre(String row, int n, double mean, double squares, int freedom) {
        static Centre of(String row, List<List<Double>> units) {
            double sum = 0;
            double squares = 0;
            int n = 0;
            for (List<Double> values : units) {
                double mean = values.stream().mapToDouble(v -> v).average().orElseThrow();
                sum += mean;
                squares += values.stream()
                        .mapToDouble(v -> (v - mean) * (v - mean))
                        .sum();
                n += values.size();
            }
            return new Centre(row, n, sum / units.size(), squares, n - units.size());
        }
    }
}
