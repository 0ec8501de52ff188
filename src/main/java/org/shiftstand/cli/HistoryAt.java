package org.shiftstand.cli;

import java.io.PrintWriter;
import java.sql.SQLException;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.history.Database;
import org.shiftstand.history.History;
import org.shiftstand.history.HistoryQueue;
import picocli.CommandLine.Option;

/** Which history is meant; opening it sends what waits for it. */
final class HistoryAt {
    @Option(
            names = "--history",
            paramLabel = "URL",
            description = "A file, or jdbc:postgresql://HOST/DATABASE. Default: what SHIFTSTAND_HISTORY_URL says, else "
                    + "history.db in the reports folder.")
    private @Nullable String url;

    Database database() {
        return HistorySettings.database(Optional.ofNullable(url));
    }

    /** What a command does with it. */
    interface Use<T> {
        T with(History history) throws SQLException, java.io.IOException;
    }

    <T> T use(PrintWriter err, Use<T> use) throws java.io.IOException {
        SilentLog.start();
        Database database = database();
        HistoryQueue queue = HistorySettings.queue();
        try (History history = History.need(database)) {
            int sent = queue.waiting() == 0 ? 0 : queue.send(history);
            if (sent > 0) {
                err.println(sent + (sent == 1 ? " result that had waited was" : " results that had waited were")
                        + " added to the history.");
            }
            if (queue.waiting() > 0) {
                err.println(
                        queue.waiting() + " files in the history queue are no results and stay there; look into them.");
            }
            return use.with(history);
        } catch (SQLException e) {
            throw History.broken(database, e);
        }
    }
}
