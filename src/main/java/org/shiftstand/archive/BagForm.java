package org.shiftstand.archive;

import java.nio.file.Path;
import java.util.Locale;

/** How a bag lies on disk. */
public enum BagForm {
    FOLDER,
    TAR_GZ,
    ZIP;

    /** By the ending of the name, whatever its case: {@code .tar.gz}, {@code .tgz}, {@code .zip}; anything else is a folder. */
    public static BagForm of(Path out) {
        String name = fileName(out).toLowerCase(Locale.ROOT);
        if (name.endsWith(".tar.gz") || name.endsWith(".tgz")) {
            return TAR_GZ;
        }
        return name.endsWith(".zip") ? ZIP : FOLDER;
    }

    /** Name of the one folder in an archive: the file's without its ending, other characters than a bag takes as {@code -}. */
    static String topOf(Path out) {
        String name = fileName(out).replaceFirst("(?i)(\\.tar\\.gz|\\.tgz|\\.zip)$", "");
        String safe = name.replaceAll("[^A-Za-z0-9._-]", "-").replaceFirst("^[.-]+", "");
        String cut = safe.substring(0, Math.min(safe.length(), MemberPath.MOST_SEGMENT))
                .replaceFirst("\\.+$", "");
        return cut.isEmpty() || MemberPath.problem(cut).isPresent() ? "bag" : cut;
    }

    private static String fileName(Path out) {
        Path name = out.toAbsolutePath().normalize().getFileName();
        return name == null ? "" : name.toString();
    }
}
