package org.shiftstand.report;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.Overlay;
import org.shiftstand.learn.Proof;
import org.thymeleaf.context.Context;

/**
 * Writes what was learned of a drive as one self-contained HTML page: inline SVG and CSS, no script, nothing fetched.
 *
 * <p>The page is also well-formed XML, and below 2 MB for any number and length of captures. The same input and version
 * give the same text, but for the line that says when the page was made.
 */
public final class LearnedPage {
    private LearnedPage() {}

    /**
     * Writes the whole page; does not close the writer.
     *
     * @param overlays traces by row; without them the page has no drawing of shifts over each other
     * @param proofs of the draft spec on what was held back, one a source; without them the page says that it is not proved
     * @param out characters of the page; the page says that it is UTF-8, so the caller encodes as UTF-8
     * @throws IOException where the writer cannot write
     */
    public static void write(
            Learned learned, List<Overlay> overlays, List<Proof> proofs, ReportOptions options, Writer out)
            throws IOException {
        LearnedSheet sheet = new LearnedSheetMaker(learned, overlays, proofs).make(options);
        Context context = new Context(Locale.ROOT, Map.of("sheet", sheet));
        StringWriter page = new StringWriter(); // bounded; a writer that fails is then no error of the engine's
        HtmlReport.engine().process("learned", context, page);
        out.append(page.getBuffer());
        out.flush();
    }
}
