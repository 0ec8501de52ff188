package org.shiftstand.cli;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.report.JUnitXml;
import picocli.CommandLine.Option;

/** The result as JUnit XML, for commands that judge. */
final class JUnitOption {
    static final String NAME = "--junit";

    @Option(names = NAME, paramLabel = "FILE", description = "Write the result as JUnit XML, for a build server.")
    private @Nullable Path file;

    /** Refuses before any work is done where the file is there and may not be overwritten. */
    void ready(boolean force) {
        if (file != null && Files.isDirectory(file)) {
            throw refused(file, "is a folder; expected the name of a file to write the result to");
        }
        if (file != null && !force && Files.exists(file)) {
            throw refused(file, "exists already, and nothing is overwritten; name another file, or add --force");
        }
    }

    private static BadInput refused(Path file, String why) {
        return new BadInput(new Problem(file.toString(), 0, 0, why));
    }

    boolean wanted() {
        return file != null;
    }

    /**
     * Suites to come, one after another; the file appears once {@link Results#write} is called.
     *
     * @param name of the whole
     */
    Results results(String name) {
        return new Results(name);
    }

    /** Suites so far, packed: those of thousands of runs need little room. */
    final class Results {
        private final String name;
        private final ByteArrayOutputStream packed = new ByteArrayOutputStream();
        private final GZIPOutputStream suites;
        private JUnitXml.Counts counts = JUnitXml.Counts.NONE;

        private Results(String name) {
            this.name = name;
            try {
                this.suites = new GZIPOutputStream(packed);
            } catch (IOException e) {
                throw new UncheckedIOException(e); // memory takes everything
            }
        }

        Results add(JUnitXml.Suite suite) {
            counts = counts.plus(suite.counts());
            try {
                suites.write(bytes(JUnitXml.element(suite)));
            } catch (IOException e) {
                throw new UncheckedIOException(e); // memory takes everything
            }
            return this;
        }

        /** Writes the file, where one was asked for; it appears whole or not at all. */
        void write(boolean force) throws IOException {
            suites.finish();
            if (file != null) {
                Output.writeWhole(file, force, this::writeTo);
            }
        }

        private void writeTo(OutputStream out) throws IOException {
            out.write(bytes(JUnitXml.head(name, counts)));
            new GZIPInputStream(new ByteArrayInputStream(packed.toByteArray())).transferTo(out);
            out.write(bytes(JUnitXml.END));
        }
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
