package org.shiftstand.capture;

import java.io.BufferedInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.Problem;

/**
 * What a capture of an unknown logger was recognised to be, and why; what was not recognised is asked, never guessed.
 *
 * @param dialect how to read it; empty while there are questions
 * @param plain whether it is the plain dialect, which needs no mapping
 * @param layout what separates fields and decimals, and why it is taken so
 * @param findings one for each column, in order
 * @param notes what else a reader should know
 * @param questions what must be told first, each with the options that tell it
 * @param rows samples seen
 */
public record Recognition(
        Optional<Dialect> dialect,
        boolean plain,
        List<String> layout,
        List<Finding> findings,
        List<String> notes,
        List<Question> questions,
        long rows) {
    public Recognition {
        layout = List.copyOf(layout);
        findings = List.copyOf(findings);
        notes = List.copyOf(notes);
        questions = List.copyOf(questions);
    }

    /**
     * What one column is.
     *
     * @param column its header
     * @param use what it is read as, such as {@code hall_sin} or {@code hall_sin, subtracted}; {@code not used}
     * @param because the evidence
     */
    public record Finding(String column, String use, String because) {}

    /**
     * What is to be told.
     *
     * @param what is not known, and why it cannot be told from the file
     * @param options that tell it, as typed
     */
    public record Question(String what, List<String> options) {
        public Question {
            options = List.copyOf(options);
        }
    }

    /**
     * Reads a capture through and says what it is. Blocks until its last row; memory does not depend on its length.
     *
     * @param name what the dialect is to be called
     * @param answers what the user said
     * @throws BadInput where it is no capture at all, or an answer names what is not there
     */
    public static Recognition of(Path file, String name, Answers answers) {
        if (Files.isDirectory(file)) {
            throw bad(file, "is a folder; expected a capture. Name the file inside it.");
        }
        if (!Files.exists(file)) {
            throw bad(file, "no such file; expected a capture. Check the name and the folder.");
        }
        if (!Files.isRegularFile(file)) {
            throw bad(file, "is a device, pipe or socket; expected a file, which is read twice.");
        }
        try (InputStream in = new BufferedInputStream(Files.newInputStream(file), 1 << 16)) {
            in.mark(2);
            boolean zipped = in.read() == 0x1f && in.read() == 0x8b; // RFC 1952, 2.3.1
            in.reset();
            InputStream text = zipped ? new GZIPInputStream(in, 1 << 16) : in;
            return new Recogniser(file.toString(), name, Survey.of(file.toString(), text, answers), answers)
                    .recognise();
        } catch (EOFException e) {
            throw bad(file, "the compressed file is cut short; expected a whole gzip file. Copy the file again.");
        } catch (ZipException e) {
            throw bad(
                    file,
                    "the compressed file is damaged (" + e.getMessage()
                            + "); expected a whole gzip file. Copy the file again.");
        } catch (IOException e) {
            throw bad(
                    file, "cannot be read (" + FileTrouble.words(e) + "); expected a readable file. Check its rights.");
        }
    }

    private static BadInput bad(Path file, String text) {
        return new BadInput(new Problem(file.toString(), 0, 0, text));
    }
}
