package org.shiftstand.document;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * Finds the file that a user named: a file on disk first, else the copy packed with the program, from any folder.
 *
 * <p>A packed file goes by its path ({@code acceptance/end-of-line.yaml}) or its plain name ({@code end-of-line}, with or
 * without its endings).
 */
public final class Bundled {
    /** What a file is; each kind has its folder and its ending. */
    public enum Kind {
        SPEC("spec", "specs/", ".spec.yaml"),
        PROFILE("profile", "specs/", ".profile.yaml"),
        PROCEDURE("procedure", "acceptance/", ".yaml"),
        RIG("rig description", "rig/", ".rig.yaml"),
        /** Mechanical limits of one unit; none are packed. */
        LIMITS("limits file", "rig/", ".limits.yaml"),
        /** What people state of a run for its report. */
        PARTICULARS("particulars file", "specs/", ".particulars.yaml"),
        /** What a probe of a rig found; none are packed. */
        PROBE("probe file", "rig/", ".probe.yaml"),
        /** Values of a gauge study. */
        STUDY("study", "rig/", ".csv");

        private final String word;
        private final String folder;
        private final String ending;

        Kind(String word, String folder, String ending) {
            this.word = word;
            this.folder = folder;
            this.ending = ending;
        }

        /** For sentences: {@code spec}. */
        public String word() {
            return word;
        }

        private boolean has(String path) {
            return path.startsWith(folder) && path.endsWith(ending);
        }

        private String plainName(String path) {
            return path.substring(folder.length(), path.length() - ending.length());
        }
    }

    /** Every file that is packed with the program; a class path cannot be listed, so the list is here. */
    private static final List<String> PATHS = List.of(
            "acceptance/end-of-line.yaml",
            "acceptance/firmware-change.yaml",
            "acceptance/long-run.yaml",
            "acceptance/overnight.yaml",
            "acceptance/quick-look.yaml",
            "rig/bench-two.rig.yaml",
            "rig/simulated.rig.yaml",
            "rig/study-10x3x3.csv",
            "specs/passive-capture.spec.yaml",
            "specs/quillmoor-works.particulars.yaml",
            "specs/tarn-drive-end-of-line.spec.yaml",
            "specs/tarn-drive-firmware-change.spec.yaml",
            "specs/tarn-drive.profile.yaml");

    /** Fewer begin too many names by chance. */
    private static final int FEW_LETTERS = 4;

    private Bundled() {}

    /** Paths of the packed files of a kind, sorted: {@code acceptance/end-of-line.yaml}. */
    public static List<String> paths(Kind kind) {
        return PATHS.stream().filter(kind::has).toList();
    }

    /** Names of the packed files of a kind without folder and ending: {@code end-of-line}. */
    public static List<String> plainNames(Kind kind) {
        return paths(kind).stream().map(kind::plainName).toList();
    }

    /**
     * The file that the user named.
     *
     * @throws BadInput where there is none, or it is no readable text; names the nearest packed file
     */
    public static TextFile find(String typed, Kind kind) {
        if (typed.isBlank()) {
            throw missing(typed, kind);
        }
        Path path = path(typed);
        if (Files.exists(path, LinkOption.NOFOLLOW_LINKS) && !isFolderWithAPlainName(path, typed)) {
            return TextFile.read(typed, path);
        }
        return paths(kind).stream()
                .filter(packed -> names(packed, kind).contains(typed.replace('\\', '/')))
                .findFirst()
                .map(packed -> packed(typed, packed))
                .orElseThrow(() -> missing(typed, kind));
    }

    /**
     * The file that another one names, relative to it: a spec's profile. Looked for beside the naming file; where there
     * is none, or the naming text came out of a record, among the packed ones by its name.
     *
     * @throws BadInput where there is none, or it is no readable text
     */
    public static TextFile beside(TextFile naming, String named, Kind kind) {
        String place = naming.place();
        if (!place.isEmpty() && !place.startsWith(TextFile.BUNDLED)) {
            Path path = Path.of(place).resolveSibling(path(named)).normalize();
            if (Files.exists(path, LinkOption.NOFOLLOW_LINKS)) {
                return TextFile.read(path.toString(), path);
            }
        }
        return paths(kind).stream()
                .filter(packed -> names(packed, kind).contains(named))
                .findFirst()
                .map(packed -> packed(packed, packed))
                .orElseThrow(() -> new BadInput(new Problem(
                        naming.name(),
                        0,
                        0,
                        "names the " + kind.word() + " '" + named
                                + "', but there is no such file beside it; expected its path relative to this file"
                                + (paths(kind).isEmpty()
                                        ? ""
                                        : ", or one packed with the program: " + String.join(", ", paths(kind))))));
    }

    private static boolean isFolderWithAPlainName(Path path, String typed) {
        return Files.isDirectory(path) && !typed.contains("/"); // a report folder must not hide a packed name
    }

    private static Path path(String typed) {
        try {
            return Path.of(typed);
        } catch (InvalidPathException e) {
            throw new BadInput(new Problem(
                    typed.replaceAll("\\p{Cntrl}", "?"),
                    0,
                    0,
                    "is no file name: " + e.getReason().toLowerCase(Locale.ROOT)));
        }
    }

    private static TextFile packed(String typed, String path) {
        try (InputStream in = Bundled.class.getResourceAsStream("/bundled/" + path)) {
            if (in == null) {
                throw new IllegalStateException("a packed file is missing from the program: path=" + path);
            }
            return TextFile.of(typed, TextFile.BUNDLED + path, in.readNBytes(TextFile.MOST_BYTES + 1));
        } catch (IOException e) {
            throw new IllegalStateException("a packed file cannot be read: path=" + path, e);
        }
    }

    /** Every name that a packed file goes by. */
    private static Set<String> names(String path, Kind kind) {
        String file = path.substring(path.lastIndexOf('/') + 1);
        return new LinkedHashSet<>(List.of(path, file, file.substring(0, file.lastIndexOf('.')), kind.plainName(path)));
    }

    private static BadInput missing(String typed, Kind kind) {
        List<String> known = new ArrayList<>();
        paths(kind).forEach(path -> known.addAll(names(path, kind)));
        String packed = paths(kind).isEmpty()
                ? "; expected the path of a " + kind.word()
                : "; expected the path of a " + kind.word() + ", or one packed with the program: "
                        + String.join(", ", paths(kind)) + ".";
        return new BadInput(
                new Problem(typed.isBlank() ? "''" : typed, 0, 0, "no such file" + packed + near(typed, kind, known)));
    }

    /** The nearest name; else a name of which this is the beginning, written well or nearly so; else its other kind. */
    private static String near(String typed, Kind kind, List<String> known) {
        String hint = Nearest.hint(typed, known);
        if (hint.isEmpty()) {
            hint = Arrays.stream(Kind.values())
                    .filter(other -> other != kind)
                    .filter(other -> paths(other).stream()
                            .anyMatch(path -> names(path, other).contains(typed)))
                    .findFirst()
                    .map(other -> " '" + typed + "' is a " + other.word() + ".")
                    .orElse("");
        }
        if (typed.length() >= FEW_LETTERS) {
            List<String> begun = paths(kind).stream()
                    .map(kind::plainName)
                    .filter(name -> name.length() > typed.length()
                            && Nearest.to(typed, List.of(name.substring(0, typed.length())))
                                    .isPresent())
                    .toList();
            hint += hint.contains("Did you mean") || begun.isEmpty()
                    ? ""
                    : " Did you mean '" + String.join("' or '", begun) + "'?";
        }
        return hint;
    }
}
