package org.shiftstand.archive;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveInputStream;

/** A bag in a {@code .tar.gz}. Its tar stream must be, byte for byte, what the same files would be written as. */
final class TarSource implements EntrySource {
    private final Path file;
    private final BagLimits limits;

    TarSource(Path file, BagLimits limits) {
        this.file = file;
        this.limits = limits;
    }

    @Override
    public void visit(Visitor visitor, List<Finding> findings) throws IOException {
        PackedEntries entries = new PackedEntries(String.valueOf(file.getFileName()), limits, findings);
        Expected expected = new Expected();
        int before = findings.size();
        try (InputStream raw = Gzip.unpacking(new BufferedInputStream(Files.newInputStream(file), 1 << 16), limits);
                InputStream watched = expected.watching(raw);
                TarArchiveInputStream tar = new TarArchiveInputStream(watched, StandardCharsets.UTF_8.name())) {
            Optional<TarSink> again = Optional.empty();
            for (TarArchiveEntry entry = tar.getNextEntry(); entry != null; entry = tar.getNextEntry()) {
                Optional<String> path = path(entry, entries);
                if (path.isPresent()) {
                    if (again.isEmpty()) {
                        again = Optional.of(new TarSink(expected, entries.top()));
                    }
                    take(path.get(), entry.getSize(), tar, visitor, again.get());
                }
            }
            if (again.isPresent()) {
                again.get().close();
            }
            watched.transferTo(OutputStream.nullOutputStream());
        } catch (IllegalArgumentException | ArithmeticException e) {
            throw new Gzip.Broken("its headers are damaged"); // the library lets some of these through
        }
        if (!expected.same() && findings.size() == before) {
            entries.differs();
        }
    }

    private static Optional<String> path(TarArchiveEntry entry, PackedEntries entries) throws IOException {
        if (entry.isSymbolicLink() || entry.isLink()) {
            entries.noFile(entry.getName(), "a link");
            return Optional.empty();
        }
        if (!entry.isFile() || entry.isSparse() || entry.isDirectory()) {
            entries.noFile(entry.getName(), "no plain file");
            return Optional.empty();
        }
        return entries.path(entry.getName());
    }

    /** What the visitor reads is written again at once. */
    private static void take(String path, long octets, InputStream content, Visitor visitor, TarSink again)
            throws IOException {
        OutputStream copy = again.begin(path, octets);
        InputStream copied = new Copied(content, copy);
        visitor.file(path, copied);
        copied.transferTo(OutputStream.nullOutputStream());
        again.end();
    }
}
