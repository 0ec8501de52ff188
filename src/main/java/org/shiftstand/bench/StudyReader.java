package org.shiftstand.bench;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.Dates;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Quantity;

/** Reads what gauge studies found, in a rig description. */
final class StudyReader {
    private static final String EXAMPLE = "{ on: 2026-09-14, measure: landing-error, units: 10, mounts: 3, repeats: 3,"
            + " repeatability: 0.2 deg, reproducibility: 0.3 deg }";
    private static final int MOST = 100_000;

    private StudyReader() {}

    /** One study or several; what is wrong is noted and left out. */
    static List<StudyResult> read(Node node) {
        return node.oneOrMany().stream()
                .flatMap(item -> item.table(EXAMPLE).stream())
                .flatMap(table -> one(table).stream())
                .toList();
    }

    private static Optional<StudyResult> one(Table table) {
        table.only(
                "on",
                "measure",
                "units",
                "mounts",
                "repeats",
                "shifts",
                "repeatability",
                "reproducibility",
                "repeatability-used");
        Optional<LocalDate> on = table.need("on", "a date such as 2026-09-14").flatMap(Dates::day);
        Optional<String> measure = table.need("measure", "the measure that was studied, such as landing-error")
                .flatMap(node -> node.oneOf("measure", JudgedMeasures.keys()));
        Optional<Integer> units = count(table, "units", 2);
        Optional<Integer> mounts = count(table, "mounts", 2);
        Optional<Integer> repeats = count(table, "repeats", 2);
        Optional<Integer> shifts = table.find("shifts").isEmpty() ? Optional.of(1) : count(table, "shifts", 1);
        Optional<Quantity> repeatability = deviation(table, "repeatability", measure);
        Optional<Quantity> reproducibility = deviation(table, "reproducibility", measure);
        Optional<Boolean> used = table.find("repeatability-used").isEmpty()
                ? Optional.of(true)
                : table.find("repeatability-used").flatMap(Node::yesOrNo);
        if (on.isEmpty()
                || measure.isEmpty()
                || units.isEmpty()
                || mounts.isEmpty()
                || repeats.isEmpty()
                || shifts.isEmpty()
                || repeatability.isEmpty()
                || reproducibility.isEmpty()
                || used.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new StudyResult(
                on.get(),
                measure.get(),
                units.get(),
                mounts.get(),
                repeats.get(),
                shifts.get(),
                repeatability.get().base(),
                reproducibility.get().base(),
                used.get()));
    }

    private static Optional<Integer> count(Table table, String key, int least) {
        return table.need(key, "a whole number, " + least + " or more").flatMap(node -> node.whole(least, MOST));
    }

    /** As a standard deviation, 0 or more, in the measure's unit. */
    private static Optional<Quantity> deviation(Table table, String key, Optional<String> measure) {
        Optional<Node> node = table.need(key, "a standard deviation with its unit");
        return measure.flatMap(m ->
                node.flatMap(n -> n.quantity(JudgedMeasures.dimension(m)).filter(q -> {
                    if (q.value() < 0) {
                        n.problem(key + " is " + q + ", below 0; expected a standard deviation of 0 or more");
                    }
                    return q.value() >= 0;
                })));
    }
}
