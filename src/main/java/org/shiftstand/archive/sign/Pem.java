package org.shiftstand.archive.sign;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.Problem;

/**
 * A key in its textual encoding, RFC 7468.
 *
 * @param label what it is
 * @param der its bytes
 */
record Pem(String label, byte[] der) {
    static final String ENCRYPTED = "ENCRYPTED PRIVATE KEY";
    static final String PLAIN = "PRIVATE KEY";
    static final String PUBLIC = "PUBLIC KEY";

    private static final int MOST_BYTES = 1 << 14;
    private static final Pattern BLOCK =
            Pattern.compile("-----BEGIN ([A-Z0-9 ]+)-----\\s+([A-Za-z0-9+/=\\s]+)-----END ([A-Z0-9 ]+)-----\\s*");

    static String text(String label, byte[] der) {
        return "-----BEGIN " + label + "-----\n"
                + Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(der) + "\n-----END " + label + "-----\n";
    }

    /** @throws BadInput where it is no single block of PEM */
    static Pem read(Path file) {
        try (InputStream in = Files.newInputStream(file)) {
            String text = new String(in.readNBytes(MOST_BYTES), StandardCharsets.US_ASCII);
            Matcher block = BLOCK.matcher(text);
            if (block.matches() && block.group(1).equals(block.group(3))) {
                return new Pem(
                        block.group(1),
                        Base64.getDecoder().decode(block.group(2).replaceAll("\\s", "")));
            }
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    file.toString(),
                    0,
                    0,
                    Files.exists(file)
                            ? "cannot be read (" + FileTrouble.words(e) + "); check its rights"
                            : "no such file; check its name and folder"));
        } catch (IllegalArgumentException e) {
            // no base64: told below
        }
        throw new BadInput(
                new Problem(file.toString(), 0, 0, "is no key in PEM; expected a file as 'key new' makes it"));
    }
}
