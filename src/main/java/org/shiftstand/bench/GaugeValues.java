package org.shiftstand.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.Problems;
import org.shiftstand.stats.CrossedStudy;

/**
 * The values of a whole gauge study: every unit in every mount, as often in each.
 *
 * @param units names in the order of their first value; at least 2
 * @param mounts likewise
 * @param shifts how many shifts one value is the mean of; of values that differ, the most
 * @param study the values in that order
 */
public record GaugeValues(List<String> units, List<String> mounts, int shifts, CrossedStudy study) {
    public GaugeValues {
        units = List.copyOf(units);
        mounts = List.copyOf(mounts);
    }

    /**
     * Puts the values in order.
     *
     * @param name of what they come from, for messages
     * @throws BadInput with everything that keeps them from being a study
     */
    public static GaugeValues of(String name, List<GaugeValue> values) {
        List<String> units = values.stream().map(GaugeValue::unit).distinct().toList();
        List<String> mounts = values.stream().map(GaugeValue::mount).distinct().toList();
        Map<List<String>, List<Double>> cells = new LinkedHashMap<>();
        values.forEach(v -> cells.computeIfAbsent(List.of(v.unit(), v.mount()), c -> new ArrayList<>())
                .add(v.value()));
        int repeats = cells.values().stream().mapToInt(List::size).max().orElse(0);
        var problems = new Problems(name);
        few(problems, "unit", units);
        few(problems, "mount", mounts);
        if (repeats < 2) {
            say(
                    problems,
                    "has 1 value at most of a unit in a mount; expected 2 repeats or more, since nothing else tells the"
                            + " rig's own spread");
        }
        for (String unit : units) {
            for (String mount : mounts) {
                int there = cells.getOrDefault(List.of(unit, mount), List.of()).size();
                if (there < repeats) {
                    say(
                            problems,
                            "unit " + unit + ", mount " + mount + ": "
                                    + (there == 0 ? "no value" : there + " of " + repeats + " values")
                                    + "; expected as many as in the others, " + repeats
                                    + ". Measure what is missing, or take that unit or mount out");
                }
            }
        }
        if (problems.none()
                && values.stream().mapToDouble(GaugeValue::value).distinct().count() == 1) {
            say(
                    problems,
                    "all " + values.size() + " values are " + values.get(0).value()
                            + "; expected values that differ: a reading this coarse tells nothing of the rig. Look at the"
                            + " columns, or read to more digits");
        }
        problems.check();
        double[][][] ordered = new double[units.size()][mounts.size()][];
        for (int i = 0; i < units.size(); i++) {
            for (int j = 0; j < mounts.size(); j++) {
                ordered[i][j] = cells.getOrDefault(List.of(units.get(i), mounts.get(j)), List.of()).stream()
                        .mapToDouble(Double::doubleValue)
                        .toArray();
            }
        }
        int shifts = values.stream().mapToInt(GaugeValue::shifts).max().orElse(1);
        return new GaugeValues(units, mounts, shifts, CrossedStudy.of(ordered));
    }

    /** The same, each value being the mean of so many shifts. */
    public GaugeValues ofMeans(int of) {
        return new GaugeValues(units, mounts, of, study);
    }

    private static void few(Problems problems, String what, List<String> names) {
        if (names.size() < 2) {
            say(
                    problems,
                    "has " + (names.isEmpty() ? "no " + what : "one " + what + " only, " + names.get(0))
                            + "; expected 2 " + what + "s or more, 10 units and 3 mounts by common practice");
        }
    }

    private static void say(Problems problems, String text) {
        problems.add(new Problem(problems.file(), 0, 0, text));
    }
}
