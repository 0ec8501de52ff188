package org.shiftstand.capture;

import java.io.BufferedInputStream;
import java.io.EOFException;
import java.io.FileInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Objects;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
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

    /** How far a compressed file is read on, to see whether it is damaged, once its text cannot be used. */
    private static final long LOOK_AHEAD = 256L << 20;

    /** Smaller files are read before a second thread has started. */
    private static final long READ_AHEAD = 16L << 20;

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
        var spool = new Spool(memoryLimit, spoolFolder);
        boolean done = false;
        try (InputStream in = new BufferedInputStream(digested(file, digest), 1 << 16)) {
            SpooledSource.Parsed parsed = parse(file, in, options, spool);
            readOn(in); // what follows a last row or gzip member belongs to the digest
            String sha256 = HexFormat.of().formatHex(digest.digest());
            var source = new SpooledSource(parsed, new SourceIdentity("csv", nameOf(file), sha256));
            done = true;
            return source;
        } catch (UncheckedIOException e) {
            throw bad(
                    file,
                    e.getMessage() + " (" + FileTrouble.words(Objects.requireNonNull(e.getCause()))
                            + "); expected room for about as many bytes as the file"
                            + " has. Free some, or name another folder with -Djava.io.tmpdir=FOLDER.");
        } catch (IOException e) {
            throw bad(
                    file, "cannot be read (" + FileTrouble.words(e) + "); expected a readable file. Check its rights.");
        } finally {
            if (!done) {
                spool.close();
            }
        }
    }

    /** Large files on a second thread: digesting takes about a tenth of what parsing does. */
    private static InputStream digested(Path file, MessageDigest digest) throws IOException {
        var in = new FileInputStream(file.toFile());
        return Files.size(file) < READ_AHEAD ? new DigestInputStream(in, digest) : new DigestedAhead(in, digest);
    }

    private static SpooledSource.Parsed parse(Path file, InputStream in, CsvOptions options, Spool spool)
            throws IOException {
        in.mark(2);
        boolean zipped = in.read() == 0x1f && in.read() == 0x8b; // RFC 1952, 2.3.1
        in.reset();
        long line = 1;
        try {
            InputStream text = zipped ? new GZIPInputStream(in, 1 << 16) : in;
            Parser parser = parser(file.toString(), text, options, spool);
            try {
                return parser.parse();
            } catch (BadInput e) {
                if (zipped) {
                    text.skip(LOOK_AHEAD); // damage is only told at the end, and explains better than its rubble
                }
                throw e;
            } finally {
                line = parser.line();
            }
        } catch (EOFException e) {
            throw bad(
                    file,
                    "the compressed file is cut short after line " + line
                            + "; expected a whole gzip file. Nothing was measured. Copy the file again.");
        } catch (ZipException e) {
            throw bad(
                    file,
                    "the compressed file is damaged after line " + line + " (" + e.getMessage()
                            + "); expected a whole gzip file. Nothing was measured. Copy the file again.");
        }
    }

    private static Parser parser(String file, InputStream text, CsvOptions options, Spool spool) {
        return options.dialect()
                .<Parser>map(dialect -> new DialectParser(file, text, dialect, spool))
                .orElseGet(() -> new CsvParser(file, text, options, spool));
    }

    /** Parses a capture, plain or of a dialect. */
    interface Parser {
        SpooledSource.Parsed parse() throws IOException;

        /** Line reached. */
        long line();
    }

    private static void readOn(InputStream in) throws IOException {
        var dropped = new byte[8192];
        while (in.read(dropped) >= 0) {
            // until the end
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
