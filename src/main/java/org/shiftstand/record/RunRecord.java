package org.shiftstand.record;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.document.BadInput;
import org.shiftstand.quantity.Direction;

/**
 * A run record, opened for reading; finished, running or left by a killed program.
 *
 * <p>What is read is the state at the moment of opening. Times are seconds after the first sample; events before it have
 * negative ones. Opening reads the record once (check sums, digest). Not thread-safe.
 */
public final class RunRecord implements SampleSource {
    private static final int MOST_TEXTS = 64;
    private static final int MOST_FACTS = 1024;
    private static final long FARTHEST_MICROS = 500_000_000_000_000L; // nanoseconds doubled stay within a long

    private final Path file;
    private final Connection connection;
    private final int version;
    private final boolean lacksLog;
    private final List<String> notices = new ArrayList<>();
    private final RunHeader header;
    private final RecordScan scan;
    private final List<Session> sessions;
    private final Optional<String> end;
    private boolean broken; // differs from its seal
    private final List<Request> requests = new ArrayList<>();
    private final List<Double> supplyCuts = new ArrayList<>();
    private final boolean hallPower;
    private final long[] hallEdgesNanos;
    private final boolean hallOnAtStart;
    private final List<Gap> gaps;

    /** The record's clock and UTC at one instant. */
    public record Anchor(long rigMicros, long utcMicros) {}

    /** The place in the laid-out script: index of an action, and when it began on the record's clock. */
    public record Place(int action, long atMicros) {}

    /**
     * Opens a record.
     *
     * @throws BadInput where this is no run record, or not a readable one; says what and what to do
     */
    public static RunRecord open(Path file) {
        RecordFile.Opened opened = RecordFile.open(file);
        try {
            return new RunRecord(file, opened);
        } catch (SQLException e) {
            RecordFile.close(opened.connection());
            throw RecordFile.unreadable(file, e, false);
        } catch (RuntimeException e) {
            RecordFile.close(opened.connection());
            throw e;
        }
    }

    private RunRecord(Path file, RecordFile.Opened opened) throws SQLException {
        this.file = file;
        connection = opened.connection();
        version = opened.version();
        lacksLog = opened.lacksLog();
        if (lacksLog) {
            notices.add("the record was not closed and its file " + file.getFileName()
                    + "-wal is not beside it: what was recorded last may be missing. Copy both files, or neither.");
        }
        header = readHeader();
        HallEdges edges = new HallEdges();
        scan = RecordScan.of(
                file.toString(), connection, version, (rows, originMicros) -> take(event(rows), originMicros, edges));
        sessions = version > RecordSchema.WITHOUT_SESSIONS ? scan.sessions() : Sessions.only(header);
        if (sessions.isEmpty()) {
            throw RecordFile.bad(file, "table session is empty; expected a row for each session, one at least");
        }
        end = first("finish", Rows::text);
        checkSeal();
        requests.sort(Comparator.comparingDouble(Request::timeS));
        Collections.sort(supplyCuts);
        hallPower = edges.any();
        hallOnAtStart = edges.onAtStart();
        hallEdgesNanos = edges.edges(sessions.stream()
                .skip(1)
                .mapToLong(s -> nanos(s.atMicros(), scan.originMicros()))
                .toArray());
        gaps = readGaps();
    }

    /** What was known before the first sample. */
    public RunHeader header() {
        return header;
    }

    /** Exact texts by role: {@code procedure}, {@code spec}, {@code profile}, {@code rig}; absent where none. */
    public Map<String, String> texts() {
        return header.texts();
    }

    /** Why the run ended: empty text where the script was done; absent where the run was never finished. */
    public Optional<String> end() {
        return end;
    }

    /** How many samples can be read. */
    public long samples() {
        return scan.samples();
    }

    /** Seconds after the first sample, of an instant on the record's clock. */
    public double timeS(long micros) {
        return (micros - scan.originMicros()) / 1e6;
    }

    /** The record's clock at the last sample that can be read; 0 where there is none. */
    public long lastMicros() {
        return scan.lastMicros();
    }

    /** The stretches in which host and rig talked without a break, in the order of time; one at least. */
    public List<Session> sessions() {
        return sessions;
    }

    /** Everything that happened, in the order of recording. */
    public List<RunEvent> events() {
        return all("event", RunRecord::event);
    }

    /** Counters of the link by name. */
    public Map<String, Long> counters() {
        Map<String, Long> counters = new TreeMap<>();
        all("counter", rows -> counters.put(rows.text(), rows.integer()));
        return Collections.unmodifiableMap(counters);
    }

    /** The record's clock against UTC, in the order of recording. */
    public List<Anchor> anchors() {
        return all("anchor", rows -> {
            rows.integer();
            return new Anchor(rows.integer(), rows.integer());
        });
    }

    /** The last place in the script that was reached. */
    public Optional<Place> place() {
        List<Place> places = all("place", rows -> {
            rows.integer();
            return new Place(rows.small(), rows.integer());
        });
        return places.isEmpty() ? Optional.empty() : Optional.of(places.get(places.size() - 1));
    }

