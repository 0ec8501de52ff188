package org.shiftstand.history;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.stream.Collectors;
import org.shiftstand.archive.Digest;

/**
 * What the history keeps of one judged run.
 *
 * @param key 64 hex digits: SHA-256 over the digests of source, spec and profile, a line each. The same run judged by the same
 *     texts is one entry, wherever and however often it is judged
 * @param resultSha256 digest of the {@code result.json} that this was read from
 * @param kind name of the profile; empty without one
 * @param operator salted digest of a name, or empty; a plain name of an old record is not kept
 * @param startedMicros microseconds since 1970-01-01T00:00:00Z; of a capture unknown
 * @param place where it was found: a bag, or the folder of a run
 */
public record HistoryEntry(
        String key,
        String resultSha256,
        String unit,
        String kind,
        String firmware,
        String bench,
        String operator,
        boolean simulated,
        OptionalLong startedMicros,
        String spec,
        int specVersion,
        String verdict,
        String reason,
        String software,
        int shifts,
        int landed,
        List<Clause> clauses,
        String place) {
    public HistoryEntry {
        clauses = List.copyOf(clauses);
    }

    /**
     * One clause of it.
     *
     * @param value of the worst group; empty where none was measured
     * @param margin positive inside of the bound
     * @param worst key of the worst group: {@code sprocket 4 inboard}
     */
    public record Clause(
            String id,
            String verdict,
            OptionalDouble value,
            OptionalDouble margin,
            String unit,
            OptionalDouble atLeast,
            OptionalDouble atMost,
            String worst) {}

    /**
     * Reads the bytes of a {@code result.json}.
     *
     * @param name of the file, for messages
     * @param place where it was found
     * @throws org.shiftstand.document.BadInput where it is none
     */
    public static HistoryEntry read(byte[] result, String name, String place) {
        return ResultReader.read(result, name, place);
    }

    static String key(String source, String spec, String profile) {
        return Digest.hex((source + "\n" + spec + "\n" + profile).getBytes(StandardCharsets.US_ASCII));
    }

    /** What the key of a run begins with, for {@code history show}: of its 63 bits the first 60, 15 digits. */
    static String idText(long id) {
        return HexFormat.of().toHexDigits(id << 1).substring(0, 15);
    }

    /** The first 63 bits of the key. */
    long id() {
        return Long.parseUnsignedLong(key.substring(0, 16), 16) >>> 1;
    }

    /** Ids of clauses with a verdict, each between bars. */
    String clausesThat(String verdictWord) {
        String ids = clauses.stream()
                .filter(clause -> clause.verdict().equals(verdictWord))
                .map(clause -> clause.id().replace('|', '/')) // no id of a spec has one; a hostile file's may
                .collect(Collectors.joining("|"));
        return ids.isEmpty() ? "" : "|" + ids + "|";
    }

    /** UTC, for people and JSON. */
    public static Optional<String> utc(OptionalLong micros) {
        return micros.isEmpty()
                ? Optional.empty()
                : Optional.of(Instant.EPOCH
                        .plus(micros.getAsLong(), java.time.temporal.ChronoUnit.MICROS)
                        .truncatedTo(java.time.temporal.ChronoUnit.SECONDS)
                        .toString());
    }

    /** The same with its clauses. */
    HistoryEntry with(List<Clause> own) {
        return new HistoryEntry(
                key,
                resultSha256,
                unit,
                kind,
                firmware,
                bench,
                operator,
                simulated,
                startedMicros,
                spec,
                specVersion,
                verdict,
                reason,
                software,
                shifts,
                landed,
                own,
                place);
    }
}
