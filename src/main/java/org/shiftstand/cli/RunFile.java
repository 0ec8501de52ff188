package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.record.RecordFile;

/** The samples that a user means: a file, or the folder that a check left. */
final class RunFile {
    private RunFile() {}

    /**
     * The file itself, or the one run record in a folder.
     *
     * @throws BadInput where a folder has none, or several
     */
    static Path in(Path typed) {
        if (!Files.isDirectory(typed)) {
            return typed;
        }
        List<Path> records = records(typed);
        if (records.size() != 1) {
            throw new BadInput(new Problem(
                    typed.toString(),
                    0,
                    0,
                    (records.isEmpty() ? "has no run record" : "has " + records.size() + " run records")
                            + "; expected the folder of one run, or the record itself (.run)"));
        }
        return records.get(0);
    }

    /** Run records in a folder itself, sorted. */
    static List<Path> records(Path folder) {
        try (Stream<Path> files = Files.list(folder)) {
            return files.filter(file -> file.getFileName().toString().endsWith(RecordFile.EXTENSION))
                    .filter(Files::isRegularFile)
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw new BadInput(
                    new Problem(folder.toString(), 0, 0, "cannot be read (" + Output.cause(e) + "); check its rights"));
        }
    }

    /** A run that is still under way has no verdict yet, and its record would change under whoever copies it. */
    static void refuseWhileWritten(Path file) {
        if (RecordFile.isOne(file)) {
            RecordFile.refuseWhileWritten(file);
        }
    }
}