    /** {@inheritDoc} The digest is over the rows: the same for a crashed record and for its closed copy. */
    @Override
    public SourceIdentity identity() {
        return new SourceIdentity("record", String.valueOf(file.getFileName()), scan.sha256());
    }

    @Override
    public Channels channels() {
        return new Channels(hallPower, false, header.currentAPerCount() > 0, header.supplyVPerCount() > 0);
    }

    @Override
    public double intervalS() {
        return header.sampleIntervalNanos() / 1e9;
    }

    @Override
    public SampleReader open() {
        return open(0);
    }

    @Override
    public SampleReader open(long fromSample) {
        try {
            return new RecordReader(file, connection, header, scan, fromSample, hallEdgesNanos, hallOnAtStart);
        } catch (SQLException e) {
            throw RecordFile.unreadable(file, e, false);
        }
    }

    /** {@inheritDoc} Stamped by the rig; of homing the cycle is 0. */
    @Override
    public List<Request> requests() {
        return Collections.unmodifiableList(requests);
    }

    /** {@inheritDoc} Each {@code supply-off}, whatever its cause. */
    @Override
    public List<Double> supplyCuts() {
        return Collections.unmodifiableList(supplyCuts);
    }

    @Override
    public List<Gap> gaps() {
        return gaps;
    }

    /**
     * {@inheritDoc} Between any two sessions that have samples. Where the program began again and was gone before a sample
     * came, that break is one with the next, and both causes are told.
     */
    @Override
    public List<Break> breaks() {
        return scan.interruptions().stream()
                .map(b -> new Break(b.fromNanos() / 1e9, b.toNanos() / 1e9, b.cause()))
                .toList();
    }

    @Override
    public List<String> notices() {
        return List.copyOf(notices);
    }

    @Override
    public void close() {
        RecordFile.close(connection);
    }

    /** Version of the format. */
    int version() {
        return version;
    }

    /** Whether it was left by a killed program and what that had written last is not here. */
    boolean lacksLog() {
        return lacksLog;
    }

    /** What is damaged, in words; asks SQLite as well, which takes as long as reading the file. */
    List<String> damage() {
        List<String> damage = new ArrayList<>();
        if (scan.damagedBlocks() > 0) {
            damage.add("blocks whose check sum does not hold: " + scan.damagedBlocks());
        }
        if (broken) {
            damage.add("its content does not match its seal");
        }
        try (Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery("PRAGMA quick_check(3)")) {
            while (rows.next()) {
                String text = String.valueOf(rows.getString(1));
                if (!text.equals("ok")) {
                    damage.add(text.strip());
                }
            }
        } catch (SQLException e) {
            damage.add(String.valueOf(e.getMessage()));
        }
        return damage;
    }

    private RunHeader readHeader() throws SQLException {
        Map<String, String> identity = new LinkedHashMap<>();
        each("identity", rows -> {
            rows.integer();
            identity.put(rows.text(), rows.text());
            atMost(MOST_FACTS, identity.size(), rows);
        });
        Map<String, String> texts = new LinkedHashMap<>();
        Map<String, String> names = new LinkedHashMap<>();
        each("text", rows -> {
            rows.integer();
            String role = rows.text();
            names.put(role, rows.text());
            String sha256 = rows.text();
            texts.put(role, rows.text());
            atMost(MOST_TEXTS, texts.size(), rows);
            if (!RowDigest.of(String.valueOf(texts.get(role))).equals(sha256)) {
                notices.add("the text of the " + role
                        + " in the record does not match its digest: it was changed or damaged");
            }
        });
        RunHeader read = first("run", rows -> {
                    String unit = rows.text();
                    boolean simulated = rows.integer() != 0;
                    long startUtcMicros = rows.integer();
                    long interval = rows.integer();
                    String channels = rows.text();
                    if (!channels.equals(RecordSchema.CHANNELS)) {
                        throw rows.bad("channels '" + channels + "'; expected '" + RecordSchema.CHANNELS + "'");
                    }
                    return new RunHeader(
                            unit,
                            identity,
                            texts,
                            names,
                            interval,
                            rows.real(),
                            rows.real(),
                            startUtcMicros,
                            simulated);
                })
                .orElseThrow(() -> RecordFile.bad(file, "table run is empty; expected one row"));
        List<String> wrong = HeaderCheck.problems(read);
        if (!wrong.isEmpty()) {
            throw RecordFile.bad(file, "table run: " + String.join("; ", wrong));
        }
        return new RunHeader(
                read.unit(),
                Collections.unmodifiableMap(identity),
                Collections.unmodifiableMap(texts),
                Collections.unmodifiableMap(names),
                read.sampleIntervalNanos(),
                read.currentAPerCount(),
                read.supplyVPerCount(),
                read.startUtcMicros(),
                read.simulated());
    }

    private static void atMost(int most, int size, Rows rows) {
        if (size > most) {
            throw rows.bad("more than " + most + " rows; a run record has a handful");
        }
    }

