package org.shiftstand.document;

import java.io.FileNotFoundException;
import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Why a file could not be read or written, in plain words. */
public final class FileTrouble {
    /** {@code /path (Permission denied)}, as streams of files say it. */
    private static final Pattern LAST_BRACKETS = Pattern.compile("\\(([^()]+)\\)$");

    private FileTrouble() {}

    /** For brackets after what happened: {@code permission denied}. Never the bare path that some messages consist of. */
    public static String words(IOException e) {
        if (e instanceof NoSuchFileException) {
            return "no such file or folder";
        }
        if (e instanceof AccessDeniedException) {
            return "permission denied";
        }
        if (e instanceof NotDirectoryException) {
            return "not a folder";
        }
        if (e instanceof DirectoryNotEmptyException) {
            return "the folder is not empty";
        }
        if (e instanceof FileAlreadyExistsException) {
            return "a file stands where a folder must be";
        }
        if (e instanceof FileSystemException f) {
            return f.getReason() == null ? "the system does not say why" : plain(f.getReason());
        }
        String message = e.getMessage() == null ? "" : e.getMessage().strip();
        Matcher reason = LAST_BRACKETS.matcher(message);
        if (e instanceof FileNotFoundException && reason.find()) {
            return plain(reason.group(1));
        }
        return message.isEmpty() ? "the system does not say why" : message;
    }

    /** As the system says it, a little letter first. */
    private static String plain(String reason) {
        return reason.isEmpty() ? reason : Character.toLowerCase(reason.charAt(0)) + reason.substring(1);
    }
}
