package org.shiftstand.record;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Tables of each version, as {@code rig/RECORD.md} states them. Their texts never change; another table is another version.
 *
 * <p>Version 2 has one table more than version 1, {@code session}.
 */
final class RecordSchema {
    /** {@code PRAGMA application_id}: the letters {@code ShSt}. */
    static final int APPLICATION_ID = 0x53685374;

    /** {@code PRAGMA user_version} of what is written; older ones are read. */
    static final int VERSION = 2;

    /** The first version of the format; its records hold one session. */
    static final int WITHOUT_SESSIONS = 1;

    /** Largest number of samples in one block; a frame on the wire holds fewer. */
    static final int MAX_BLOCK_SAMPLES = 32_768;

    /** Bytes of one sample: four channels of int16. */
    static final int SAMPLE_BYTES = 8;

    /** The channels of a sample, in order, as {@code run.channels} says. */
    static final String CHANNELS = "hall_sin,hall_cos,current,supply";

    /** Tables of the newest version in the order of the digest; {@code result} and {@code seal} are outside of it. */
    private static final List<Table> TABLES = List.of(
            new Table(
                    "run",
                    "unit, simulated, start_utc_micros, sample_interval_nanos, channels, current_a_per_count,"
                            + " supply_v_per_count",
                    "rowid",
                    """
                    CREATE TABLE run (
                      unit TEXT NOT NULL,
                      simulated INTEGER NOT NULL,
                      start_utc_micros INTEGER NOT NULL,
                      sample_interval_nanos INTEGER NOT NULL,
                      channels TEXT NOT NULL,
                      current_a_per_count REAL NOT NULL,
                      supply_v_per_count REAL NOT NULL
                    ) STRICT"""),
            new Table("identity", "seq, name, value", "seq", """
                    CREATE TABLE identity (
                      seq INTEGER PRIMARY KEY,
                      name TEXT NOT NULL,
                      value TEXT NOT NULL
                    ) STRICT"""),
            new Table("text", "seq, role, name, sha256, content", "seq", """
                    CREATE TABLE text (
                      seq INTEGER PRIMARY KEY,
                      role TEXT NOT NULL,
                      name TEXT NOT NULL,
                      sha256 TEXT NOT NULL,
                      content TEXT NOT NULL
                    ) STRICT"""),
            new Table("calibration", "seq, what, name, sha256, content", "seq", """
                    CREATE TABLE calibration (
                      seq INTEGER PRIMARY KEY,
                      what TEXT NOT NULL,
                      name TEXT NOT NULL,
                      sha256 TEXT NOT NULL,
                      content TEXT NOT NULL
                    ) STRICT"""),
            new Table("session", "seq, first_block, at_micros, offset_micros, utc_micros, cause", "seq", """
                    CREATE TABLE session (
                      seq INTEGER PRIMARY KEY,
                      first_block INTEGER NOT NULL,
                      at_micros INTEGER NOT NULL,
                      offset_micros INTEGER NOT NULL,
                      utc_micros INTEGER NOT NULL,
                      cause TEXT NOT NULL
                    ) STRICT"""),
            new Table("block", "seq, number, first_micros, interval_nanos, count, crc32c, samples", "seq", """
                    CREATE TABLE block (
                      seq INTEGER PRIMARY KEY,
                      number INTEGER NOT NULL,
                      first_micros INTEGER NOT NULL,
                      interval_nanos INTEGER NOT NULL,
                      count INTEGER NOT NULL,
                      crc32c INTEGER NOT NULL,
                      samples BLOB NOT NULL
                    ) STRICT"""),
            new Table(
                    "event",
                    "seq, at_micros, kind, value, from_sprocket, to_sprocket, cycle, step, supply_mv, remark",
                    "seq",
                    """
                    CREATE TABLE event (
                      seq INTEGER PRIMARY KEY,
                      at_micros INTEGER NOT NULL,
                      kind TEXT NOT NULL,
                      value INTEGER NOT NULL,
                      from_sprocket INTEGER NOT NULL,
                      to_sprocket INTEGER NOT NULL,
                      cycle INTEGER NOT NULL,
                      step TEXT NOT NULL,
                      supply_mv INTEGER NOT NULL,
                      remark TEXT NOT NULL
                    ) STRICT"""),
            new Table("gap", "seq, from_micros, to_micros, samples, cause", "seq", """
                    CREATE TABLE gap (
                      seq INTEGER PRIMARY KEY,
                      from_micros INTEGER NOT NULL,
                      to_micros INTEGER NOT NULL,
                      samples INTEGER NOT NULL,
                      cause TEXT NOT NULL
                    ) STRICT"""),
            new Table("anchor", "seq, rig_micros, utc_micros", "seq", """
                    CREATE TABLE anchor (
                      seq INTEGER PRIMARY KEY,
                      rig_micros INTEGER NOT NULL,
                      utc_micros INTEGER NOT NULL
                    ) STRICT"""),
            new Table("place", "seq, action, at_micros", "seq", """
                    CREATE TABLE place (
                      seq INTEGER PRIMARY KEY,
                      action INTEGER NOT NULL,
                      at_micros INTEGER NOT NULL
                    ) STRICT"""),
            new Table("counter", "name, value", "name", """
                    CREATE TABLE counter (
                      name TEXT PRIMARY KEY,
                      value INTEGER NOT NULL
                    ) STRICT, WITHOUT ROWID"""),
            new Table("finish", "reason", "rowid", """
                    CREATE TABLE finish (
                      reason TEXT NOT NULL
                    ) STRICT"""));

    /** Not part of the digest. */
    static final List<String> OUTSIDE = List.of("""
                    CREATE TABLE result (
                      seq INTEGER PRIMARY KEY,
                      name TEXT NOT NULL,
                      sha256 TEXT NOT NULL,
                      content TEXT NOT NULL
                    ) STRICT""", """
                    CREATE TABLE seal (
                      sha256 TEXT NOT NULL
                    ) STRICT""");

    private RecordSchema() {}

    static Table table(String name) {
        return TABLES.stream().filter(t -> t.name().equals(name)).findFirst().orElseThrow();
    }

    /** Tables of a version in the order of the digest. */
    static List<Table> tables(int version) {
        return version > WITHOUT_SESSIONS
                ? TABLES
                : TABLES.stream().filter(t -> !t.name().equals("session")).toList();
    }

    /** Name of each table of a version, with the statement that makes it. */
    static Map<String, String> statements(int version) {
        Map<String, String> all = new LinkedHashMap<>();
        for (Table table : tables(version)) {
            all.put(table.name(), table.sql());
        }
        all.put("result", OUTSIDE.get(0));
        all.put("seal", OUTSIDE.get(1));
        return all;
    }

    /**
     * One table.
     *
     * @param columns in order, as in a SELECT
     * @param key column that orders the rows
     * @param sql statement that makes it
     */
    record Table(String name, String columns, String key, String sql) {
        String select() {
            return "SELECT " + columns + " FROM " + name + " ORDER BY " + key;
        }

        /** Rows from a key on. */
        String selectFrom() {
            return "SELECT " + columns + " FROM " + name + " WHERE " + key + " >= ? ORDER BY " + key;
        }

        String insert() {
            int n = columns.split(",").length;
            return "INSERT INTO " + name + " (" + columns + ") VALUES (?" + ", ?".repeat(n - 1) + ")";
        }
    }
}
