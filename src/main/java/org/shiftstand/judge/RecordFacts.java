package org.shiftstand.judge;

import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunRecord;

/**
 * What a run record says beside its samples. A class of its own, so that judging a CSV never loads the database.
 *
 * @param texts by role: {@code procedure}, {@code spec}, {@code profile}, {@code rig}, {@code limits}
 * @param runEnd why the run ended early; empty where its script was done
 */
record RecordFacts(
        SampleSource source,
        Map<String, TextFile> texts,
        Optional<String> unit,
        Map<String, String> identity,
        Optional<String> runEnd) {
    static RecordFacts read(Path file) {
        RunRecord record = RunRecord.open(file);
        RunHeader header = record.header();
        Map<String, TextFile> texts = new LinkedHashMap<>();
        header.texts().forEach((role, text) -> texts.put(role, TextFile.of(name(header, role), text)));
        return new RecordFacts(record, texts, Optional.of(header.unit()), identity(header), end(record));
    }

    /** As messages and results name it: the file it came from, which now lies in the record. */
    private static String name(RunHeader header, String role) {
        return header.textNames().getOrDefault(role, role);
    }

    private static Map<String, String> identity(RunHeader header) {
        Map<String, String> identity = new LinkedHashMap<>(header.identity());
        if (header.startUtcMicros() != 0) {
            identity.put(
                    "started",
                    Instant.EPOCH
                            .plus(header.startUtcMicros(), ChronoUnit.MICROS)
                            .toString());
        }
        if (header.simulated()) {
            identity.put("simulated", "yes: a simulated rig made this run, no real unit");
        }
        return identity;
    }

    private static Optional<String> end(RunRecord record) {
        return record.end().isEmpty()
                ? Optional.of("the record was never finished: the program or the power stopped")
                : record.end().filter(reason -> !reason.isEmpty());
    }
}
