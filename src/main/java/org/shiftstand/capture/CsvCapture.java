package org.shiftstand.capture;

import java.io.BufferedInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * Opens CSV captures: RFC 4180, plain or gzip (told by its first bytes), header row, one row a sample.
 *
 * <p>Columns {@code time_s} (seconds, increasing), {@code hall_sin}, {@code hall_cos} are required; {@code hall_power}
 * (0 or 1), {@code window} (whole number), {@code current_a}, {@code supply_v} and {@code request} (−1, 0, 1) are
 * optional. Unknown columns are kept aside with a notice. CRLF or LF, quoted fields, a byte-order mark, comment lines
 * ({@code #}) before the header and a missing last line break are accepted; a last line cut short is dropped with a
 * notice.
 *
 * <p>A file is parsed once and spooled: up to 64 MiB in memory, beyond that in a temporary file that vanishes with the
 * process. What is read back is bit for bit what {@code Double.parseDouble} gives for the text, times the scale.
 */
public final class CsvCapture {
    /** Spooled bytes kept in memory. */
    static final long MEMORY_LIMIT = 64L << 20;

    private CsvCapture() {}

    /**
     * Reads a capture, blocking until its last row.
     *
     * @return the samples; close it to free the spool
     * @throws BadInput naming line and column of what cannot be used, up to ten problems at once
     */
    public static SampleSource open(Path file, CsvOptions options) {
        return open(file, options, MEMORY_LIMIT, Path.of(System.getProperty("java.io.tmpdir")));
    }

    static SpooledSource open(Path file, CsvOptions options, long memoryLimit, Path spoolFolder) {
        if (Files.isDirectory(file)) {
            throw bad(file, "is a folder; expected a CSV capture. Name the file inside it.");
        }
        if (!Files.exists(file)) {
            throw bad(file, "no such file; expected a CSV capture. Check the name and the folder.");
        }
        MessageDigest digest = sha256();
        try (InputStream raw = new DigestInputStream(Files.newInputStream(file), digest);
                InputStream in = new BufferedInputStream(raw, 1 << 16)) {
            SpooledSource source = parse(file, in, digest, options, memoryLimit, spoolFolder);
            return source;
        } catch (IOException e) {
            throw bad(file, "cannot be read (" + e.getMessage() + "); expected a readable file. Check its rights.");
        }
    }

    private static SpooledSource parse(
            Path file, InputStream in, MessageDigest digest, CsvOptions options, long memoryLimit, Path spoolFolder)
            throws IOException {
        in.mark(2);
        boolean zipped = in.read() == 0x1f && in.read() == 0x8b; // RFC 1952, 2.3.1
        in.reset();
        var parser = new CsvParser(file.toString(), options, new Spool(memoryLimit, spoolFolder));
        try {
            InputStream text = zipped ? new GZIPInputStream(in, 1 << 16) : in;
            parser.parse(text);
            in.transferTo(java.io.OutputStream.nullOutputStream()); // what follows a gzip member belongs to the digest
            return parser.source(nameOf(file), HexFormat.of().formatHex(digest.digest()));
        } catch (EOFException e) {
            parser.discard();
            throw bad(
                    file,
                    "the compressed file is cut short after line " + parser.line()
                            + "; expected a whole gzip file. Nothing was measured. Copy the file again.");
        } catch (ZipException e) {
            parser.discard();
            throw bad(
                    file,
                    "the compressed file is damaged after line " + parser.line() + " (" + e.getMessage()
                            + "); expected a whole gzip file. Nothing was measured. Copy the file again.");
        } catch (IOException | RuntimeException e) {
            parser.discard();
            throw e;
        }
    }

    private static String nameOf(Path file) {
        Path name = file.getFileName();
        return name == null ? file.toString() : name.toString();
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new UncheckedIOException(new IOException("this Java has no SHA-256", e));
        }
    }

    private static BadInput bad(Path file, String text) {
        return new BadInput(new Problem(file.toString(), 0, 0, text));
    }
}
