package org.shiftstand.record;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.Problem;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteOpenMode;

/** The file of a run record: telling it from other files, and opening it for reading only. */
public final class RecordFile {
    /** File name extension of a run record, with its dot. */
    public static final String EXTENSION = ".run";

    /** Of a record that is not yet at its place. */
    static final String BEGUN = ".begun";

    private static final byte[] SQLITE_MAGIC = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);

    // The header, https://www.sqlite.org/fileformat.html, 1.3; write version: 1 for rollback journals, 2 for WAL.
    private static final int WRITE_VERSION_AT = 18;
    private static final int PAGE_SIZE_AT = 16;
    private static final int CHANGES_AT = 24;
    private static final int PAGES_AT = 28;
    private static final int PAGES_VALID_FOR_AT = 92;
    private static final int HEADER_BYTES = 100;

    // The largest text or block that is read; more would only come from a hostile file.
    private static final int MAX_VALUE_BYTES = 2 << 20;

    private RecordFile() {}

    /** Whether a file is to be opened as a run record: by its extension, or because it is an SQLite file. Loads no driver. */
    public static boolean isOne(Path file) {
        if (String.valueOf(file.getFileName()).toLowerCase(Locale.ROOT).endsWith(EXTENSION)) {
            return true;
        }
        if (!Files.isRegularFile(file)) {
            return false;
        }
        try (InputStream in = Files.newInputStream(file)) {
            return Arrays.equals(in.readNBytes(SQLITE_MAGIC.length), SQLITE_MAGIC);
        } catch (IOException e) {
            return false; // whoever opens it as something else says why it cannot be read
        }
    }

    /**
     * Refuses a record that a running check is writing.
     *
     * @throws BadInput where it is being written
     */
    public static void refuseWhileWritten(Path file) {
        if (Files.exists(beside(file, RunLock.SUFFIX))) {
            RunLock.take(file).close();
        }
    }

    /**
     * An open file.
     *
     * @param version of the format
     * @param lacksLog whether it was left in WAL mode without its {@code -wal}
     */
    record Opened(Connection connection, int version, boolean lacksLog) {}

    /**
     * Opens for reading only, in one read transaction: what a running check adds later is not seen.
     *
     * @throws BadInput where this is no run record, or one that cannot be read here
     */
    static Opened open(Path file) {
        byte[] header = header(file);
        boolean wal = header[WRITE_VERSION_AT] == 2;
        boolean walFile = Files.exists(beside(file, "-wal"));
        if (!walFile) {
            checkLength(file, header);
        }
        // Without a journal nobody writes: immutable also opens it on a read-only disk.
        boolean alone = !walFile && !Files.exists(beside(file, "-journal"));
        Connection connection = null;
        try {
            connection = connect(file, alone);
            return new Opened(connection, check(file, connection), wal && !walFile);
        } catch (SQLException e) {
            close(connection);
            throw unreadable(file, e, walFile);
        } catch (RuntimeException e) {
            close(connection);
            throw e;
        }
    }

    /** What went wrong inside of SQLite, in words for whoever has the file in hand. */
    static BadInput unreadable(Path file, SQLException e, boolean walFile) {
        String hint = walFile
                ? " Its -wal file is beside it, so it was not closed: reading it needs permission to write in its folder;"
                        + " copy both files to such a folder, or finish the run first."
                : " It may be cut short or damaged; use an undamaged copy.";
        return bad(file, "cannot be read as a run record: " + e.getMessage() + "." + hint);
    }

    static BadInput bad(Path file, String text) {
        return new BadInput(new Problem(file.toString(), 0, 0, text));
    }

    static Path beside(Path file, String suffix) {
        return file.resolveSibling(file.getFileName() + suffix);
    }

    /** @throws BadInput where files are beside a record that is not there */
    static void refuseStrays(Path file) {
        for (String suffix : List.of("-wal", "-journal", "-shm")) {
            Path stray = beside(file, suffix);
            if (Files.exists(stray)) {
                throw bad(stray, "is left from another record; it belongs to a file that is not here. Move it away.");
            }
        }
    }

    /** Takes away a record that could not be begun. */
    static void deleteAll(Path file) {
        for (String suffix : List.of(
                "",
                "-wal",
                "-journal",
                "-shm",
                RunLock.SUFFIX,
                Reserve.SUFFIX,
                BEGUN,
                BEGUN + "-journal",
                BEGUN + "-wal")) {
            try {
                Files.deleteIfExists(beside(file, suffix));
            } catch (IOException e) {
                // the reason why it could not be begun is already on its way to the reader
            }
        }
    }

    /** The first bytes of the file; refuses what is no SQLite file. */
    static byte[] header(Path file) {
        if (Files.notExists(file)) {
            throw bad(file, "no such file; expected a run record");
        }
        if (Files.isDirectory(file)) {
            throw bad(file, "is a folder; expected a run record, such as TD-0107" + EXTENSION);
        }
        byte[] header;
        try (InputStream in = Files.newInputStream(file)) {
            header = in.readNBytes(HEADER_BYTES);
        } catch (IOException e) {
            throw bad(
                    file,
                    "cannot be read (" + FileTrouble.words(e) + "); check its rights, and that its disk is there");
        }
        if (header.length < HEADER_BYTES
                || !Arrays.equals(header, 0, SQLITE_MAGIC.length, SQLITE_MAGIC, 0, SQLITE_MAGIC.length)) {
            throw bad(
                    file,
                    header.length == 0
                            ? "is empty; expected a run record"
                            : "is no run record: it does not begin as an SQLite file");
        }
        return header;
    }

    /** What the header says of the file's length, where it says it; a copy cut short is told before anything is read. */
    private static void checkLength(Path file, byte[] header) {
        ByteBuffer at = ByteBuffer.wrap(header); // big-endian, as SQLite writes it
        int word = at.getShort(PAGE_SIZE_AT) & 0xFFFF;
        long pages = at.getInt(PAGES_AT) & 0xFFFFFFFFL;
        long expected = pages * (word == 1 ? 65_536 : word);
        long length = file.toFile().length();
        if (at.getInt(CHANGES_AT) == at.getInt(PAGES_VALID_FOR_AT) && length < expected) {
            throw bad(
                    file,
                    "is cut short: it has " + length + " bytes and should have " + expected + "; use a complete copy.");
        }
    }

    private static Connection connect(Path file, boolean immutable) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setReadOnly(true);
        config.resetOpenMode(SQLiteOpenMode.CREATE);
        config.resetOpenMode(SQLiteOpenMode.READWRITE);
        config.setOpenMode(SQLiteOpenMode.READONLY);
        config.setOpenMode(SQLiteOpenMode.OPEN_URI);
        config.setBusyTimeout(5000);
        config.setPragma(SQLiteConfig.Pragma.LIMIT_LENGTH, Integer.toString(MAX_VALUE_BYTES));
        Connection connection =
                config.createConnection("jdbc:sqlite:" + uri(file) + (immutable ? "?mode=ro&immutable=1" : "?mode=ro"));
        try (Statement sql = connection.createStatement()) {
            sql.execute("PRAGMA trusted_schema = OFF");
            sql.execute("PRAGMA cell_size_check = ON");
        }
        connection.setAutoCommit(false);
        return connection;
    }

    /** As SQLite takes it, whatever the name holds. */
    static String uri(Path file) {
        return "file:" + file.toAbsolutePath().toUri().getRawPath();
    }

    /** @return the version of the format */
    private static int check(Path file, Connection connection) throws SQLException {
        long application = pragma(connection, "application_id");
        if (application != RecordSchema.APPLICATION_ID) {
            throw bad(
                    file,
                    "is an SQLite file of another application (application_id %d); expected a run record (%d)"
                            .formatted(application, RecordSchema.APPLICATION_ID));
        }
        long version = pragma(connection, "user_version");
        if (version > RecordSchema.VERSION) {
            throw bad(
                    file,
                    "is a run record of version %d; this program knows versions up to %d. Use a newer program."
                            .formatted(version, RecordSchema.VERSION));
        }
        if (version < 1) {
            throw bad(
                    file,
                    "is a run record whose version %d never existed; expected 1 to %d"
                            .formatted(version, RecordSchema.VERSION));
        }
        Map<String, String> found = tables(connection);
        List<Problem> problems = RecordSchema.statements((int) version).entrySet().stream()
                .filter(t -> !t.getValue().equals(found.get(t.getKey())))
                .map(t -> new Problem(
                        file.toString(),
                        0,
                        0,
                        (found.containsKey(t.getKey()) ? "its table '%s' is not as" : "it lacks the table '%s' of")
                                        .formatted(t.getKey())
                                + " version " + version + " of the run record; it was changed or damaged"))
                .toList();
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return (int) version;
    }

    private static Map<String, String> tables(Connection connection) throws SQLException {
        Map<String, String> found = new HashMap<>();
        try (Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery("SELECT name, sql FROM sqlite_schema WHERE type = 'table'")) {
            while (rows.next()) {
                found.put(rows.getString(1), String.valueOf(rows.getString(2)));
            }
        }
        return found;
    }

    private static long pragma(Connection connection, String name) throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery("PRAGMA " + name)) {
            rows.next();
            return rows.getLong(1);
        }
    }

    static void close(@org.jspecify.annotations.Nullable Connection connection) {
        try {
            if (connection != null) {
                connection.close();
            }
        } catch (SQLException e) {
            // the reason why it is closed is already on its way to the reader
        }
    }
}
