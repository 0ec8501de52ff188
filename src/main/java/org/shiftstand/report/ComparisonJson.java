package org.shiftstand.report;

import java.util.List;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.ComparedRun;
import org.shiftstand.learn.compare.Comparison;

/** Writes a comparison as {@code specs/schema/comparison.schema.json} has it. */
public final class ComparisonJson {
    private static final int FORMAT = 1;

    private ComparisonJson() {}

    /** Writes the document; flushing and closing are the caller's. */
    public static void write(Comparison comparison, Appendable out) {
        JsonWriter json = new JsonWriter(out).object();
        json.field("format", FORMAT)
                .field("verdict", comparison.change().key())
                .field("reason", comparison.reason())
                .field("confidence", comparison.confidence())
                .field("power", comparison.power());
        if (comparison.spec().isPresent()) {
            Comparison.SpecName spec = comparison.spec().get();
            json.object("spec")
                    .field("name", spec.name())
                    .field("version", spec.version())
                    .field("sha256", spec.sha256())
                    .endObject();
        } else {
            json.nothing("spec");
        }
        runs(json, "base", comparison.sides().base());
        runs(json, "candidate", comparison.sides().candidate());
        json.array("unlike");
        comparison
                .unlike()
                .forEach(unlike -> json.object()
                        .field("aspect", unlike.aspect().word())
                        .field("words", unlike.words())
                        .endObject());
        json.endArray();
        json.object("counts");
        json.field("equivalent", comparison.count(Change.EQUIVALENT))
                .field("different", comparison.count(Change.DIFFERENT))
                .field("notDecided", comparison.count(Change.NOT_DECIDED))
                .field("noMargin", comparison.told().size())
                .endObject();
        rows(json, "judged", comparison.judged(), comparison.alpha());
        rows(json, "told", comparison.told(), comparison.alpha());
        json.texts("notices", comparison.notices()).endObject().end();
    }

    private static void runs(JsonWriter json, String side, List<ComparedRun> runs) {
        json.array(side);
        for (ComparedRun run : runs) {
            json.object()
                    .field("name", run.name())
                    .field("kind", run.measurement().source().kind())
                    .field("sha256", run.measurement().source().sha256())
                    .field("firmware", run.firmware())
                    .field("began", run.began().map(Object::toString))
                    .field("shifts", run.table().shifts().size());
            json.object("setUp");
            run.setUp().forEach((aspect, value) -> json.field(aspect.word(), value));
            json.endObject().endObject();
        }
        json.endArray();
    }

    private static void rows(JsonWriter json, String name, List<Compared> rows, double alpha) {
        json.array(name);
        for (Compared row : rows) {
            json.object()
                    .field("clause", row.clause())
                    .field("measure", row.measure())
                    .field("of", row.of().word())
                    .texts("key", row.key())
                    .field("verdict", row.change().key())
                    .field("notTheSame", row.notTheSame(alpha))
                    .field("unit", row.unit().symbol())
                    .field("ratio", row.ratio());
            side(json, "base", row.base());
            side(json, "candidate", row.candidate());
            json.field("difference", row.difference())
                    .field("low", row.low())
                    .field("high", row.high())
                    .field("margin", row.margin())
                    .field("pEquivalent", row.pEquivalent())
                    .field("pDifference", row.pDifference())
                    .field("pDifferenceHolm", row.pHolm())
                    .field("effective", row.effective())
                    .field("power", row.power())
                    .field("moreShifts", row.moreShifts())
                    .field("reason", row.reason())
                    .endObject();
        }
        json.endArray();
    }

    private static void side(JsonWriter json, String name, Compared.Side side) {
        json.object(name).field("n", side.n()).field("value", side.value()).endObject();
    }
}
