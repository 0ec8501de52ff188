package org.shiftstand.cli.manual;

import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import picocli.CommandLine.Model.ArgSpec;

/**
 * What may stand for an argument, as far as the tree tells.
 *
 * @param words to choose from; empty where any text may stand there, or only files
 * @param files whether a file or a folder may stand there too
 */
record Taken(List<String> words, Files files) {
    /** What lies in folders. */
    enum Files {
        NONE,
        ANY,
        FOLDERS
    }

    /** A label that is its own choice: {@code forward|reversed}. */
    private static final Pattern CHOICE = Pattern.compile("[a-z0-9-]+(\\|[a-z0-9-]+)+");

    Taken {
        words = List.copyOf(words);
    }

    static Taken by(ArgSpec argument) {
        List<String> words = new ArrayList<>();
        if (argument.completionCandidates() != null) {
            argument.completionCandidates().forEach(words::add);
        }
        String label = argument.paramLabel();
        if (words.isEmpty() && CHOICE.matcher(label).matches()) {
            words.addAll(List.of(label.split("\\|")));
        }
        return new Taken(words, files(argument, label));
    }

    private static Files files(ArgSpec argument, String label) {
        if (label.equals("DIR")) {
            return Files.FOLDERS;
        }
        boolean file = label.equals("FILE") || argument.completionCandidates() instanceof PackedNames;
        for (Class<?> type : argument.auxiliaryTypes()) {
            file |= Path.class.isAssignableFrom(type) || File.class.isAssignableFrom(type);
        }
        return file ? Files.ANY : Files.NONE;
    }
}
