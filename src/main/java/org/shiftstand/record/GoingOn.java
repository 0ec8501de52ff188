package org.shiftstand.record;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.BadInput;

/** Which records can be gone on with, in place or in a copy. */
final class GoingOn {
    private static final String CONTINUES = "continues";

    private GoingOn() {}

    /**
     * A first look, quick and without a lock.
     *
     * @throws BadInput where this is no record, a finished one, or one of an older version
     */
    static void refuseUnfit(Path file) {
        RecordFile.Opened opened = RecordFile.open(file);
        try (Connection connection = opened.connection()) {
            end(connection).ifPresent(reason -> {
                throw RecordFile.bad(
                        file,
                        "is finished: " + (reason.isEmpty() ? "its script was done" : reason)
                                + ". A sealed record is never changed; "
                                + (reason.isEmpty() ? "make a new run." : "go on in a new record that continues it."));
            });
        } catch (SQLException e) {
            throw RecordFile.unreadable(file, e, false);
        }
        if (opened.version() < RecordSchema.VERSION) {
            throw RecordFile.bad(
                    file,
                    "is a run record of version " + opened.version()
                            + ", which cannot hold a break; older records are never changed. It is judged as far as it"
                            + " goes; go on in a new record that continues it.");
        }
    }

    /**
     * A whole look, under the lock.
     *
     * @throws BadInput where this record cannot be written on; nothing was changed
     */
    static void refuseUnsound(Path file) {
        refuseUnfit(file); // whoever held the lock before may have finished it
        try (RunRecord record = RunRecord.open(file)) {
            if (record.lacksLog()) {
                throw RecordFile.bad(
                        file,
                        "was not closed, and its file " + file.getFileName()
                                + "-wal is not beside it; written on without, it could not take it back. Put that file beside"
                                + " it; where it is gone for good, go on in a new record that continues this one.");
            }
            refuseDamaged(file, record);
        }
    }

    /**
     * Makes a new record that continues another.
     *
     * @param to stands there once it is complete
     */
    static void copy(Path from, Path to) {
        // A finished one is not written any more, and may lie in a folder that nobody may write to.
        Optional<RunLock> lock = finished(from) ? Optional.empty() : Optional.of(RunLock.take(from));
        Path part = RecordFile.beside(to, ".part");
        try {
            String sha256;
            int version;
            try (RunRecord record = RunRecord.open(from)) {
                if (record.end().equals(Optional.of(""))) {
                    throw RecordFile.bad(
                            from,
                            "is finished, its script was done: there is nothing to go on with. Judge it, or start a new run.");
                }
                refuseDamaged(from, record);
                sha256 = record.identity().sha256();
                version = record.version();
            }
            deletePart(part);
            copyFiles(from, part);
            makeContinuation(part, sha256, version);
            Files.move(part, to);
        } catch (FileAlreadyExistsException e) {
            throw RecordFile.bad(to, "exists; a run record is never overwritten. Choose another folder or name.");
        } catch (IOException | SQLException e) {
            throw new NotWritten(to, e, NotWritten.Row.LEFT_OUT);
        } finally {
            deletePart(part);
            lock.ifPresent(RunLock::close);
        }
    }

    private static boolean finished(Path file) {
        try (Connection connection = RecordFile.open(file).connection()) {
            return end(connection).isPresent();
        } catch (SQLException e) {
            throw RecordFile.unreadable(file, e, false);
        }
    }

    private static Optional<String> end(Connection connection) throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet row = sql.executeQuery("SELECT reason FROM finish")) {
            return row.next() ? Optional.of(String.valueOf(row.getString(1))) : Optional.empty();
        }
    }

    private static void refuseDamaged(Path file, RunRecord record) {
        List<String> damage = record.damage();
        if (!damage.isEmpty()) {
            throw RecordFile.bad(
                    file,
                    "is damaged (" + String.join("; ", damage)
                            + "), so that nothing is added to it. It is judged as far as it goes; begin a new run.");
        }
    }

    private static void copyFiles(Path from, Path part) throws IOException {
        Files.copy(from, part);
        part.toFile().setWritable(true, true); // a finished record may be kept from being written
        Path log = RecordFile.beside(from, "-wal");
        if (Files.exists(log)) {
            Files.copy(log, RecordFile.beside(part, "-wal"));
        }
    }

    private static void makeContinuation(Path part, String sha256, int version) throws SQLException {
        try (Connection connection = RecordConnection.connect(part, false)) {
            try (Statement sql = connection.createStatement()) {
                connection.setAutoCommit(false);
                if (version == RecordSchema.WITHOUT_SESSIONS) {
                    sql.execute("PRAGMA user_version = " + RecordSchema.VERSION);
                    sql.execute(RecordSchema.table("session").sql());
                    sql.execute("INSERT INTO session SELECT 1, 1, 0, 0, start_utc_micros, '' FROM run");
                }
                sql.execute("DELETE FROM finish");
                sql.execute("DELETE FROM seal");
                sql.execute(
                        "DELETE FROM identity WHERE name = '" + CONTINUES + "'"); // that one continues another in turn
                sql.execute("INSERT INTO identity SELECT coalesce(max(seq), 0) + 1, '" + CONTINUES + "', '" + sha256
                        + "' FROM identity");
                connection.commit();
                connection.setAutoCommit(true);
                RecordConnection.intoOneFile(sql);
            }
        }
    }

    private static void deletePart(Path part) {
        for (String suffix : List.of("", "-wal", "-shm", "-journal")) {
            try {
                Files.deleteIfExists(RecordFile.beside(part, suffix));
            } catch (IOException e) {
                // the copy that follows says what is wrong
            }
        }
    }
}
