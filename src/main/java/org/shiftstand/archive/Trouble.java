package org.shiftstand.archive;

import java.io.IOException;
import java.nio.file.Path;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.Problem;

/** What went wrong on disk, in plain words. */
final class Trouble {
    private Trouble() {}

    static String words(IOException e) {
        return FileTrouble.words(e);
    }

    static BadInput bad(Path file, String text) {
        return new BadInput(new Problem(file.toString(), 0, 0, text));
    }
}
