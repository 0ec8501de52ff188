package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import org.shiftstand.capture.Recognition;
import org.shiftstand.report.JsonWriter;

/** What was recognised as one JSON document; later versions add fields, never rename them. */
final class ImportJson {
    private static final int FORMAT = 1;

    private ImportJson() {}

    static void write(
            Path file,
            Recognition recognition,
            Optional<ImportedSamples> samples,
            Optional<Path> written,
            PrintWriter to) {
        var json = new JsonWriter(to);
        json.object()
                .field("format", FORMAT)
                .field("file", file.toString())
                .field("recognised", recognition.questions().isEmpty())
                .field("plain", recognition.plain())
                .texts("layout", recognition.layout());
        json.array("columns");
        recognition
                .findings()
                .forEach(finding -> json.object()
                        .field("column", finding.column())
                        .field("use", finding.use())
                        .field("because", finding.because())
                        .endObject());
        json.endArray().texts("notes", recognition.notes());
        json.array("questions");
        recognition
                .questions()
                .forEach(question -> json.object()
                        .field("what", question.what())
                        .texts("options", question.options())
                        .endObject());
        json.endArray();
        samples.ifPresentOrElse(
                read -> json.object("read")
                        .field("samples", read.count())
                        .field("durationS", read.durationS())
                        .field("intervalS", read.intervalS())
                        .field("uneven", read.uneven())
                        .field("requests", read.requests())
                        .texts("notices", read.notices())
                        .endObject(),
                () -> json.nothing("read"));
        json.field("written", written.map(Path::toString));
        json.endObject().end();
        to.flush();
    }
}
