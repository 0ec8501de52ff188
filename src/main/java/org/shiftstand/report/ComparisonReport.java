package org.shiftstand.report;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.util.Locale;
import java.util.Map;
import org.shiftstand.learn.compare.Comparison;
import org.thymeleaf.context.Context;

/** Writes a comparison as one self-contained HTML page: inline SVG and CSS, no script, nothing fetched; well-formed XML. */
public final class ComparisonReport {
    private ComparisonReport() {}

    /**
     * Writes the whole page; does not close the writer.
     *
     * @param comparison whose runs are still open, since their tracks are drawn
     * @param out characters; the page says that it is UTF-8, so the caller encodes as UTF-8
     */
    public static void write(Comparison comparison, ReportOptions options, Writer out) throws IOException {
        Context context = new Context(Locale.ROOT, Map.of("sheet", new ComparisonSheetMaker(comparison).make(options)));
        StringWriter page = new StringWriter(); // bounded; a writer that fails is then no error of the engine's
        HtmlReport.engine().process("comparison", context, page);
        out.append(page.getBuffer());
        out.flush();
    }
}
