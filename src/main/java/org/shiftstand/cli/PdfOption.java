package org.shiftstand.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.report.pdf.PdfPage;
import picocli.CommandLine.Option;

/** The same page as PDF, beside it, for commands that write one. */
final class PdfOption {
    private static final String NAME = "--pdf";

    @Option(names = NAME, description = "Write the report as PDF as well, beside the page and by its name.")
    private boolean wanted;

    /**
     * Refuses before any work is done where it cannot be.
     *
     * @param folder of the page; none where no page was asked for
     * @param page name of the page in it
     */
    void ready(@Nullable RunFolder folder, String page) {
        if (!wanted) {
            return;
        }
        ready();
        if (folder == null) {
            throw refused(
                    "is the report as PDF, and no page was asked for; say where it goes, by --report, --out or --html");
        }
        folder.mustNotHold(pdf(page));
    }

    /** The same of a page that is a file by itself; none where no page was asked for. */
    void ready(@Nullable Path page, boolean force) {
        if (wanted) {
            ready(page == null ? null : folder(page, force), page == null ? "" : name(page));
        }
    }

    /** The same where the folder is made later, as one of its own. */
    void ready() {
        if (wanted && !PdfPage.isPossible()) {
            throw refused(
                    "needs libraries that only it loads and that are not there; start the program by ./shiftstand, or"
                            + " add target/pdf-lib/* to the class path");
        }
    }

    /** Sets the page of this name in the folder, which is there, as PDF; where it was asked for. */
    void write(RunFolder folder, String page) {
        if (!wanted) {
            return;
        }
        SilentLog.start();
        Path html = folder.resolve(page);
        try {
            String text = Files.readString(html, StandardCharsets.UTF_8);
            folder.write(pdf(page), out -> PdfPage.write(text, out));
        } catch (PdfPage.NoFonts e) {
            throw refused("is not written, since this Java cannot open fonts; install a whole Java (not one cut down)"
                    + " and the system's freetype library, or print " + html
                    + ", which is written, from a browser");
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    html.toString(),
                    0,
                    0,
                    "cannot be read again (" + Output.cause(e) + "); check that it is still there, and its rights"));
        }
    }

    /** Sets the page that is this file as PDF, beside it; where it was asked for. */
    void write(Path page, boolean force) {
        if (wanted) {
            write(folder(page, force), name(page));
        }
    }

    private static RunFolder folder(Path page, boolean force) {
        Path folder = page.toAbsolutePath().getParent();
        return RunFolder.named(folder == null ? page : folder, force);
    }

    private static String name(Path page) {
        Path name = page.getFileName();
        return name == null ? "" : name.toString();
    }

    private static String pdf(String page) {
        return page.replaceFirst("\\.html$", "") + ".pdf";
    }

    private static BadInput refused(String why) {
        return new BadInput(new Problem(NAME, 0, 0, why));
    }
}
