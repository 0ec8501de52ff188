package org.shiftstand.archive;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.zip.CRC32;
import java.util.zip.CheckedInputStream;
import java.util.zip.ZipEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipFile;

/** A bag in a {@code .zip}. The file must be, byte for byte, what the same deflated files would be written as. */
final class ZipSource implements EntrySource {
    /** End of the central directory, APPNOTE 4.3.16; our ZIPs have no comment after it. */
    private static final int END_SIGNATURE = 0x06054b50;

    private static final int END_OCTETS = 22;
    private static final int DIRECTORY_OCTETS_AT = 12;
    private static final long MOST_DIRECTORY_OCTETS = 4 << 20;

    private final Path file;
    private final BagLimits limits;

    ZipSource(Path file, BagLimits limits) {
        this.file = file;
        this.limits = limits;
    }

    @Override
    public void visit(Visitor visitor, List<Finding> findings) throws IOException {
        checkDirectory();
        PackedEntries entries = new PackedEntries(String.valueOf(file.getFileName()), limits, findings);
        Expected expected = new Expected();
        int before = findings.size();
        try (ZipFile zip = ZipFile.builder().setPath(file).get();
                InputStream raw = new BufferedInputStream(Files.newInputStream(file), 1 << 16)) {
            Bytes bytes = new Bytes(expected.watching(raw));
            Optional<ZipSink> again = Optional.empty();
            for (ZipArchiveEntry entry : Collections.list(zip.getEntriesInPhysicalOrder())) {
                Optional<String> path = path(entry, entries);
                if (path.isPresent()) {
                    content(path.get(), entry, zip, visitor, findings);
                    again = Optional.of(again.orElseGet(() -> new ZipSink(bytes.checkedBy(expected), entries.top())));
                    write(path.get(), entry, zip, again.get());
                }
            }
            if (again.isPresent()) {
                again.get().close();
            }
            bytes.rest();
        } catch (IllegalArgumentException | ArithmeticException | NegativeArraySizeException e) {
            throw new Gzip.Broken("its headers are damaged"); // the library lets some of these through
        }
        if (!expected.same() && findings.size() == before) {
            entries.differs();
        }
    }

    /** Before the library reads a directory into memory: that there is one, where it should be, and of a bag's size. */
    private void checkDirectory() throws IOException {
        try (RandomAccessFile zip = new RandomAccessFile(file.toFile(), "r")) {
            byte[] end = new byte[END_OCTETS];
            if (zip.length() < END_OCTETS) {
                throw new Gzip.Broken("it is no ZIP file, or it ends in the middle");
            }
            zip.seek(zip.length() - END_OCTETS);
            zip.readFully(end);
            ByteBuffer fields = ByteBuffer.wrap(end).order(ByteOrder.LITTLE_ENDIAN);
            if (fields.getInt(0) != END_SIGNATURE) {
                throw new Gzip.Broken(
                        "it does not end as a ZIP file of a bag does: it is cut short, or something follows");
            }
            long directory = fields.getInt(DIRECTORY_OCTETS_AT) & 0xffffffffL;
            if (directory > MOST_DIRECTORY_OCTETS) {
                throw new Gzip.Bomb("has a directory of " + directory + " bytes");
            }
        }
    }

    private static Optional<String> path(ZipArchiveEntry entry, PackedEntries entries) throws IOException {
        if (entry.isUnixSymlink()) {
            entries.noFile(entry.getName(), "a link");
            return Optional.empty();
        }
        if (entry.isDirectory()
                || entry.getMethod() != ZipEntry.DEFLATED
                || entry.getGeneralPurposeBit().usesEncryption()) {
            entries.noFile(entry.getName(), "no plain deflated file");
            return Optional.empty();
        }
        return entries.path(entry.getName());
    }

    private void content(String path, ZipArchiveEntry entry, ZipFile zip, Visitor visitor, List<Finding> findings)
            throws IOException {
        try (InputStream in = zip.getInputStream(entry);
                Bounded bounded = new Bounded(in, entry.getSize(), entry.getCompressedSize(), limits)) {
            CheckedInputStream checked = new CheckedInputStream(bounded, new CRC32());
            visitor.file(path, checked);
            checked.transferTo(OutputStream.nullOutputStream());
            if (checked.getChecksum().getValue() != entry.getCrc() || bounded.count() != entry.getSize()) {
                findings.add(new Finding(
                        path, Finding.Kind.CHANGED, "its check sum or length in the ZIP file does not hold"));
            }
        }
    }

    private static void write(String path, ZipArchiveEntry entry, ZipFile zip, ZipSink again) throws IOException {
        try (InputStream raw = zip.getRawInputStream(entry)) {
            again.deflated(path, entry.getSize(), entry.getCrc(), entry.getCompressedSize(), raw);
        }
    }

    /** Reads the file as far as was written. */
    private static final class Bytes {
        private final InputStream file;

        Bytes(InputStream file) {
            this.file = file;
        }

        OutputStream checkedBy(Expected expected) {
            return new OutputStream() {
                @Override
                public void write(int b) throws IOException {
                    write(new byte[] {(byte) b}, 0, 1);
                }

                @Override
                public void write(byte[] b, int off, int len) throws IOException {
                    file.readNBytes(len);
                    expected.write(b, off, len);
                }
            };
        }

        void rest() throws IOException {
            file.transferTo(OutputStream.nullOutputStream());
        }
    }
}
