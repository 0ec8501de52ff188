package org.shiftstand.archive;

import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Locale;

/** How a bag lies on disk. */
public enum BagForm {
    FOLDER(""),
    TAR_GZ(".tar.gz"),
    ZIP(".zip");

    private final String ending;

    BagForm(String ending) {
        this.ending = ending;
    }

    /** By the ending of its name: {@code .tar.gz}, {@code .zip}, else a folder. */
    public static BagForm named(Path bag) {
        String name = String.valueOf(bag.getFileName()).toLowerCase(Locale.ROOT);
        if (name.endsWith(TAR_GZ.ending)) {
            return TAR_GZ;
        }
        return name.endsWith(ZIP.ending) ? ZIP : FOLDER;
    }

    /** Of a bag that is there: a folder is one whatever its name. */
    static BagForm of(Path bag) {
        return Files.isDirectory(bag, LinkOption.NOFOLLOW_LINKS) ? FOLDER : named(bag);
    }

    /** The one folder in a packed bag: the file's name without its ending. */
    String top(Path bag) {
        String name = String.valueOf(bag.getFileName());
        return name.substring(0, name.length() - ending.length());
    }
}
