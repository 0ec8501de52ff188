package org.shiftstand.history;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.shiftstand.document.BadInput;
import org.shiftstand.report.JsonWriter;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Results that wait for a history that is away, a file each in a folder.
 *
 * <p>A file appears whole, and goes only after the history has committed what it says; so a program that is killed at any moment
 * loses nothing, and what is sent twice counts once. Several programs may use one folder: who changes it holds a lock, so that a
 * file half written that is seen with the lock is one that a killed program left, and is swept.
 */
public final class HistoryQueue {
    private static final String ENDING = ".waiting";
    private static final String PARTIAL = ".partial-";

    private final Path folder;

    public HistoryQueue(Path folder) {
        this.folder = folder;
    }

    /**
     * What became of it.
     *
     * @param posted whether the history has it
     * @param sent results that had waited and were sent now
     * @param why it waits; empty where it does not
     */
    public record Posted(boolean posted, int sent, String why) {}

    /**
     * Adds a result to the history, and before it all that wait; where the history is away the result waits too. Blocks some seconds
     * at most where a server does not answer.
     *
     * @param result bytes of a {@code result.json}
     * @param place where it lies
     * @param names disclosed names by digest
     * @throws UncheckedIOException where it can neither be added nor wait
     */
    public Posted post(Database database, byte[] result, String place, Map<String, String> names) {
        HistoryEntry entry = HistoryEntry.read(result, place, place);
        // it waits first: then there is no moment at which only this program knows of it
        Path file = put(entry, result, place, names);
        try (History history = History.open(database)) {
            int sent = send(history);
            return new Posted(true, Math.max(0, sent - 1), "");
        } catch (SQLException e) {
            return new Posted(
                    false,
                    0,
                    String.valueOf(e.getMessage()).lines().findFirst().orElse("no reason given") + "; it waits in "
                            + file);
        }
    }

    private Path put(HistoryEntry entry, byte[] result, String place, Map<String, String> names) {
        try {
            Files.createDirectories(folder);
            try (QueueLock alone = QueueLock.take(folder)) {
                return putLocked(entry, result, place, names);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private Path putLocked(HistoryEntry entry, byte[] result, String place, Map<String, String> names)
            throws IOException {
        Path partial = Files.createTempFile(folder, PARTIAL, null);
        try {
            StringBuilder head = new StringBuilder();
            new JsonWriter(head)
                    .object()
                    .field("place", place)
                    .texts("names", new TreeMap<>(names))
                    .endObject();
            byte[] line = (head.toString().replace("\n", "") + "\n").getBytes(StandardCharsets.UTF_8);
            byte[] whole = java.util.Arrays.copyOf(line, line.length + result.length);
            System.arraycopy(result, 0, whole, line.length, result.length);
            Files.write(partial, whole);
            return Files.move(partial, folder.resolve(entry.key() + ENDING), StandardCopyOption.ATOMIC_MOVE);
        } finally {
            Files.deleteIfExists(partial);
        }
    }

    /** How many wait. */
    public int waiting() {
        return files().size();
    }

    /**
     * Sends what waits, in one transaction; files that are no results stay and are named.
     *
     * @return how many were sent
     */
    public int send(History history) throws SQLException {
        List<HistoryEntry> entries = new ArrayList<>();
        Map<String, String> names = new TreeMap<>();
        List<Path> sent = new ArrayList<>();
        for (Path file : files()) {
            try {
                entries.add(read(file, names));
                sent.add(file);
            } catch (NoSuchFileException e) {
                // another program has just sent it
            } catch (IOException | BadInput e) {
                // it stays where it is: 'history list' names how many wait
            }
        }
        if (!entries.isEmpty()) {
            history.add(entries, names);
        }
        if (!sent.isEmpty()) {
            delete(sent);
        }
        return entries.size();
    }

    private void delete(List<Path> sent) {
        try (QueueLock alone = QueueLock.take(folder)) {
            for (Path file : sent) {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static HistoryEntry read(Path file, Map<String, String> names) throws IOException {
        byte[] whole = Files.readAllBytes(file);
        int end = 0;
        while (end < whole.length && whole[end] != '\n') {
            end++;
        }
        byte[] result = java.util.Arrays.copyOfRange(whole, Math.min(end + 1, whole.length), whole.length);
        try {
            JsonNode head = JsonMapper.shared().readTree(new String(whole, 0, end, StandardCharsets.UTF_8));
            for (String digest : head.path("names").propertyNames()) {
                names.put(digest, head.path("names").path(digest).asString());
            }
            return HistoryEntry.read(result, file.toString(), head.path("place").asString());
        } catch (JacksonException e) {
            throw new NoResult(e);
        }
    }

    private static final class NoResult extends IOException {
        private static final long serialVersionUID = 1;

        NoResult(Throwable cause) {
            super(cause);
        }
    }

    /** Takes names out of what waits; what another program has sent meanwhile does not come back. */
    public void forget(List<String> digests) throws IOException {
        if (!Files.isDirectory(folder)) {
            return;
        }
        try (QueueLock alone = QueueLock.take(folder)) {
            for (Path file : files()) {
                try {
                    forget(file, digests);
                } catch (NoSuchFileException e) {
                    // sent without a lock, on a disk that knows none
                } catch (NoResult | BadInput e) {
                    // no result, and so nothing that is ever sent: 'history list' names how many there are
                }
            }
        }
    }

    private void forget(Path file, List<String> digests) throws IOException {
        byte[] whole = Files.readAllBytes(file);
        String text = new String(whole, StandardCharsets.ISO_8859_1);
        String head = text.lines().findFirst().orElse("");
        if (digests.stream().anyMatch(head::contains)) {
            Map<String, String> names = new TreeMap<>();
            HistoryEntry entry = read(file, names);
            digests.forEach(names::remove);
            int end = text.indexOf('\n') + 1;
            putLocked(entry, java.util.Arrays.copyOfRange(whole, end, whole.length), entry.place(), names);
        }
    }

    private List<Path> files() {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        List<Path> waiting = new ArrayList<>();
        boolean halfWritten = false;
        try (DirectoryStream<Path> files = Files.newDirectoryStream(folder)) {
            for (Path file : files) {
                String name = file.getFileName().toString();
                halfWritten |= name.startsWith(PARTIAL);
                if (name.endsWith(ENDING)) {
                    waiting.add(file);
                }
            }
            if (halfWritten) {
                sweep();
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        Collections.sort(waiting);
        return waiting;
    }

    /** Nobody writes while the lock is held, so whatever is half written now stays so. */
    private void sweep() throws IOException {
        try (QueueLock alone = QueueLock.take(folder)) {
            if (alone.isHeld()) {
                try (DirectoryStream<Path> left = Files.newDirectoryStream(folder, PARTIAL + "*")) {
                    for (Path file : left) {
                        Files.deleteIfExists(file);
                    }
                }
            }
        }
    }
}
