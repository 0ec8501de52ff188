package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.shiftstand.cli.manual.Manual;

/** Writes man pages and completions to a folder: called where a package is made, no command of its own. */
final class ManualFiles {
    private ManualFiles() {}

    /** Arguments: the folder, and the date of this version (ISO 8601). */
    public static void main(String[] arguments) throws IOException {
        if (arguments.length != 2) {
            System.err.println("usage: " + ManualFiles.class.getName() + " FOLDER DATE");
            System.exit(ExitCode.BAD_INPUT);
        }
        write(Path.of(arguments[0]), arguments[1]);
    }

    static void write(Path folder, String date) throws IOException {
        try (LazyContext context = new LazyContext()) {
            PrintWriter nowhere = new PrintWriter(new StringWriter());
            for (Map.Entry<String, String> file : Manual.of(
                            new CommandTree(context, nowhere, nowhere).whole(), Version.number(), date)
                    .entrySet()) {
                Path path = folder.resolve(file.getKey());
                Files.createDirectories(path.getParent());
                Files.writeString(path, file.getValue());
            }
        }
    }
}
