package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** Several files of one folder that are written all or not at all. */
final class FilesTogether {
    private final Path folder;

    /** Where what was there before lies meanwhile, by the file that took its place. */
    private final Map<Path, Path> before = new LinkedHashMap<>();

    private final List<Path> placed = new ArrayList<>();

    private FilesTogether(Path folder) {
        this.folder = folder;
    }

    /**
     * Writes them.
     *
     * @param overwrite else nothing is written where one of them exists
     * @throws BadInput with every file that exists, or with what could not be written; then all is as it was
     */
    static void write(Path folder, Map<String, String> texts, boolean overwrite) {
        List<Problem> taken = new ArrayList<>();
        for (String name : texts.keySet()) {
            Path file = folder.resolve(name);
            if (Files.isDirectory(file) || !overwrite && Files.exists(file)) {
                taken.add(new Problem(
                        file.toString(),
                        0,
                        0,
                        Files.isDirectory(file)
                                ? "is a folder, and a file of this name is to be written; name another folder"
                                : "exists already, and nothing is overwritten; name another folder, or add --force"));
            }
        }
        if (!taken.isEmpty()) {
            throw new BadInput(taken);
        }
        new FilesTogether(folder).write(texts);
    }

    private void write(Map<String, String> texts) {
        List<Path> made = new ArrayList<>();
        Map<Path, Path> partials = new LinkedHashMap<>();
        try {
            made.addAll(missing(folder));
            Files.createDirectories(folder);
            for (Map.Entry<String, String> text : texts.entrySet()) {
                Path partial = folder.resolve(".partial-" + text.getKey());
                partials.put(folder.resolve(text.getKey()), partial);
                Files.writeString(partial, text.getValue());
            }
            for (Map.Entry<Path, Path> partial : partials.entrySet()) {
                place(partial.getValue(), partial.getKey());
            }
            for (Path old : before.values()) {
                Files.deleteIfExists(old);
            }
        } catch (IOException e) {
            putBack();
            partials.values().forEach(FilesTogether::discard);
            made.forEach(FilesTogether::discard);
            throw unwritable(folder, e);
        }
    }

    private void place(Path partial, Path file) throws IOException {
        if (Files.exists(file)) {
            Path old = file.resolveSibling(".before-" + file.getFileName());
            Files.move(file, old, StandardCopyOption.REPLACE_EXISTING);
            before.put(file, old);
        }
        Files.move(partial, file, RunFolder.ATOMIC);
        placed.add(file);
    }

    private void putBack() {
        placed.forEach(FilesTogether::discard);
        before.forEach((file, old) -> {
            try {
                Files.move(old, file, StandardCopyOption.REPLACE_EXISTING);
            } catch (IOException e) {
                throw unwritable(old, e); // the old text is there, under this name
            }
        });
    }

    /** Folders that are to be made, the innermost first. */
    private static List<Path> missing(Path folder) {
        List<Path> missing = new ArrayList<>();
        for (Path at = folder.toAbsolutePath(); at != null && !Files.exists(at); at = at.getParent()) {
            missing.add(at);
        }
        return missing;
    }

    private static BadInput unwritable(Path where, IOException e) {
        return new BadInput(new Problem(
                where.toString().isEmpty() ? "." : where.toString(),
                0,
                0,
                "cannot be written (" + Output.cause(e)
                        + "); nothing was changed. Name a folder that you may write to"));
    }

    private static void discard(Path file) {
        try {
            Files.deleteIfExists(file);
        } catch (IOException e) {
            file.toFile().deleteOnExit(); // the first cause is what matters
        }
    }
}
