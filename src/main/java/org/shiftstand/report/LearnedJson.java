package org.shiftstand.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.learn.CurrentSignature;
import org.shiftstand.learn.Dwell;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.FirmwareTable;
import org.shiftstand.learn.LearnOptions;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedPosition;
import org.shiftstand.learn.LearnedSource;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.OvertravelPattern;
import org.shiftstand.learn.Proof;
import org.shiftstand.learn.SprocketCount;
import org.shiftstand.learn.StoppingBias;
import org.shiftstand.learn.Undecided;
import org.shiftstand.learn.Variation;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Verdict;

/**
 * {@code learned.json}: everything that was learned of a drive, and the firmware table in whole numbers, as one JSON document,
 * format 1, by the schema {@code specs/schema/learned.schema.json}.
 *
 * <p>Angles in degrees, times in seconds, currents in amperes. A gap in the table, and an interval that is not known, is
 * {@code null}. The same bytes for the same {@code Learned}. Later versions add fields, never rename or drop them.
 */
public final class LearnedJson {
    /** Version of the document's form. */
    public static final int FORMAT = 1;

    private final JsonWriter json;

    private LearnedJson(JsonWriter json) {
        this.json = json;
    }

    /**
     * Writes in UTF-8; flushes, does not close.
     *
     * @param firmware empty where a number does not fit
     * @param proofs one a source; none where there is no draft spec
     */
    public static void write(Learned learned, Optional<FirmwareTable> firmware, List<Proof> proofs, OutputStream out)
            throws IOException {
        Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8));
        try {
            new LearnedJson(new JsonWriter(writer)).document(learned, firmware, proofs);
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
        writer.flush();
    }

    private void document(Learned learned, Optional<FirmwareTable> firmware, List<Proof> proofs) {
        json.object().field("format", FORMAT).field("name", learned.options().name());
        options(learned.options());
        json.field("settleBandDeg", learned.bandDeg()).field("measurementDeg", learned.measurementDeg());
        json.array("sources");
        learned.sources().forEach(this::source);
        json.endArray().texts("units", learned.units());
        sprockets(learned.sprockets());
        stopping(learned.stopping());
        json.array("positions");
        learned.positions().forEach(this::position);
        json.endArray().array("rows");
        learned.steps().forEach(this::step);
        json.endArray().array("jumps");
        learned.jumps().forEach(this::step);
        json.endArray();
        dwell("dwell", learned.hold());
        dwell("restDwell", learned.restHold());
        estimated("wakeUpErrorDeg", learned.wakeUpError());
        json.array("variations");
        learned.variations().forEach(this::variation);
        json.endArray().array("currentSignatures");
        learned.signatures().forEach(this::signature);
        json.endArray().array("undecided");
        learned.undecided().forEach(this::undecided);
        json.endArray();
        firmware.ifPresentOrElse(this::firmware, () -> json.nothing("firmware"));
        json.array("proofs");
        proofs.forEach(this::proof);
        json.endArray().texts("notices", learned.notices()).field("tool", Tool.NAME_AND_VERSION);
        json.endObject().end();
    }

    private void options(LearnOptions options) {
        json.field("coverage", options.coverage())
                .field("confidence", options.confidence())
                .field("unseenRate", options.unseenRate());
        json.object("margins");
        options.margins().forEach((measure, margin) -> json.field(measure.key(), margin));
        json.endObject();
    }

    private void source(LearnedSource source) {
        json.object()
                .field("name", source.name())
                .field("sha256", source.sha256())
                .field("unit", source.unit())
                .texts("identity", source.identity())
                .field("shifts", source.shifts())
                .field("cycles", source.cycles())
                .field("learned", source.learned())
                .field("heldBack", source.heldBack());
        json.object("leftOut");
        source.leftOut().forEach((why, n) -> json.field(why, n.longValue()));
        json.endObject()
                .field("firstSprocket", source.firstSprocket())
                .field("lastSprocket", source.lastSprocket())
                .field("numbering", source.numbering())
                .field("sense", source.sense())
                .endObject();
    }

    private void sprockets(SprocketCount count) {
        json.object("sprockets")
                .field("seen", count.seen())
                .field("turnsOutboard", count.turnsOutboard())
                .field("turnsInboard", count.turnsInboard())
                .field("refusedOutboard", count.refusedOutboard())
                .field("refusedInboard", count.refusedInboard())
                .field("confidence", count.confidence())
                .endObject();
    }

    private void stopping(StoppingBias bias) {
        json.object("stoppingBias")
                .field("known", bias.known())
                .field("deg", bias.known() ? OptionalDouble.of(bias.biasDeg()) : OptionalDouble.empty())
                .field("halfWidthDeg", finite(bias.halfWidthDeg()))
                .field("reversalDeg", bias.reversalDeg())
                .field("from", bias.from())
                .endObject();
    }

    private void position(LearnedPosition position) {
        json.object()
                .field("sprocket", position.sprocket())
                .field("programmedDeg", finite(position.programmedDeg()))
                .field("halfWidthDeg", finite(position.halfWidthDeg()));
        estimated("inboardDeg", position.inboard());
        estimated("outboardDeg", position.outboard());
        json.field("pitchMm", position.pitchMm()).endObject();
    }

    private void step(LearnedStep step) {
        json.object()
                .field("from", step.from())
                .field("to", step.to())
                .field("direction", step.direction().word())
                .field("learned", step.learned())
                .field("heldBack", step.heldBack());
        json.object("outcomes");
        step.outcomes().forEach((outcome, n) -> json.field(outcome.word(), n.longValue()));
        json.endObject();
        overtravel(step.overtravel());
        json.object("measures");
        step.measures().forEach((measure, estimated) -> estimated(measure.key(), estimated));
        json.endObject().texts("rang", step.rang()).endObject();
    }

    private void overtravel(OvertravelPattern pattern) {
        json.object("overtravel");
        pattern.match(new OvertravelPattern.Cases<JsonWriter>() {
            @Override
            public JsonWriter programmed(OvertravelPattern.Programmed row) {
                json.field("pattern", "programmed");
                values(row.programmedDeg(), row.programmedHalfWidthDeg());
                estimated("achievedDeg", row.achieved());
                return json.field("largestUnseenRate", row.largestUnseenRate());
            }

            @Override
            public JsonWriter none(OvertravelPattern.None row) {
                json.field("pattern", "none");
                values(0, 0);
                return json.field("shifts", row.n()).field("largestUnseenRate", row.largestUnseenRate());
            }

            @Override
            public JsonWriter irregular(OvertravelPattern.Irregular row) {
                json.field("pattern", "irregular").nothing("programmedDeg").nothing("halfWidthDeg");
                estimated("achievedDeg", row.achieved());
                return json.field("programmedWhereAnyDeg", finite(row.programmedDeg()))
                        .field("with", row.with())
                        .field("without", row.without())
                        .field("rateLow", row.rateLow())
                        .field("rateHigh", row.rateHigh())
                        .field("follows", row.follows());
            }

            @Override
            public JsonWriter gap(OvertravelPattern.Gap row) {
                return json.field("pattern", "gap")
                        .nothing("programmedDeg")
                        .nothing("halfWidthDeg")
                        .field("reason", row.reason());
            }
        });
        json.endObject();
    }

    private void values(double programmedDeg, double halfWidthDeg) {
        json.field("programmedDeg", programmedDeg).field("halfWidthDeg", finite(halfWidthDeg));
    }

    private void dwell(String name, Dwell dwell) {
        json.object(name).field("afterArrivalWithinDeg", dwell.withinDeg());
        estimated("overallS", dwell.overall());
        json.field(
                        "common",
                        switch (dwell.common()) {
                            case COMMON -> "common";
                            case DIFFERENT -> "different";
                            case NOT_DECIDED -> "not-decided";
                        })
                .field("toleranceS", dwell.toleranceS())
                .texts("apart", dwell.apart())
                .endObject();
    }

    private void variation(Variation variation) {
        json.object()
                .field("measure", variation.measure().key())
                .field("withinSd", variation.withinSd())
                .field("withinFreedom", variation.withinFreedom())
                .field("units", variation.units())
                .field("betweenSd", variation.betweenSd())
                .field("totalSd", variation.totalSd())
                .field("totalFreedom", finite(variation.totalFreedom()))
                .field("meanWorth", finite(variation.meanWorth()))
                .field("ofTheKind", variation.ofTheKind())
                .texts("uneven", variation.uneven())
                .endObject();
    }

    private void signature(CurrentSignature signature) {
        json.object()
                .field("direction", signature.direction().word())
                .field("overtravel", signature.overtravel())
                .field("shifts", signature.shifts())
                .field("stepS", signature.stepS())
                .decimals("meanA", signature.meanA())
                .decimals("sdA", signature.sdA())
                .endObject();
    }

    private void undecided(Undecided undecided) {
        json.object()
                .field("what", undecided.what())
                .field("why", undecided.why())
                .field("moreShifts", undecided.moreShifts())
                .endObject();
    }

    private void firmware(FirmwareTable table) {
        json.object("firmware")
                .field("unitsPerTurn", table.fixed().unitsPerTurn())
                .field("unit", table.fixed().words())
                .places("positions", table.positions())
                .places("overtravelInboard", table.inboard())
                .places("overtravelOutboard", table.outboard())
                .field("dwellAfterArrivalWithinDeg", table.dwellWithinDeg())
                .field("dwellMs", table.dwellMs())
                .field("restDwellAfterArrivalWithinDeg", table.restDwellWithinDeg())
                .field("restDwellMs", table.restDwellMs())
                .places("dwellByRowMs", table.rows())
                .endObject();
    }

    private void proof(Proof proof) {
        json.object()
                .field("source", proof.source())
                .field("shifts", proof.shifts())
                .field("verdict", proof.verdict().map(Verdict::word))
                .field("reason", proof.reason());
        json.array("clauses");
        for (ClauseResult clause : proof.clauses()) {
            json.object()
                    .field("id", clause.clause().id())
                    .field("verdict", clause.verdict().word())
                    .field("reason", clause.reason())
                    .field("unit", clause.unit().symbol())
                    .field("value", clause.value())
                    .field("margin", clause.margin())
                    .endObject();
        }
        json.endArray().texts("notShown", proof.notShown()).endObject();
    }

    private void estimated(String name, Estimated estimated) {
        json.object(name);
        estimated.match(new Estimated.Cases<JsonWriter>() {
            @Override
            public JsonWriter estimate(Estimated.Estimate e) {
                return json.field("n", e.n())
                        .field("mean", e.mean())
                        .field("halfWidth", finite(e.halfWidth()))
                        .field("sd", e.sd())
                        .field("least", e.least())
                        .field("greatest", e.greatest());
            }

            @Override
            public JsonWriter notEstimated(String reason) {
                return json.field("n", 0).nothing("mean").field("reason", reason);
            }
        });
        json.endObject();
    }

    private static OptionalDouble finite(double value) {
        return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
    }
}
