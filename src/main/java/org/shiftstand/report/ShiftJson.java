package org.shiftstand.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import org.shiftstand.judge.Measurement;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;

/**
 * The shift table as one JSON document, format 1: what {@code measure --json} gives.
 *
 * <p>Names as in the CSV; numbers in full; what is not measured or not applicable is {@code null}, the former with its
 * reason under {@code notes}. Deterministic like {@link ResultJson}.
 */
public final class ShiftJson {
    /** Version of the document's form. */
    public static final int FORMAT = 1;

    private ShiftJson() {}

    /** Writes in UTF-8; flushes, does not close. */
    public static void write(Measurement measured, OutputStream out) throws IOException {
        Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8));
        try {
            document(measured, new JsonWriter(writer));
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
        writer.flush();
    }

    private static void document(Measurement measured, JsonWriter json) {
        json.object();
        json.field("format", FORMAT);
        json.object("source")
                .field("kind", measured.source().kind())
                .field("name", measured.source().name())
                .field("sha256", measured.source().sha256())
                .endObject();
        measured.profile().ifPresentOrElse(profile -> ResultJson.profile(profile, json), () -> json.nothing("profile"));
        ResultJson.table(measured.table(), json);
        ResultJson.breaks(measured.table(), json);
        ResultJson.correction(measured.track().correction(), json);
        json.array("shifts");
        measured.table().shifts().forEach(shift -> shift(shift, json));
        json.endArray();
        json.texts("notices", measured.notices());
        json.field("tool", Tool.NAME_AND_VERSION);
        json.endObject().end();
    }

    private static void shift(Shift shift, JsonWriter json) {
        json.object();
        json.field("shift", shift.number());
        json.field("cycle", shift.cycle());
        json.field("from", shift.from());
        json.field("to", shift.to());
        json.field("direction", shift.direction().word());
        json.field("outcome", shift.outcome().word());
        json.field("evidence", shift.evidence().word());
        json.field("displaced", shift.displaced());
        json.field("step", shift.step());
        json.field("supply_v", shift.supplyV());
        for (Measure measure : Measure.values()) {
            json.field(measure.column(), shift.get(measure).number());
        }
        json.object("notes");
        for (Measure measure : Measure.values()) {
            if (shift.get(measure) instanceof Measured.NotMeasured missing) {
                json.field(measure.column(), missing.reason());
            }
        }
        json.endObject();
        json.texts("remarks", shift.notes());
        json.endObject();
    }
}
