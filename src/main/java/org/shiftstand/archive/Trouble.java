package org.shiftstand.archive;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** What went wrong on disk, in plain words. */
final class Trouble {
    private Trouble() {}

    static String words(IOException e) {
        if (e instanceof NoSuchFileException) {
            return "no such file or folder";
        }
        if (e instanceof AccessDeniedException) {
            return "permission denied";
        }
        if (e instanceof FileAlreadyExistsException) {
            return "a file stands where a folder must be";
        }
        if (e instanceof NotDirectoryException) {
            return "not a folder";
        }
        if (e instanceof FileSystemException f && f.getReason() != null) {
            return f.getReason();
        }
        String message = e.getMessage();
        return message == null ? e.getClass().getSimpleName() : message;
    }

    static BadInput bad(Path file, String text) {
        return new BadInput(new Problem(file.toString(), 0, 0, text));
    }
}
