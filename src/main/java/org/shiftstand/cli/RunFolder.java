package org.shiftstand.cli;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** The folder of one run's results. Made exclusively: nothing that exists is overwritten, no half-written file has its final name. */
final class RunFolder {
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

    private final Path folder;
    private final boolean overwrite;

    private RunFolder(Path folder, boolean overwrite) {
        this.folder = folder;
        this.overwrite = overwrite;
    }

    /** {@code parent/UNIT-UTCSTAMP-NNN}, the first number that is free. */
    static RunFolder create(Path parent, String unit, Instant now) {
        try {
            Files.createDirectories(parent);
            for (int n = 1; n < 1000; n++) {
                Path folder = parent.resolve(String.format(Locale.ROOT, "%s-%s-%03d", unit, STAMP.format(now), n));
                try {
                    Files.createDirectory(folder);
                    return new RunFolder(folder, false);
                } catch (FileAlreadyExistsException taken) {
                    // another run of this second has it: try the next number
                }
            }
        } catch (IOException e) {
            throw unwritable(parent, e);
        }
        throw new BadInput(new Problem(
                parent.toString(),
                0,
                0,
                "a thousand runs of unit " + unit + " in one second; wait a second and start again"));
    }

    /**
     * A folder the user named: must be new or empty of our files, unless {@code force}. It is made with the first file that is
     * written to it, so that work that fails leaves no empty one; whether it can be made is told at once.
     */
    static RunFolder named(Path folder, boolean force) {
        Path there = folder.toAbsolutePath();
        while (!Files.exists(there) && there.getParent() != null) {
            there = there.getParent();
        }
        if (!Files.isDirectory(there)) {
            throw unwritable(folder, new FileAlreadyExistsException(there.toString()));
        }
        if (!Files.isWritable(there)) {
            throw unwritable(folder, new AccessDeniedException(there.toString()));
        }
        return new RunFolder(folder, force);
    }

    Path path() {
        return folder;
    }

    Path resolve(String name) {
        return folder.resolve(name);
    }

    /** Refuses before any work is done when one of these files is there already. */
    RunFolder mustNotHold(String... names) {
        if (!overwrite) {
            for (String name : names) {
                if (Files.exists(folder.resolve(name))) {
                    throw new BadInput(new Problem(
                            folder.resolve(name).toString(),
                            0,
                            0,
                            "exists already, and nothing is overwritten; name another folder, or add --force"));
                }
            }
        }
        return this;
    }

    /** Writes a file under a temporary name and moves it to its own once it is complete. */
    Path write(String name, Content content) {
        return Output.writeWhole(folder.resolve(name), overwrite, content);
    }

    static BadInput unwritable(Path where, IOException e) {
        return new BadInput(new Problem(
                where.toString(),
                0,
                0,
                "cannot be written (" + Output.cause(e) + "); choose a folder you may write to with --out"));
    }

    /** Writes a file's content. */
    interface Content {
        void writeTo(OutputStream out) throws IOException;
    }

    static final StandardCopyOption ATOMIC = StandardCopyOption.ATOMIC_MOVE;
}
