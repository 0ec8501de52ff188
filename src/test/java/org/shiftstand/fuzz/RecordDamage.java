package org.shiftstand.fuzz;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Random;
import java.util.zip.CRC32C;

/**
 * One thing that goes wrong in the rows of a run record, as no damaged disk would do it: with right check sums.
 *
 * @param kind what it is
 * @param fromMicros last instant before what it touches, on the record's clock
 * @param toMicros first instant after it
 */
record RecordDamage(String kind, long fromMicros, long toMicros) {
    private static final long ALL = Long.MAX_VALUE / 4;
    private static final String[] TABLES = {
        "run", "identity", "text", "calibration", "block", "event", "gap", "anchor", "place", "counter", "finish"
    };

    /** Whether anything outside of it may still be compared. */
    boolean everywhere() {
        return toMicros == ALL;
    }

    private static RecordDamage nowhere(String kind) {
        return new RecordDamage(kind, -ALL, -ALL);
    }

    private static RecordDamage everywhere(String kind) {
        return new RecordDamage(kind, -ALL, ALL);
    }

    /** Damages a finished record in place. */
    static RecordDamage inflict(Path file, Random random) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement sql = connection.createStatement()) {
            connection.setAutoCommit(false);
            RecordDamage damage = new Hand(connection, sql, random).inflict();
            connection.commit();
            return damage;
        }
    }

    /** A row of table block. */
    private record Block(long number, long first, long interval, long count, byte[] samples) {
        long afterMicros() {
            return first + count * interval / 1000;
        }
    }

    private record Hand(Connection connection, Statement sql, Random random) {
        RecordDamage inflict() throws SQLException {
            return switch (random.nextInt(20)) {
                case 0, 1 -> blocksDropped();
                case 2 -> blockDoubled();
                case 3 -> blocksExchanged();
                case 4, 5, 6, 7 -> samplesChanged();
                case 8 -> checkSumWrong();
                case 9 -> headOfBlock();
                case 10, 11 -> eventDropped();
                case 12 -> eventMoved();
                case 13 -> eventInvented();
                case 14 -> gapInvented();
                case 15 -> rowsThatMeasureNothing();
                case 16 -> textChanged();
                case 17 -> header();
                case 18 -> wrongType();
                default -> schema();
            };
        }

        private long number(String query) throws SQLException {
            try (ResultSet rows = sql.executeQuery(query)) {
                return rows.next() ? rows.getLong(1) : 0;
            }
        }

        private long blocks() throws SQLException {
            return number("SELECT count(*) FROM block");
        }

        private Block block(long seq) throws SQLException {
            try (ResultSet row = sql.executeQuery(
                    "SELECT number, first_micros, interval_nanos, count, samples FROM block WHERE seq = " + seq)) {
                row.next();
                return new Block(row.getLong(1), row.getLong(2), row.getLong(3), row.getLong(4), row.getBytes(5));
            }
        }

        private void set(long seq, Block b) throws SQLException {
            ByteBuffer head = ByteBuffer.allocate(32).order(ByteOrder.LITTLE_ENDIAN);
            head.putLong(b.number())
                    .putLong(b.first())
                    .putLong(b.interval())
                    .putLong(b.count())
                    .flip();
            CRC32C crc = new CRC32C();
            crc.update(head);
            crc.update(b.samples());
            try (PreparedStatement row =
                    connection.prepareStatement("INSERT OR REPLACE INTO block VALUES (?, ?, ?, ?, ?, ?, ?)")) {
                Object[] values = {seq, b.number(), b.first(), b.interval(), b.count(), crc.getValue(), b.samples()};
                for (int i = 0; i < values.length; i++) {
                    row.setObject(i + 1, values[i]);
                }
                row.executeUpdate();
            }
        }

        /** A place after the first and before the last block, whose times nothing else tells. */
        private long inside(int length) throws SQLException {
            return 2 + random.nextInt((int) blocks() - length - 2);
        }

        private RecordDamage between(String kind, long firstSeq, long lastSeq) throws SQLException {
            return new RecordDamage(
                    kind, block(firstSeq).first(), block(lastSeq).afterMicros());
        }

        private RecordDamage blocksDropped() throws SQLException {
            int n = 1 + random.nextInt(List.of(1, 4, 30).get(random.nextInt(3)));
            long from = inside(n);
            RecordDamage damage = between("blocks dropped", from, from + n - 1);
            sql.executeUpdate("DELETE FROM block WHERE seq >= " + from + " AND seq < " + (from + n));
            if (random.nextBoolean()) {
                sql.executeUpdate("UPDATE block SET seq = seq - " + n + " WHERE seq >= " + from);
            }
            return damage;
        }

        private RecordDamage blockDoubled() throws SQLException {
            long at = inside(1);
            Block twice = block(at);
            RecordDamage damage = between("block doubled", at, at);
            sql.executeUpdate("UPDATE block SET seq = -seq - 1 WHERE seq > " + at);
            sql.executeUpdate("UPDATE block SET seq = -seq WHERE seq < 0");
            set(at + 1, twice);
            return damage;
        }

        private RecordDamage blocksExchanged() throws SQLException {
            long a = inside(9);
            long b = a + 1 + random.nextInt(8);
            RecordDamage damage = between("blocks exchanged", a, b);
            Block first = block(a);
            Block second = block(b);
            if (random.nextBoolean()) { // only what was sampled: times go on as before
                set(a, new Block(first.number(), first.first(), first.interval(), first.count(), second.samples()));
                set(b, new Block(second.number(), second.first(), second.interval(), second.count(), first.samples()));
            } else {
                set(a, second);
                set(b, first);
            }
            return damage;
        }

        private RecordDamage samplesChanged() throws SQLException {
            int n = 1 + random.nextInt(List.of(1, 4, 20).get(random.nextInt(3)));
            long from = inside(n);
            int kind = random.nextInt(5);
            int channel = random.nextInt(2);
            short step = (short) (random.nextInt(4000) - 2000);
            ByteBuffer frozen = ByteBuffer.wrap(block(from).samples()).order(ByteOrder.LITTLE_ENDIAN);
            for (long seq = from; seq < from + n; seq++) {
                Block b = block(seq);
                ByteBuffer samples = ByteBuffer.wrap(b.samples()).order(ByteOrder.LITTLE_ENDIAN);
                for (int i = 0; i < b.count(); i++) {
                    int sin = 8 * i;
                    int one = sin + 2 * channel;
                    switch (kind) {
                        case 0 -> samples.putInt(sin, frozen.getInt(0));
                        case 1 -> samples.putInt(sin, 0);
                        case 2 -> samples.putShort(one, (short) 0);
                        case 3 -> samples.putShort(one, (short) (samples.getShort(one) + step));
                        default -> samples.putShort(one, (short) random.nextInt(65536));
                    }
                }
                set(seq, b);
            }
            String[] kinds = {"samples frozen", "samples zero", "channel zero", "DC step", "wild samples"};
            return between(kinds[kind], from, from + n - 1);
        }

        private RecordDamage checkSumWrong() throws SQLException {
            long at = inside(1);
            sql.executeUpdate("UPDATE block SET crc32c = crc32c + 1 WHERE seq = " + at);
            return between("check sum wrong", at, at);
        }

        private RecordDamage headOfBlock() throws SQLException {
            long at = inside(1);
            Block b = block(at);
            long some = random.nextLong() >> random.nextInt(64);
            RecordDamage damage = between("head of a block", at - 1, at + 1);
            set(
                    at,
                    switch (random.nextInt(5)) {
                        case 0 -> new Block(some, b.first(), b.interval(), b.count(), b.samples());
                        case 1 -> new Block(b.number(), some, b.interval(), b.count(), b.samples());
                        case 2 -> new Block(b.number(), b.first(), some, b.count(), b.samples());
                        case 3 -> new Block(b.number(), b.first(), b.interval(), some, b.samples());
                        default ->
                            new Block(
                                    b.number(),
                                    b.first() + random.nextInt(2000) - 1000,
                                    b.interval(),
                                    b.count(),
                                    b.samples());
                    });
            return damage;
        }

        /** From the event before to the event after: what stands between them may be read another way. */
        private RecordDamage around(String kind, long seq) throws SQLException {
            return new RecordDamage(
                    kind,
                    number("SELECT coalesce(max(at_micros), " + -ALL + ") FROM event WHERE kind = 'request' AND seq < "
                            + (seq - 3)),
                    number("SELECT coalesce(min(at_micros), " + ALL + ") FROM event WHERE kind = 'request' AND seq > "
                            + (seq + 3)));
        }

        private long anEvent() throws SQLException {
            return number("SELECT seq FROM event ORDER BY seq LIMIT 1 OFFSET "
                    + random.nextInt((int) number("SELECT count(*) FROM event")));
        }

        private RecordDamage eventDropped() throws SQLException {
            long at = anEvent();
            RecordDamage damage = around("event dropped", at);
            sql.executeUpdate("DELETE FROM event WHERE seq = " + at);
            return damage;
        }

        private RecordDamage eventMoved() throws SQLException {
            long at = anEvent();
            RecordDamage damage = around("event moved", at);
            sql.executeUpdate("UPDATE event SET at_micros = at_micros + " + (random.nextInt(400_000) - 200_000)
                    + " WHERE seq = " + at);
            return damage;
        }

        private RecordDamage eventInvented() throws SQLException {
            long at = anEvent();
            RecordDamage damage = around("event invented", at);
            String[] kinds = {"hall-on", "hall-off", "request", "supply-off", "supply-on", "no-such-kind", ""};
            sql.executeUpdate("INSERT INTO event SELECT (SELECT max(seq) + 1 FROM event), at_micros + 1000, '"
                    + kinds[random.nextInt(kinds.length)] + "', " + (random.nextInt(5) - 2) + ", "
                    + random.nextInt(12) + ", " + random.nextInt(12) + ", cycle, step, supply_mv, '' FROM event WHERE"
                    + " seq = " + at);
            return damage;
        }

        private RecordDamage gapInvented() throws SQLException {
            int n = 1 + random.nextInt(20);
            long from = inside(n);
            RecordDamage damage = between("gap invented", from, from + n - 1);
            sql.executeUpdate("INSERT INTO gap VALUES ((SELECT coalesce(max(seq), 0) + 1 FROM gap), "
                    + damage.fromMicros() + ", " + damage.toMicros() + ", " + random.nextInt(100_000) + ", 'none')");
            return damage;
        }

        private RecordDamage rowsThatMeasureNothing() throws SQLException {
            String[] changes = {
                "DELETE FROM place",
                "DELETE FROM anchor",
                "UPDATE anchor SET utc_micros = -utc_micros, rig_micros = 9223372036854775807",
                "UPDATE place SET action = action * 1000",
                "UPDATE counter SET value = -value - 1",
                "INSERT INTO counter VALUES ('invented', 9223372036854775807)",
                "UPDATE finish SET reason = 'invented'",
                "INSERT INTO result VALUES (1, 'verdict', '', 'pass')",
                "CREATE TABLE other (x TEXT)",
                "DELETE FROM identity",
                "UPDATE identity SET value = '<script>alert(1)</script>=cmd()'"
            };
            sql.executeUpdate(changes[random.nextInt(changes.length)]);
            return nowhere("rows that measure nothing");
        }

        private RecordDamage textChanged() throws SQLException {
            byte[] content;
            long seq = 1 + random.nextInt((int) number("SELECT count(*) FROM text"));
            try (ResultSet row = sql.executeQuery("SELECT content FROM text WHERE seq = " + seq)) {
                row.next();
                content = row.getBytes(1);
            }
            byte[] changed = Bytes.mutated(content, random, List.of(": ", "\n", "deg", "- ", "every", "\0", "&a *a"));
            try (PreparedStatement text = connection.prepareStatement("UPDATE text SET content = ? WHERE seq = ?")) {
                text.setString(1, new String(changed, java.nio.charset.StandardCharsets.UTF_8));
                text.setLong(2, seq);
                text.executeUpdate();
            }
            return everywhere("text changed");
        }

        private RecordDamage header() throws SQLException {
            String[] columns = {
                "sample_interval_nanos",
                "start_utc_micros",
                "current_a_per_count",
                "supply_v_per_count",
                "simulated",
                "unit",
                "channels"
            };
            String[] values = {"0", "-1", "9223372036854775807", "1", "1000000", "2"};
            String column = columns[random.nextInt(columns.length)];
            String value = values[random.nextInt(values.length)];
            boolean text = column.equals("unit") || column.equals("channels");
            sql.executeUpdate("UPDATE run SET " + column + " = " + (text ? "'" + value + "'" : value));
            return everywhere("header: " + column);
        }

        private RecordDamage wrongType() throws SQLException {
            String table = TABLES[random.nextInt(TABLES.length)];
            String column;
            try (ResultSet rows = sql.executeQuery("SELECT name FROM pragma_table_info('" + table
                    + "') WHERE name <> 'seq' ORDER BY random() LIMIT 1")) {
                rows.next();
                column = rows.getString(1);
            }
            String[] values = {"NULL", "'text'", "1.5", "x'0011'", "9223372036854775807", "zeroblob(3000000)"};
            String value = values[random.nextInt(values.length)];
            String its = number("SELECT count(*) FROM sqlite_schema WHERE name = '" + table + "'") > 0 ? table : "run";
            sql.execute("PRAGMA writable_schema = ON");
            sql.executeUpdate("UPDATE sqlite_schema SET sql = replace(replace(sql, ') STRICT', ')'), ' NOT NULL', '')"
                    + " WHERE name = '" + its + "'");
            connection.commit();
            sql.execute("PRAGMA writable_schema = RESET");
            sql.executeUpdate("UPDATE " + its + " SET " + column + " = " + value
                    + (its.equals("run") || its.equals("counter") || its.equals("finish")
                            ? ""
                            : " WHERE seq = (SELECT max(seq) FROM " + its + ")"));
            return everywhere("wrong type");
        }

        private RecordDamage schema() throws SQLException {
            String table = TABLES[random.nextInt(TABLES.length)];
            String[] changes = {
                "DROP TABLE " + table,
                "ALTER TABLE " + table + " ADD COLUMN more TEXT",
                "DELETE FROM " + table,
                "PRAGMA user_version = " + random.nextInt(),
                "PRAGMA application_id = " + random.nextInt(),
                "CREATE TRIGGER t AFTER INSERT ON " + table + " BEGIN SELECT 1; END"
            };
            sql.executeUpdate(changes[random.nextInt(changes.length)]);
            return everywhere("schema");
        }
    }
}
