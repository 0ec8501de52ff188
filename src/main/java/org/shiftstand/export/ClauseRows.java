package org.shiftstand.export;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.shiftstand.export.Column.Kind;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Assessment;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.Statistic;
import org.shiftstand.spec.Statistic.Settings;

/** The clauses of one run as {@code result.json} has them: a row for each clause, then one for each of its groups. */
final class ClauseRows {
    static final List<Column> COLUMNS = RunFacts.before(List.of(
            text("clause", "id of the clause"),
            whole("clause_number", "its place in the spec, from 1"),
            text("level", "clause: the whole clause, with its worst group's figures; group: one of its groups"),
            whole("group_number", "place of the group in its clause, from 1; 0 at level clause"),
            text("group_key", "JSON object: what the shifts of the group have in common; null where nothing"),
            whole("sprocket", "of the group, where grouped by it"),
            text("direction", "inboard or outboard, where grouped by it"),
            text("pair", "from→to, where grouped by it"),
            whole("cycle", "of the group, where grouped by it"),
            whole("shift", "of the group, where each shift is one"),
            text("verdict", "pass, fail or no-verdict"),
            text("reason", "why, in words"),
            text("measure", "what is judged, as specs write it"),
            text("statistic", "which statistic of it"),
            number("fraction", "of a percentile"),
            number("tolerance_coverage", "of a tolerance interval"),
            number("tolerance_confidence", "of a tolerance interval"),
            text("capability_index", "cp, cpk, pp or ppk"),
            number("limits_at_least", "limits of the statistic's own, in limits_unit"),
            number("limits_at_most", "likewise"),
            text("limits_unit", "unit of those"),
            number("significance", "of a change point"),
            text("quantity_unit", "unit of value, margin, bound and uncertainties of this row, such as deg or ms"),
            number("at_least", "lower bound, in quantity_unit"),
            number("at_most", "upper bound, in quantity_unit"),
            text("rule", "simple or guarded"),
            text("claim", "observed or process"),
            number("confidence", "of the decision, 0 to 1"),
            number("false_accept", "wanted risk at the limit, 0 to 1"),
            number("value", "the statistic, in quantity_unit; null where there is none: reason says why"),
            number("margin", "distance inside the bound, negative outside, in quantity_unit"),
            whole("n", "measured shifts; null at level clause, like the next four"),
            whole("not_measured", "shifts that should have a value and have none"),
            whole("not_applicable", "shifts for which there is no such measure"),
            whole("displaced", "shifts left out because they did not start on their sprocket"),
            whole("not_made", "planned shifts that the run did not reach"),
            number("standard_uncertainty", "of measurement, in quantity_unit"),
            number("expanded_uncertainty", "of measurement, in quantity_unit"),
            number("coverage_factor", "expanded over standard uncertainty"),
            number("degrees_of_freedom", "effective; null where infinite"),
            number("guard_band", "by which the bound moves, in quantity_unit"),
            number("conformance_probability", "that the value meets the bound, 0 to 1"),
            number("consumers_risk", "of a pass, 0 to 1"),
            number("producers_risk", "of a fail, 0 to 1"),
            number("low_limit", "one-sided confidence limit of the long-run value, in quantity_unit"),
            number("high_limit", "likewise"),
            number("effective_n", "shifts that the values are worth where they hang together"),
            number("p_value", "of the long-run value being inside, by Holm over the groups"),
            text("broken_shifts", "JSON array: numbers of the shifts behind a fail; null where none"),
            text("because", "the author's reason for the clause"),
            text("remarks", "what a reader must know to weigh the verdict; level clause only")));

    private final Judgement judgement;
    private final RunFacts facts;

    ClauseRows(Judgement judgement, RunFacts facts) {
        this.judgement = judgement;
        this.facts = facts;
    }

    private static Column text(String name, String meaning) {
        return new Column(name, Kind.TEXT, "", meaning);
    }

    private static Column whole(String name, String meaning) {
        return new Column(name, Kind.WHOLE, "", meaning);
    }

    private static Column number(String name, String meaning) {
        return new Column(name, Kind.NUMBER, "", meaning);
    }

    void write(ParquetFile file) throws IOException {
        int number = 0;
        for (ClauseResult result : judgement.clauses()) {
            int place = ++number;
            file.row(cells -> clauseRow(result, place, cells));
            for (int i = 0; i < result.groups().size(); i++) {
                GroupResult group = result.groups().get(i);
                int groupPlace = i + 1;
                file.row(cells -> groupRow(result, place, group, groupPlace, cells));
            }
        }
    }

    private void clauseRow(ClauseResult result, int place, Cells cells) {
        begin(result, place, "clause", 0, Map.of(), cells);
        cells.text(result.verdict().word()).text(result.reason());
        demanded(result, cells);
        cells.number(result.value()).number(result.margin());
        for (int i = 0; i < 5; i++) {
            cells.whole(OptionalInt.empty());
        }
        assessment(result.worst().map(GroupResult::assessment).orElse(Assessment.NONE), cells);
        cells.text(Optional.empty());
        end(result.clause(), result.remarks(), cells);
    }

