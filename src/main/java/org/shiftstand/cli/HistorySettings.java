package org.shiftstand.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.history.Database;
import org.shiftstand.history.HistoryQueue;

/**
 * Where the history is, from the same places as the settings of the bench commands: environment, then
 * {@code config/application-cli.yaml} beside the folder that the program was started in, then the default. Read without Spring:
 * starting it would take longer than looking through a hundred thousand runs.
 */
final class HistorySettings {
    private static final Path FILE = Path.of("config", "application-cli.yaml");

    private HistorySettings() {}

    /** The folder that runs go to. */
    static Path reports() {
        return Path.of(setting("SHIFTSTAND_REPORTS", "reports").orElse("reports"));
    }

    /** The database that was typed, else that of the settings, else a file in the reports folder. */
    static Database database(Optional<String> typed) {
        String url = typed.or(
                        () -> setting("SHIFTSTAND_HISTORY_URL", "history.url").filter(text -> !text.equals("none")))
                .orElseGet(() -> reports().resolve("history.db").toString());
        return Database.of(
                url,
                setting("SHIFTSTAND_HISTORY_USER", "history.user").orElse(""),
                setting("SHIFTSTAND_HISTORY_PASSWORD", "history.password").orElse(""));
    }

    /** Whether runs are to be kept in no history at all: the setting says {@code none}. */
    static boolean isOff() {
        return setting("SHIFTSTAND_HISTORY_URL", "history.url").equals(Optional.of("none"));
    }

    /** What waits while the history is away. */
    static HistoryQueue queue() {
        return new HistoryQueue(reports().resolve("history-queue"));
    }

    /** The name of this bench, as its runs say it. */
    static Optional<String> bench() {
        return setting("SHIFTSTAND_BENCH", "bench");
    }

    private static Optional<String> setting(String variable, String key) {
        return Optional.ofNullable(System.getenv(variable))
                .filter(text -> !text.isBlank())
                .or(() -> inFile(key));
    }

    private static Optional<String> inFile(String key) {
        if (!Files.isRegularFile(FILE)) {
            return Optional.empty();
        }
        Problems problems = new Problems(FILE.toString());
        Table root = Yaml.read(TextFile.read(FILE.toString(), FILE), problems, "settings");
        Optional<Table> table = root.find("shiftstand").flatMap(node -> node.table("settings"));
        String[] path = key.split("\\.");
        for (int i = 0; i < path.length - 1; i++) {
            String name = path[i];
            table = table.flatMap(t -> t.find(name)).flatMap(node -> node.table("settings"));
        }
        Optional<String> value =
                table.flatMap(t -> t.find(path[path.length - 1])).flatMap(node -> node.text("a text"));
        problems.check();
        return value;
    }
}
