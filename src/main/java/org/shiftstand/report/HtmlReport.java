package org.shiftstand.report;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.judge.Judgement;
import org.thymeleaf.TemplateEngine;
import org.thymeleaf.context.Context;
import org.thymeleaf.standard.StandardDialect;
import org.thymeleaf.templatemode.TemplateMode;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;

/**
 * Writes a judgement as one self-contained HTML page: inline SVG and CSS, no script, nothing fetched.
 *
 * <p>The page is also well-formed XML. The same judgement, track and version give the same text, but for the line that
 * says when the report was made. Below 2 MB for any length of run.
 */
public final class HtmlReport {
    private HtmlReport() {}

    /**
     * Writes the whole page; does not close the writer.
     *
     * @param track the angles the judgement was measured on, for drawings of single shifts; without it the page says
     *     that they are missing
     * @param out characters of the page; the page says that it is UTF-8, so the caller encodes as UTF-8
     * @throws IOException where the writer cannot write
     */
    public static void write(Judgement judgement, Optional<AngleTrack> track, ReportOptions options, Writer out)
            throws IOException {
        Sheet sheet = new SheetMaker(judgement, track).make(options);
        Context context = new Context(Locale.ROOT, Map.of("sheet", sheet));
        StringWriter page = new StringWriter(); // bounded; a writer that fails is then no error of the engine's
        engine().process("report", context, page);
        out.append(page.getBuffer());
        out.flush();
    }

    /** Knows every template of this package. */
    static TemplateEngine engine() {
        ClassLoaderTemplateResolver resolver = new ClassLoaderTemplateResolver(HtmlReport.class.getClassLoader());
        resolver.setPrefix("org/shiftstand/report/");
        resolver.setSuffix(".html");
        resolver.setCharacterEncoding("UTF-8");
        resolver.setTemplateMode(TemplateMode.HTML);
        StandardDialect dialect = new StandardDialect();
        dialect.setVariableExpressionEvaluator(new Paths());
        TemplateEngine engine = new TemplateEngine();
        engine.setDialect(dialect);
        engine.setTemplateResolver(resolver);
        return engine;
    }
}
