package org.shiftstand.report;

import java.util.OptionalDouble;
import org.shiftstand.judge.ClauseAbility;
import org.shiftstand.judge.GaugeOutcome;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Spec;
import org.shiftstand.stats.AverageAndRange;
import org.shiftstand.stats.CrossedAnova;
import org.shiftstand.stats.CrossedAnova.Line;
import org.shiftstand.stats.GaugeVariation;

/** A gauge study as JSON: numbers in the measure's base unit, shares 0 to 1. */
public final class GaugeStudyJson {
    private GaugeStudyJson() {}

    /** Writes the whole of it. */
    public static void write(GaugeOutcome study, Appendable out) {
        JsonWriter json = new JsonWriter(out)
                .object()
                .field("format", 1)
                .field("measure", study.measure().map(Measure::key))
                .field("unit", study.measure().map(m -> m.unit().symbol()))
                .texts("units", study.values().units())
                .texts("mounts", study.values().mounts())
                .field("repeats", study.values().study().repeats())
                .field("shifts_a_value", study.values().shifts())
                .field("mean", study.values().study().mean());
        anova(json, study.anova());
        variation(json.object("by_variance"), study.anova().variation());
        json.endObject();
        ranges(json, study.ranges());
        json.field("repeats_spread_is_the_rigs", study.repeatabilityIsTheRigs());
        json.field("spec", study.spec().map(Spec::name)).array("clauses");
        study.abilities().forEach(ability -> ability(json, ability));
        json.endArray().endObject().end();
    }

    private static void anova(JsonWriter json, CrossedAnova a) {
        json.object("analysis_of_variance");
        line(json, "units", a.unit()).field("f", finite(a.unitF())).endObject();
        line(json, "mounts", a.mount()).field("f", finite(a.mountF())).endObject();
        line(json, "units_with_mounts", a.interaction())
                .field("f", finite(a.interactionF()))
                .field("p", a.interactionP())
                .field("taken_into_repeats", a.pools())
                .endObject();
        line(json, "repeats", a.error()).endObject();
        json.field("total_squares", a.totalSquares()).endObject();
    }

    /** An F without any spread below it is no number. */
    private static OptionalDouble finite(double f) {
        return Double.isFinite(f) ? OptionalDouble.of(f) : OptionalDouble.empty();
    }

    private static JsonWriter line(JsonWriter json, String name, Line line) {
        return json.object(name)
                .field("squares", line.squares())
                .field("freedom", line.freedom())
                .field("mean_square", line.mean());
    }

    private static void ranges(JsonWriter json, AverageAndRange ranges) {
        json.object("by_ranges");
        variation(json, ranges.variation());
        json.field("mean_range", ranges.meanRange())
                .field("mounts_apart", ranges.mountDifference())
                .field("units_apart", ranges.unitRange())
                .field("k1", ranges.k1())
                .field("k2", ranges.k2())
                .field("k3", ranges.k3())
                .endObject();
    }

    private static void variation(JsonWriter json, GaugeVariation v) {
        part(json, "repeatability", v, v.repeatability());
        part(json, "reproducibility", v, v.reproducibility());
        part(json, "units_with_mounts", v, v.interaction());
        part(json, "gauge", v, v.gauge());
        part(json, "units", v, v.unit());
        part(json, "total", v, v.total());
        json.field("distinct_categories_raw", v.rawDistinctCategories())
                .field("distinct_categories", v.distinctCategories());
    }

    private static void part(JsonWriter json, String name, GaugeVariation v, double sd) {
        double share = v.shareOfTotal(sd);
        json.object(name)
                .field("sd", sd)
                .field("share_of_study", share)
                .field("share_of_variance", share * share)
                .endObject();
    }

    private static void ability(JsonWriter json, ClauseAbility a) {
        json.object()
                .field("clause", a.clause().id())
                .field("word", a.word().word())
                .field("gauge", a.gauge())
                .field("expanded", a.expanded())
                .field("width", a.width())
                .field("held_against", a.held())
                .field("share", a.share().stream().filter(Double::isFinite).findFirst())
                .endObject();
    }
}
