package org.shiftstand.cli;

import java.io.Console;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.sign.SigningKey;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import picocli.CommandLine.Option;

/** The passphrase of a key: from a file that only its owner may read, else asked for at the terminal. Wiped after use. */
final class Passphrase {
    private static final int SHORTEST = 8;
    private static final int MOST_BYTES = 1024;

    @Option(
            names = "--passphrase-file",
            paramLabel = "FILE",
            description =
                    "File whose first line is the passphrase; only its owner may read it (chmod 600). Default: asked"
                            + " for.")
    private @Nullable Path file;

    /** Uses the passphrase of a key that is there. */
    <T> T use(String of, Function<char[], T> with) {
        return wiped(file == null ? asked("Passphrase of " + of + ": ") : fromFile(file), with);
    }

    /** Uses a new passphrase, typed twice where it is asked for. */
    <T> T choose(String of, Function<char[], T> with) {
        return wiped(file == null ? twice(of) : fromFile(file), typed -> {
            if (typed.length < SHORTEST) {
                throw bad("the passphrase has " + typed.length + " characters; expected " + SHORTEST + " or more");
            }
            return with.apply(typed);
        });
    }

    private static <T> T wiped(char[] passphrase, Function<char[], T> with) {
        try {
            return with.apply(passphrase);
        } finally {
            Arrays.fill(passphrase, '\0');
        }
    }

    private static char[] twice(String of) {
        char[] one = asked("Passphrase for " + of + ", " + SHORTEST + " characters or more: ");
        char[] other = asked("Again: ");
        if (!Arrays.equals(one, other)) {
            throw bad("the two passphrases are not the same; nothing was made. Try again");
        }
        Arrays.fill(other, '\0');
        return one;
    }

    private static char[] asked(String prompt) {
        // from JDK 22 on there is a console also where nobody sits; the launcher knows
        Console console = "false".equals(System.getProperty("shiftstand.keyboard")) ? null : System.console();
        char[] typed = console == null ? null : console.readPassword("%s", prompt);
        if (typed == null) {
            throw bad("there is no terminal to ask at; name a file that has the passphrase in its first line, with"
                    + " --passphrase-file");
        }
        return typed;
    }

    private static char[] fromFile(Path file) {
        SigningKey.refuseReadableByOthers(file);
        try (InputStream in = Files.newInputStream(file)) {
            byte[] bytes = in.readNBytes(MOST_BYTES);
            CharBuffer text = StandardCharsets.UTF_8.decode(ByteBuffer.wrap(bytes));
            Arrays.fill(bytes, (byte) 0);
            int end = 0;
            while (end < text.length() && text.charAt(end) != '\n' && text.charAt(end) != '\r') {
                end++;
            }
            char[] line = new char[end];
            text.get(line);
            Arrays.fill(text.array(), '\0');
            return line;
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    file.toString(), 0, 0, "cannot be read (" + Output.cause(e) + "); check its name and rights"));
        }
    }

    private static BadInput bad(String what) {
        return new BadInput(new Problem("passphrase", 0, 0, what));
    }
}
