package org.shiftstand.judge;

import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunRecord;

/**
 * What a run record says beside its samples. A class of its own, so that judging a CSV never loads the database.
 *
 * @param texts by role: {@code procedure}, {@code spec}, {@code profile}, {@code rig}, {@code limits}, {@code particulars}
 * @param runEnd why the run ended early; empty where its script was done
 * @param began UTC at the start
 * @param ended UTC of the last sample, by the last time that the record's clock was held against UTC
 */
record RecordFacts(
        SampleSource source,
        Map<String, TextFile> texts,
        Optional<String> unit,
        Map<String, String> identity,
        Optional<String> runEnd,
        Optional<Instant> began,
        Optional<Instant> ended) {
    static RecordFacts read(Path file) {
        RunRecord record = RunRecord.open(file);
        RunHeader header = record.header();
        Map<String, TextFile> texts = new LinkedHashMap<>();
        header.texts().forEach((role, text) -> texts.put(role, TextFile.of(name(header, role), text)));
        Optional<Instant> began = Optional.of(header.startUtcMicros())
                .filter(micros -> micros != 0)
                .map(RecordFacts::utc);
        return new RecordFacts(
                record, texts, Optional.of(header.unit()), identity(header), end(record), began, lastSample(record));
    }

    /** As messages and results name it: the file it came from, which now lies in the record. */
    private static String name(RunHeader header, String role) {
        return header.textNames().getOrDefault(role, role);
    }

    private static Map<String, String> identity(RunHeader header) {
        Map<String, String> identity = new LinkedHashMap<>(header.identity());
        if (header.startUtcMicros() != 0) {
            identity.put("started", utc(header.startUtcMicros()).toString());
        }
        if (header.simulated()) {
            identity.put("simulated", "yes: a simulated rig made this run, no real unit");
        }
        return identity;
    }

    private static Instant utc(long micros) {
        return Instant.EPOCH.plus(micros, ChronoUnit.MICROS);
    }

    private static Optional<Instant> lastSample(RunRecord record) {
        List<RunRecord.Anchor> anchors = record.anchors();
        if (anchors.isEmpty() || record.samples() == 0) {
            return Optional.empty();
        }
        RunRecord.Anchor last = anchors.get(anchors.size() - 1);
        return Optional.of(utc(last.utcMicros() + record.lastMicros() - last.rigMicros()));
    }

    private static Optional<String> end(RunRecord record) {
        return record.end().isEmpty()
                ? Optional.of("the record was never finished: the program or the power stopped")
                : record.end().filter(reason -> !reason.isEmpty());
    }
}
