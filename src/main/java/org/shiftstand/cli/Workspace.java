package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * What of Shiftstand lies in a folder, told from names alone: files that {@code init} makes or people wrote, and captures.
 *
 * @param folder where they are
 * @param specs and the others: names in that folder, sorted
 */
record Workspace(
        Path folder,
        List<String> specs,
        List<String> profiles,
        List<String> procedures,
        List<String> rigs,
        List<String> captures) {
    static final String SPEC = ".spec.yaml";
    static final String PROFILE = ".profile.yaml";
    static final String PROCEDURE = ".procedure.yaml";
    static final String RIG = ".rig.yaml";

    private static final Pattern PORT = Pattern.compile("(?m)^link: *\\{ *port: *([^ ,}#'\"]+)");

    /** Looks at no more than names; a folder that cannot be read has none. */
    static Workspace in(Path folder) {
        List<String> names;
        try (Stream<Path> files = Files.list(folder)) {
            names = files.filter(Files::isRegularFile)
                    .map(file -> file.getFileName().toString())
                    .sorted()
                    .toList();
        } catch (IOException e) {
            names = List.of();
        }
        return new Workspace(
                folder,
                ending(names, SPEC),
                ending(names, PROFILE),
                ending(names, PROCEDURE),
                ending(names, RIG),
                ending(names, ".csv", ".csv.gz"));
    }

    private static List<String> ending(List<String> names, String... endings) {
        return names.stream()
                .filter(name -> Stream.of(endings).anyMatch(name::endsWith))
                .toList();
    }

    /** Whether a unit can be checked with these files. */
    boolean ready() {
        return !specs.isEmpty();
    }

    /** The only procedure here, else one that is packed. */
    String procedure() {
        return procedures.isEmpty() ? "end-of-line" : procedures.get(0);
    }

    Optional<String> rig() {
        return rigs.stream().findFirst();
    }

    /** The port that the rig description here names; only a word that stands for it where there is none. */
    String port() {
        try {
            Matcher named = PORT.matcher(rig().isPresent() ? Files.readString(folder.resolve(rig().get())) : "");
            return named.find() ? named.group(1) : "PORT";
        } catch (IOException e) {
            return "PORT"; // not ours to read, or no text
        }
    }
}