    private void checkSeal() throws SQLException {
        Optional<String> sealed = seal();
        if (sealed.isPresent() && !sealed.get().equals(scan.sha256())) {
            broken = true;
            notices.add("the record was changed or damaged after it was finished: its content does not match its seal");
        }
        if (end.isPresent() && sealed.isEmpty()) {
            notices.add(
                    "the record has no seal: the program was gone before it could seal it, or the seal was taken away");
        }
        if (end.isEmpty()) {
            notices.add("the run was not finished: the record ends where it stopped");
        }
    }

    private Optional<String> seal() throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery("SELECT sha256 FROM seal")) {
            return rows.next() ? Optional.of(String.valueOf(rows.getString(1))) : Optional.empty();
        }
    }

    private static RunEvent event(Rows rows) throws SQLException {
        rows.integer();
        return new RunEvent(
                rows.integer(),
                rows.text(),
                rows.small(),
                rows.small(),
                rows.small(),
                rows.small(),
                rows.text(),
                rows.small(),
                rows.text());
    }

    private void take(RunEvent event, long originMicros, HallEdges edges) {
        double timeS = (event.atMicros() - originMicros) / 1e6;
        switch (event.kind()) {
            case "hall-on" -> edges.add(nanos(event.atMicros(), originMicros), true);
            case "hall-off" -> edges.add(nanos(event.atMicros(), originMicros), false);
            case "supply-off" -> supplyCuts.add(timeS);
            case "request" -> requests.add(request(event, timeS));
            default -> {} // for readers of the record; no part of the samples
        }
    }

    /** After the first sample, within bounds that a hostile file cannot overflow. */
    private static long nanos(long atMicros, long originMicros) {
        long micros = atMicros - originMicros;
        return Math.max(-FARTHEST_MICROS, Math.min(FARTHEST_MICROS, micros)) * 1000;
    }

    private static Request request(RunEvent event, double timeS) {
        return new Request(
                timeS,
                event.value() == 0 ? Optional.empty() : Optional.of(Direction.of(event.value())),
                sprocket(event.from()),
                sprocket(event.to()),
                OptionalInt.of(event.cycle()),
                event.step().isEmpty() ? Optional.empty() : Optional.of(event.step()),
                event.supplyMv() == 0 ? OptionalDouble.empty() : OptionalDouble.of(event.supplyMv() / 1e3),
                true);
    }

    private static OptionalInt sprocket(int number) {
        return number == 0 ? OptionalInt.empty() : OptionalInt.of(number);
    }

    /** What the numbers of the blocks tell, with the cause from a gap row that speaks of the same; and the other gap rows. */
    private List<Gap> readGaps() throws SQLException {
        List<Gap> all = new ArrayList<>();
        for (RecordScan.Missing m : scan.missing()) {
            all.add(new Gap(m.fromNanos() / 1e9, m.toNanos() / 1e9, m.samples(), m.cause()));
        }
        int told = all.size();
        each("gap", rows -> {
            rows.integer();
            Gap gap = new Gap(timeS(rows.integer()), timeS(rows.integer()), rows.integer(), rows.text());
            if (!known(all.subList(0, told), gap) && (gap.samples() > 0 || gap.toS() > gap.fromS())) {
                all.add(gap);
            }
        });
        all.sort(Comparator.comparingDouble(Gap::fromS));
        return List.copyOf(all);
    }

    /**
     * Whether a row speaks of a loss that the numbers told; if so that loss takes its cause. A row of no samples, such as
     * a lost event, is a doubt of its own.
     *
     * @param told ascending, none overlapping another
     */
    private static boolean known(List<Gap> told, Gap gap) {
        int i = firstEndingAfter(told, gap.fromS());
        boolean known = false;
        for (; gap.samples() > 0 && i < told.size() && told.get(i).fromS() < gap.toS(); i++) {
            Gap other = told.get(i);
            known = true;
            if (other.cause().equals("lost block") && !gap.cause().isBlank()) {
                told.set(i, new Gap(other.fromS(), other.toS(), other.samples(), gap.cause()));
            }
        }
        return known;
    }

    private static int firstEndingAfter(List<Gap> told, double timeS) {
        int low = 0;
        int high = told.size();
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (told.get(middle).toS() <= timeS) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    private <T> List<T> all(String table, FromRow<T> from) {
        List<T> all = new ArrayList<>();
        try {
            each(table, rows -> all.add(from.row(rows)));
        } catch (SQLException e) {
            throw RecordFile.unreadable(file, e, false);
        }
        return Collections.unmodifiableList(all);
    }

    private <T> Optional<T> first(String table, FromRow<T> from) throws SQLException {
        List<T> all = new ArrayList<>();
        each(table, rows -> {
            if (!all.isEmpty()) {
                throw rows.bad("a second row; expected one");
            }
            all.add(from.row(rows));
        });
        return all.stream().findFirst();
    }

    private void each(String table, EachRow each) throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet result = sql.executeQuery(RecordSchema.table(table).select())) {
            Rows rows = new Rows(file.toString(), table, result, Optional.empty());
            while (rows.next()) {
                each.row(rows);
            }
        }
    }

    private interface FromRow<T> {
        T row(Rows rows) throws SQLException;
    }

    private interface EachRow {
        void row(Rows rows) throws SQLException;
    }
}
