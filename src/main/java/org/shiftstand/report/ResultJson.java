package org.shiftstand.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import org.shiftstand.angle.Correction;
import org.shiftstand.angle.HigherOrder;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Resumption;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Spec;

/**
 * {@code result.json}: a judgement as one JSON document, format 1, by the schema {@code specs/schema/result.schema.json}.
 *
 * <p>What is not measured is {@code null}. The same judgement gives the same bytes: keys in a fixed order, numbers with
 * the fewest digits that read back as the same double. Later versions add fields, never rename or drop them.
 */
public final class ResultJson {
    /** Version of the document's form. */
    public static final int FORMAT = 1;

    private ResultJson() {}

    /** Writes in UTF-8; flushes, does not close. */
    public static void write(Judgement judgement, OutputStream out) throws IOException {
        Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8));
        try {
            document(judgement, new JsonWriter(writer));
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
        writer.flush();
    }

    private static void document(Judgement judgement, JsonWriter json) {
        json.object();
        json.field("format", FORMAT);
        json.field("verdict", judgement.verdict().word());
        json.field("reason", judgement.reason());
        json.field("unit", judgement.unit());
        json.texts("identity", judgement.identity());
        json.object("source")
                .field("kind", judgement.source().kind())
                .field("name", judgement.source().name())
                .field("sha256", judgement.source().sha256())
                .endObject();
        spec(judgement.spec(), json);
        judgement.profile().ifPresentOrElse(profile -> profile(profile, json), () -> json.nothing("profile"));
        json.field("rule", judgement.spec().rule());
        json.field("claim", judgement.spec().claim());
        json.field("confidence", judgement.spec().decision().confidence());
        json.field("falseAccept", judgement.spec().decision().falseAccept());
        table(judgement.table(), json);
        correction(judgement.correction(), json);
        UncertaintyJson.write(judgement, json);
        json.field("limits", judgement.limitsFrom());
        json.field("runEnd", judgement.runEnd());
        breaks(judgement.table(), json);
        json.object("counts");
        judgement.counts().forEach((outcome, n) -> json.field(outcome, n));
        json.endObject();
        json.array("clauses");
        judgement.clauses().forEach(clause -> ClauseJson.write(clause, json));
        json.endArray();
        DriftJson.write(judgement.drift(), json);
        PositioningJson.write(judgement, json);
        json.texts("notices", judgement.notices());
        json.field("tool", Tool.NAME_AND_VERSION);
        ReportJson.write(judgement, json);
        json.endObject().end();
    }

    private static void spec(Spec spec, JsonWriter json) {
        json.object("spec")
                .field("name", spec.name())
                .field("version", spec.version())
                .field("title", spec.title())
                .field("sha256", spec.sha256())
                .endObject();
    }

    static void profile(Profile profile, JsonWriter json) {
        json.object("profile")
                .field("name", profile.name())
                .field("version", profile.version())
                .field("sprockets", profile.sprockets())
                .field("sha256", profile.sha256())
                .endObject();
    }

    /** What holds for all shifts: sense, numbering, origin, settle band. */
    static void table(ShiftTable table, JsonWriter json) {
        json.object("sense")
                .field("value", table.sense())
                .field("from", table.senseFrom())
                .endObject();
        json.field("sprockets", table.sprockets());
        json.field("numbering", table.numbering());
        json.object("origin")
                .field("measured", table.originMeasured())
                .field("alignmentDeg", table.alignmentDeg())
                .endObject();
        json.field("turnLostFrom", table.turnLostFrom());
        json.field("settleBandDeg", table.bandDeg());
    }

    /** Where the run was broken off and gone on with. */
    static void breaks(ShiftTable table, JsonWriter json) {
        json.array("breaks");
        for (Resumption resumption : table.resumptions()) {
            json.object()
                    .field("fromS", resumption.fromS())
                    .field("toS", resumption.toS())
                    .field("cause", resumption.cause())
                    .field("brokenOff", resumption.brokenOff().isPresent() ? 1 : 0)
                    .field("turns", resumption.turns())
                    .endObject();
        }
        json.endArray();
    }

    /** The correction of the Hall pair, with residual and uncertainty. */
    static void correction(Correction correction, JsonWriter json) {
        json.object("correction")
                .field("cosOffset", correction.cosOffset())
                .field("sinOffset", correction.sinOffset())
                .field("gainRatio", correction.gainRatio())
                .field("phaseDeg", correction.phaseDeg())
                .field("radius", correction.radius())
                .field("sin2Deg", correction.sin2Deg())
                .field("cos2Deg", correction.cos2Deg())
                .field("ellipseFrom", correction.ellipseFrom())
                .field("secondOrderFrom", correction.secondOrderFrom())
                .field("residualDeg", correction.residualDeg())
                .field("uncertaintyDeg", correction.uncertaintyDeg());
        higherOrder(correction.higher(), json);
        json.field("offsetBlocks", correction.drift().centres().size())
                .field("offsetDriftPart", correction.drift().range() / correction.radius());
        json.field("cosClippedBelow", finite(correction.rails().cosLow()))
                .field("cosClippedAbove", finite(correction.rails().cosHigh()))
                .field("sinClippedBelow", finite(correction.rails().sinLow()))
                .field("sinClippedAbove", finite(correction.rails().sinHigh()));
        json.field("turnsPerCycle", correction.turnsPerCycle());
        json.endObject();
    }

    private static double finite(double rail) {
        return Double.isFinite(rail) ? rail : Double.NaN;
    }

    private static void higherOrder(HigherOrder higher, JsonWriter json) {
        json.field("higherOrderFrom", higher.isLearned() ? "fit" : "none")
                .field("sin3Deg", higher.sin3Deg())
                .field("cos3Deg", higher.cos3Deg())
                .field("sin4Deg", higher.sin4Deg())
                .field("cos4Deg", higher.cos4Deg())
                .field("heldOutSecondOrderDeg", higher.residualBeforeDeg())
                .field("heldOutHigherOrderDeg", higher.residualAfterDeg());
    }
}
