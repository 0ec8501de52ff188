package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Assessment;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.GroupResult;

/** How sure a group of a clause is, in one line: uncertainty, guard band or limits, probability and risk. */
final class Certainty {
    private Certainty() {}

    /** Of the worst group; empty where nothing is known beside the value. */
    static String of(ClauseResult result) {
        return of(result, result.worst().map(GroupResult::assessment).orElse(Assessment.NONE));
    }

    /**
     * Empty where nothing is known beside the value.
     *
     * @param shown of one group of the clause
     */
    static String of(ClauseResult result, Assessment shown) {
        Decision decision = result.clause().decision();
        List<String> parts = new ArrayList<>();
        if (shown.expandedUncertainty().isPresent()) {
            parts.add("expanded uncertainty " + near(shown.expandedUncertainty(), result.unit()) + " ("
                    + percent(decision.confidence()) + ")");
        }
        if (decision.rule() == Decision.Rule.GUARDED && shown.guardBand().isPresent()) {
            parts.add("guard band " + near(shown.guardBand(), result.unit()));
        }
        if (shown.lowLimit().isPresent() || shown.highLimit().isPresent()) {
            parts.add("long-run value " + limits(shown, result.unit()));
        }
        if (shown.conformanceProbability().isPresent()) {
            parts.add("meets the bound with "
                    + chance(shown.conformanceProbability().getAsDouble()));
        }
        if (shown.consumersRisk().isPresent()) {
            parts.add("accepted wrongly with " + chance(shown.consumersRisk().getAsDouble()));
        }
        if (shown.producersRisk().isPresent()) {
            parts.add("rejected wrongly with " + chance(shown.producersRisk().getAsDouble()));
        }
        String decided = decision.equals(Decision.USUAL)
                ? ""
                : "rule " + decision.rule().word() + ", claim "
                        + decision.claim().word();
        if (!decided.isEmpty()) {
            parts.add(0, decided);
        }
        return String.join("; ", parts);
    }

    private static String limits(Assessment shown, Unit unit) {
        if (shown.lowLimit().isPresent() && shown.highLimit().isPresent()) {
            return near(shown.lowLimit(), unit) + " to " + near(shown.highLimit(), unit);
        }
        return shown.lowLimit().isPresent()
                ? "at least " + near(shown.lowLimit(), unit)
                : "at most " + near(shown.highLimit(), unit);
    }

    /** Three significant digits, but never fewer than before the point. */
    private static String near(OptionalDouble value, Unit unit) {
        double v = value.getAsDouble();
        int before = v == 0 ? 1 : 1 + (int) Math.floor(Math.log10(Math.abs(v)));
        return Figures.of(v, unit, Math.max(0, 3 - before));
    }

    private static String percent(double share) {
        return Figures.asWritten(share * 100) + Figures.NO_BREAK + "%";
    }

    private static String chance(double probability) {
        double percent = probability * 100;
        return percent < 0.01
                ? "<" + Figures.NO_BREAK + "0.01" + Figures.NO_BREAK + "%"
                : percent > 99.99
                        ? ">" + Figures.NO_BREAK + "99.99" + Figures.NO_BREAK + "%"
                        : Figures.bare(percent, 2) + Figures.NO_BREAK + "%";
    }
}
