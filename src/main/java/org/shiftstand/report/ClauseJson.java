package org.shiftstand.report;

import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Assessment;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Statistic;

/** One clause of {@code result.json}: what was demanded, what came of it, and each of its groups. */
final class ClauseJson {
    private ClauseJson() {}

    static void write(ClauseResult result, JsonWriter json) {
        Clause clause = result.clause();
        json.object();
        json.field("id", clause.id());
        json.field("verdict", result.verdict().word());
        json.field("reason", result.reason());
        json.field("measure", clause.measureKey());
        statistic(clause.statistic(), json);
        json.field("unit", result.unit().symbol());
        bound("bound", clause.bound(), result.unit(), json);
        decision(clause.decision(), json);
        json.field("value", result.value());
        json.field("margin", result.margin());
        assessment(result.worst().map(GroupResult::assessment).orElse(Assessment.NONE), json);
        json.field("because", clause.because());
        json.texts("remarks", result.remarks());
        json.array("groups");
        result.groups().forEach(group -> group(group, json));
        json.endArray().endObject();
    }

    private static void statistic(Statistic statistic, JsonWriter json) {
        json.field("statistic", statistic.kind().word());
        json.field(
                "fraction",
                statistic.kind() == Statistic.Kind.PERCENTILE
                        ? OptionalDouble.of(statistic.fraction())
                        : OptionalDouble.empty());
        Optional<Statistic.Settings.Coverage> coverage = of(statistic, Statistic.Settings.Coverage.class);
        if (coverage.isPresent()) {
            json.object("tolerance")
                    .field("coverage", coverage.get().coverage())
                    .field("confidence", coverage.get().confidence())
                    .endObject();
        }
        of(statistic, Statistic.Settings.Limits.class).ifPresent(limits -> {
            json.field("index", limits.index().word());
            bound("limits", limits.limits(), limits.limits().unit(), json);
        });
        of(statistic, Statistic.Settings.Broken.class)
                .ifPresent(broken ->
                        bound("limits", broken.limits(), broken.limits().unit(), json));
        of(statistic, Statistic.Settings.Significance.class)
                .ifPresent(significance -> json.field("significance", significance.alpha()));
    }

    private static <T> Optional<T> of(Statistic statistic, Class<T> settings) {
        return settings.isInstance(statistic.settings())
                ? Optional.of(settings.cast(statistic.settings()))
                : Optional.empty();
    }

    private static void bound(String name, Bound bound, Unit unit, JsonWriter json) {
        json.object(name)
                .field("atLeast", written(bound.atLeast(), unit))
                .field("atMost", written(bound.atMost(), unit));
        if (!name.equals("bound")) {
            json.field("unit", unit.symbol());
        }
        json.endObject();
    }

    private static void decision(Decision decision, JsonWriter json) {
        json.field("rule", decision.rule().word());
        json.field("claim", decision.claim().word());
        json.field("confidence", decision.confidence());
        json.field("falseAccept", decision.falseAccept());
    }

    private static OptionalDouble written(OptionalDouble base, Unit unit) {
        return base.isEmpty() ? base : OptionalDouble.of(Quantity.written(base.getAsDouble(), unit));
    }

    private static void group(GroupResult group, JsonWriter json) {
        json.object();
        json.object("key");
        group.key().forEach((name, value) -> key(name, value, json));
        json.endObject();
        json.field("n", group.n());
        json.field("notMeasured", group.notMeasured());
        json.field("notApplicable", group.notApplicable());
        json.field("displaced", group.displaced());
        json.field("notMade", group.notMade());
        json.field("value", group.value());
        json.field("margin", group.margin());
        if (group.assessment().equals(Assessment.NONE)) {
            json.nothing("assessment");
        } else {
            json.object("assessment");
            assessment(group.assessment(), json);
            json.endObject();
        }
        json.field("verdict", group.verdict().word());
        json.field("reason", group.reason());
        json.numbers("shifts", group.shifts());
        json.endObject();
    }

    /** Each {@code null} where it does not apply or is not known. */
    private static void assessment(Assessment shown, JsonWriter json) {
        json.field("standardUncertainty", shown.standardUncertainty());
        json.field("expandedUncertainty", shown.expandedUncertainty());
        json.field("coverageFactor", shown.coverageFactor());
        json.field("degreesOfFreedom", shown.degreesOfFreedom());
        json.field("guardBand", shown.guardBand());
        json.field("conformanceProbability", shown.conformanceProbability());
        json.field("consumersRisk", shown.consumersRisk());
        json.field("producersRisk", shown.producersRisk());
        json.field("lowLimit", shown.lowLimit());
        json.field("highLimit", shown.highLimit());
        json.field("effectiveN", shown.effectiveN());
        json.field("pValue", shown.pValue());
    }

    /** Sprockets, cycles and shifts are numbers; directions and pairs are words. */
    static void key(String name, String value, JsonWriter json) {
        if (value.chars().allMatch(c -> c >= '0' && c <= '9') && value.length() < 10) {
            json.field(name, Long.parseLong(value));
        } else {
            json.field(name, value);
        }
    }
}
