package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;

/** From what something was learned, as lines for the comments of a file. */
final class Provenance {
    private Provenance() {}

    static List<String> lines(Learned learned) {
        List<String> lines = new ArrayList<>();
        lines.add("Learned from captures by 'shiftstand characterise'; nothing here was set by hand:");
        for (LearnedSource source : learned.sources()) {
            lines.add("  " + source.name() + ", unit "
                    + (source.unit().equals(LearnedSource.UNNAMED) ? "not named" : source.unit()) + ": "
                    + source.learned() + " of "
                    + shifts(source.shifts()) + " learned from, " + source.heldBack()
                    + " held back for proving; SHA-256 " + source.sha256());
        }
        lines.add(units(learned));
        lines.add("Settle band " + Figure.deg(learned.bandDeg()) + ", confidence "
                + Figure.percent(learned.options().confidence()) + ". Angles are degrees of the gearbox output shaft.");
        lines.add(stopping(learned.stopping()));
        return lines;
    }

    /** {@code one unit: says nothing of others}, or how many. */
    static String units(Learned learned) {
        int units = learned.units().size();
        if (units == 1) {
            return "One unit: says nothing of others.";
        }
        return units < Variation.LEAST_UNITS
                ? units + " units: says nothing of others, for which at least " + Variation.LEAST_UNITS + " are needed."
                : units + " units.";
    }

    static String stopping(StoppingBias stopping) {
        return stopping.known()
                ? "Stopping bias: the shaft stops " + Figure.deg(stopping.biasDeg()) + " "
                        + Figure.plusMinus(stopping.halfWidthDeg(), org.shiftstand.quantity.Unit.DEG)
                        + " short of its target, taken back here (" + stopping.from() + ")."
                : "Stopping bias: " + stopping.from() + ". Achieved values stand for programmed ones.";
    }

    static String shifts(int n) {
        return n + (n == 1 ? " shift" : " shifts");
    }

    /** As YAML comments: text from file names and the like never ends a line. */
    static String yaml(List<String> lines) {
        StringBuilder text = new StringBuilder();
        lines.forEach(line -> text.append(("# " + plain(line)).stripTrailing()).append('\n'));
        return text.toString();
    }

    /** One line: control and direction characters and line breaks of whatever kind become spaces. */
    static String plain(String text) {
        return text.replaceAll("[\\p{Cntrl}\\p{Cf}\\u2028\\u2029\\uFEFF\\uFFFE\\uFFFF\\p{Cs}]", " ");
    }
}
