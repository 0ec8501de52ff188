package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.shiftstand.archive.Bag;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** Which files an export reads: those that the user names, else every run record of the reports folder. */
final class ExportInputs {
    private static final String RECORDS = "*.run";

    private ExportInputs() {}

    /**
     * The records and captures behind what one argument names: a file itself, the records in a run's folder.
     *
     * @throws BadInput where there is none
     */
    static List<Path> of(Path named) {
        if (!Files.isDirectory(named) || Bag.isNamedBy(named)) {
            return List.of(named); // what is wrong with a file is told by who opens it
        }
        List<Path> records = records(named);
        if (records.isEmpty()) {
            throw new BadInput(new Problem(
                    named.toString(),
                    0,
                    0,
                    "holds no run record; expected a run's folder with its UNIT.run, a record or a capture"));
        }
        return records;
    }

    /**
     * Every run record in the run folders of a reports folder, by name.
     *
     * @throws BadInput where there is none
     */
    static List<Path> ofReports(Path reports) {
        List<Path> records = new ArrayList<>();
        for (Path folder : Files.isDirectory(reports) ? entries(reports, "*") : List.<Path>of()) {
            if (Files.isDirectory(folder)) {
                records.addAll(records(folder));
            }
        }
        if (records.isEmpty()) {
            throw new BadInput(new Problem(
                    reports.toString(),
                    0,
                    0,
                    "has no run folder with a record; name records, captures or run folders to export, or make some"
                            + " with 'shiftstand demo'"));
        }
        return records;
    }

    private static List<Path> records(Path folder) {
        return entries(folder, RECORDS).stream().filter(Files::isRegularFile).toList();
    }

    private static List<Path> entries(Path folder, String glob) {
        List<Path> found = new ArrayList<>();
        try (DirectoryStream<Path> entries = Files.newDirectoryStream(folder, glob)) {
            entries.forEach(found::add);
        } catch (IOException e) {
            throw new BadInput(
                    new Problem(folder.toString(), 0, 0, "cannot be read (" + Output.cause(e) + "); check its rights"));
        }
        found.sort(Path::compareTo);
        return found;
    }
}
