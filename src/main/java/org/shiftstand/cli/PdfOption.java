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
            throw refused("is the report as PDF, and no page was asked for; name a folder for it");
        }
        folder.mustNotHold(pdf(page));
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
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    html.toString(),
                    0,
                    0,
                    "cannot be read again (" + Output.cause(e) + "); check that it is still there, and its rights"));
        }
    }

    private static String pdf(String page) {
        return page.replaceFirst("\\.html$", "") + ".pdf";
    }

    private static BadInput refused(String why) {
        return new BadInput(new Problem(NAME, 0, 0, why));
    }
}
