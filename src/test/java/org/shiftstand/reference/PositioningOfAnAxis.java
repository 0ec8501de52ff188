package org.shiftstand.reference;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.stats.Positioning;
import org.shiftstand.stats.Positioning.Approach;
import org.shiftstand.stats.Positioning.Position;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** Five positions, five runs from either side. */
final class PositioningOfAnAxis implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-POS-01",
                "ISO 230-2 definitions on a public acceptance test of an axis, 2021 (open data)",
                "VERIFIED; the report prints another R and E than the definitions give");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode json = Reference.json("reference/stats/iso230_axis1_expected.json");
        Positioning axis = axis(Reference.csv("reference/stats/iso230_axis1.csv"));
        figures(comparisons, json.get("expected"), axis, 0.5e-6 + 1e-9); // printed and computed to a nanometre or so
        JsonNode printed = json.get("printed_in_the_report");
        comparisons.figure("B, as printed", printed.get("B").asDouble(), axis.reversal(), 0.5e-5 + 1e-9);
        comparisons.figure("M, as printed", printed.get("M").asDouble(), axis.meanDeviation(), 0.5e-5 + 1e-9);
        // the report used readings that it prints rounded: 1e-5 is left
        comparisons.figure("A, as printed", printed.get("A").asDouble(), axis.accuracy(Approach.BOTH), 1.05e-5);
    }

    static void figures(Comparisons comparisons, JsonNode expected, Positioning ours, double within) {
        for (int i = 0; i < ours.positions().size(); i++) {
            Position position = ours.positions().get(i);
            String of = "position " + (i + 1) + ", ";
            comparisons.figure(
                    of + "x̄↑", at(expected, "mean_fwd", i), position.forward().mean(), within);
            comparisons.figure(
                    of + "x̄↓", at(expected, "mean_bwd", i), position.backward().mean(), within);
            comparisons.figure(
                    of + "s↑", at(expected, "s_fwd", i), position.forward().standardDeviation(), within);
            comparisons.figure(
                    of + "s↓", at(expected, "s_bwd", i), position.backward().standardDeviation(), within);
            comparisons.figure(of + "B", at(expected, "B_i", i), position.reversal(), within);
            comparisons.figure(of + "x̄", at(expected, "mean_bidirectional", i), position.bidirectionalMean(), within);
            comparisons.figure(
                    of + "R↑", at(expected, "R_i_fwd", i), position.repeatability(Approach.FORWARD), 4 * within);
            comparisons.figure(
                    of + "R↓", at(expected, "R_i_bwd", i), position.repeatability(Approach.BACKWARD), 4 * within);
            comparisons.figure(of + "R", at(expected, "R_i", i), position.repeatability(Approach.BOTH), 4 * within);
        }
        whole(comparisons, "B", expected.get("B"), ours.reversal(), within);
        whole(comparisons, "B̄", expected.get("B_mean"), ours.meanReversal(), within);
        whole(comparisons, "M", expected.get("M"), ours.meanDeviation(), within);
        for (Approach approach : Approach.values()) {
            String arrow = switch (approach) {
                case FORWARD -> "↑";
                case BACKWARD -> "↓";
                case BOTH -> "";
            };
            String key = switch (approach) {
                case FORWARD -> "_fwd";
                case BACKWARD -> "_bwd";
                case BOTH -> "";
            };
            whole(comparisons, "R" + arrow, expected.get("R" + key), ours.repeatability(approach), 4 * within);
            whole(comparisons, "E" + arrow, expected.get("E" + key), ours.systematicDeviation(approach), within);
            whole(comparisons, "A" + arrow, expected.get("A" + key), ours.accuracy(approach), 4 * within);
        }
    }

    private static void whole(
            Comparisons comparisons, String what, JsonNode expected, OptionalDouble ours, double within) {
        comparisons.figure(what, expected.asDouble(), ours, within);
    }

    private static double at(JsonNode expected, String key, int i) {
        return expected.get(key).get(i).asDouble();
    }

    private static Positioning axis(Reference table) {
        double[] number = table.column("i");
        double[] target = table.column("target_mm");
        double[] attained = table.column("position_mm");
        List<String> direction = table.words("direction");
        List<Position> positions = new ArrayList<>();
        for (int i = 1; i <= number[number.length - 1]; i++) {
            List<Double> forward = new ArrayList<>();
            List<Double> backward = new ArrayList<>();
            for (int row = 0; row < number.length; row++) {
                if (number[row] == i) {
                    (direction.get(row).equals("fwd") ? forward : backward).add(attained[row] - target[row]);
                }
            }
            positions.add(new Position(sample(forward), sample(backward)));
        }
        return new Positioning(positions);
    }

    private static Sample sample(List<Double> values) {
        return Sample.of(values.stream().mapToDouble(Double::doubleValue).toArray());
    }
}
