package org.shiftstand.report;

import java.util.OptionalDouble;
import org.shiftstand.bench.Budget.Ranked;
import org.shiftstand.judge.Judgement;

/** The uncertainty budgets in {@code result.json}. */
final class UncertaintyJson {
    private UncertaintyJson() {}

    /** The field {@code uncertainty}: an object, or null without a rig description. */
    static void write(Judgement judgement, JsonWriter json) {
        if (judgement.budgets().isEmpty()) {
            json.nothing("uncertainty");
            return;
        }
        json.object("uncertainty")
                .field("confidence", StatedUncertainty.CONFIDENCE)
                .array("measures");
        StatedUncertainty.of(judgement).forEach(line -> line(line, json));
        json.endArray().endObject();
    }

    private static void line(StatedUncertainty.Line line, JsonWriter json) {
        json.object()
                .field("measure", line.measure().key())
                .field("unit", line.measure().unit().symbol())
                .field("at", line.at())
                .field("standard", line.combined().standard())
                .field("effectiveDegreesOfFreedom", finite(line.combined().freedom()))
                .field("coverageFactor", line.expanded().factor())
                .field("expanded", line.expanded().expanded())
                .array("contributions");
        line.combined().ranked().forEach(ranked -> contribution(ranked, json));
        json.endArray().endObject();
    }

    private static void contribution(Ranked ranked, JsonWriter json) {
        json.object()
                .field("name", ranked.contribution().name())
                .field("nature", ranked.contribution().nature().word())
                .field("standard", ranked.standard())
                .field("share", ranked.share())
                .field("degreesOfFreedom", finite(ranked.contribution().degreesOfFreedom()))
                .field("source", ranked.contribution().source())
                .endObject();
    }

    /** Infinite degrees of freedom have no number in JSON: null. */
    private static OptionalDouble finite(double freedom) {
        return Double.isInfinite(freedom) ? OptionalDouble.empty() : OptionalDouble.of(freedom);
    }
}