    private void groupRow(ClauseResult result, int place, GroupResult group, int groupPlace, Cells cells) {
        begin(result, place, "group", groupPlace, group.key(), cells);
        cells.text(group.verdict().word()).text(group.reason());
        demanded(result, cells);
        cells.number(group.value()).number(group.margin());
        cells.whole(group.n()).whole(group.notMeasured()).whole(group.notApplicable());
        cells.whole(group.displaced()).whole(group.notMade());
        assessment(group.assessment(), cells);
        cells.text(
                Optional.of(group.shifts()).filter(shifts -> !shifts.isEmpty()).map(ClauseRows::numbers));
        end(result.clause(), List.of(), cells);
    }

    private void begin(
            ClauseResult result, int place, String level, int groupPlace, Map<String, String> key, Cells cells) {
        facts.tell(cells);
        cells.text(result.clause().id()).whole(place).text(level).whole(groupPlace);
        cells.text(JsonCell.object(key));
        cells.whole(whole(key, Per.SPROCKET.word())).text(word(key, Per.DIRECTION.word()));
        cells.text(word(key, Per.PAIR.word())).whole(whole(key, Per.CYCLE.word()));
        cells.whole(whole(key, "shift"));
    }

    private static Optional<String> word(Map<String, String> key, String name) {
        return Optional.ofNullable(key.get(name));
    }

    private static OptionalInt whole(Map<String, String> key, String name) {
        return word(key, name).map(Integer::parseInt).map(OptionalInt::of).orElse(OptionalInt.empty());
    }

    private static void demanded(ClauseResult result, Cells cells) {
        Clause clause = result.clause();
        cells.text(clause.measureKey());
        statistic(clause.statistic(), cells);
        cells.text(result.unit().symbol());
        cells.number(written(clause.bound().atLeast(), result.unit()));
        cells.number(written(clause.bound().atMost(), result.unit()));
        Decision decision = clause.decision();
        cells.text(decision.rule().word()).text(decision.claim().word());
        cells.number(decision.confidence()).number(decision.falseAccept());
    }

    private static void statistic(Statistic statistic, Cells cells) {
        boolean percentile = statistic.kind() == Statistic.Kind.PERCENTILE;
        cells.text(statistic.kind().word()).number(percentile ? statistic.fraction() : Double.NaN);
        Optional<Settings.Coverage> coverage = settings(statistic, Settings.Coverage.class);
        cells.number(coverage.map(Settings.Coverage::coverage).orElse(Double.NaN));
        cells.number(coverage.map(Settings.Coverage::confidence).orElse(Double.NaN));
        Optional<Settings.Limits> limits = settings(statistic, Settings.Limits.class);
        cells.text(limits.map(found -> found.index().word()));
        limits(
                limits.map(Settings.Limits::limits)
                        .or(() -> settings(statistic, Settings.Broken.class).map(Settings.Broken::limits)),
                cells);
        cells.number(settings(statistic, Settings.Significance.class)
                .map(Settings.Significance::alpha)
                .orElse(Double.NaN));
    }

    private static void limits(Optional<Bound> limits, Cells cells) {
        cells.number(limits.map(bound -> written(bound.atLeast(), bound.unit())).orElse(OptionalDouble.empty()));
        cells.number(limits.map(bound -> written(bound.atMost(), bound.unit())).orElse(OptionalDouble.empty()));
        cells.text(limits.map(bound -> bound.unit().symbol()));
    }

    private static <T> Optional<T> settings(Statistic statistic, Class<T> kind) {
        return kind.isInstance(statistic.settings()) ? Optional.of(kind.cast(statistic.settings())) : Optional.empty();
    }

    private static OptionalDouble written(OptionalDouble base, Unit unit) {
        return base.isEmpty() ? base : OptionalDouble.of(Quantity.written(base.getAsDouble(), unit));
    }

    private static void assessment(Assessment shown, Cells cells) {
        Consumer<OptionalDouble> number = cells::number;
        List.of(
                        shown.standardUncertainty(),
                        shown.expandedUncertainty(),
                        shown.coverageFactor(),
                        shown.degreesOfFreedom(),
                        shown.guardBand(),
                        shown.conformanceProbability(),
                        shown.consumersRisk(),
                        shown.producersRisk(),
                        shown.lowLimit(),
                        shown.highLimit(),
                        shown.effectiveN(),
                        shown.pValue())
                .forEach(number);
    }

    private static String numbers(List<Integer> shifts) {
        return shifts.stream().map(String::valueOf).collect(Collectors.joining(",", "[", "]"));
    }

    private static void end(Clause clause, List<String> remarks, Cells cells) {
        cells.text(Optional.of(clause.because()).filter(because -> !because.isEmpty()));
        cells.text(Optional.of(String.join("; ", remarks)).filter(joined -> !joined.isEmpty()));
    }
}
