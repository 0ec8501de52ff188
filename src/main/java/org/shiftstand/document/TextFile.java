package org.shiftstand.document;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CoderResult;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * A text file that people wrote: at most 1 MiB, UTF-8.
 *
 * @param name as the user named it, for messages
 * @param place where it stands: a path, {@code bundled:} with its path in the bundle, or empty for text out of a record
 * @param text its whole text, with a byte order mark if it has one: encoding it again gives the file's bytes
 * @param sha256 digest of its bytes, lower-case hex
 */
public record TextFile(String name, String place, String text, String sha256) {
    /** Most bytes that are read. */
    static final int MOST_BYTES = 1 << 20;

    static final String BUNDLED = "bundled:";

    /** Text that stands in no file of its own, such as a spec kept in a run record. */
    public static TextFile of(String name, String text) {
        return new TextFile(name, "", text, sha256(text.getBytes(StandardCharsets.UTF_8)));
    }

    /**
     * Reads a regular file. Devices, pipes and folders are refused without opening them.
     *
     * @param name as the user named it, for messages
     * @throws BadInput where it is missing, no regular file, not readable, over 1 MiB or not UTF-8
     */
    public static TextFile read(String name, Path path) {
        if (Files.isDirectory(path)) {
            throw bad(name, "is a folder; expected a YAML file");
        }
        if (!Files.exists(path)) {
            boolean link = Files.exists(path, LinkOption.NOFOLLOW_LINKS);
            throw bad(
                    name,
                    link
                            ? "is a symbolic link to a file that does not exist; expected a link to one that does"
                            : "no such file; check its name and folder");
        }
        if (!Files.isRegularFile(path)) {
            throw bad(name, "is a device, pipe or socket; expected a regular file");
        }
        try (InputStream in = Files.newInputStream(path)) {
            return of(name, path.toString(), in.readNBytes(MOST_BYTES + 1));
        } catch (AccessDeniedException e) {
            throw bad(name, "may not be read by this user; give it read permission");
        } catch (IOException e) {
            throw bad(
                    name,
                    "cannot be read (" + FileTrouble.words(e) + "); check its rights, and that its disk is there");
        }
    }

    static TextFile of(String name, String place, byte[] bytes) {
        if (bytes.length > MOST_BYTES) {
            throw bad(name, "is larger than 1 MiB; expected a file that a person wrote");
        }
        return new TextFile(name, place, decode(name, bytes), sha256(bytes));
    }

    private static String decode(String name, byte[] bytes) {
        if (bytes.length > 1 && (bytes[0] & bytes[1] & 0xFE) == 0xFE && bytes[0] != bytes[1]) {
            throw bad(name, "is encoded as UTF-16; expected UTF-8. Save it as UTF-8");
        }
        var decoder = StandardCharsets.UTF_8.newDecoder();
        var in = ByteBuffer.wrap(bytes);
        var out = CharBuffer.allocate(bytes.length);
        CoderResult result = decoder.decode(in, out, true);
        String text = out.flip().toString();
        if (result.isError()) {
            Place place = Place.at(text, text.length());
            int wrong = bytes[in.position()] & 0xFF;
            throw new BadInput(new Problem(
                    name,
                    place.line(),
                    place.column(),
                    "byte 0x" + HexFormat.of().withUpperCase().toHexDigits((byte) wrong)
                            + " is not valid UTF-8; expected UTF-8. Save the file as UTF-8"));
        }
        return text;
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    private static BadInput bad(String name, String text) {
        return new BadInput(new Problem(name, 0, 0, text));
    }
}
