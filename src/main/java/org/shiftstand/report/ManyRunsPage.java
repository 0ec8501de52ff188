package org.shiftstand.report;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;
import org.thymeleaf.context.Context;

/** A page about many runs: facts, tables and drawings; self-contained, no script, nothing fetched. Every text is escaped. */
public final class ManyRunsPage {
    private ManyRunsPage() {}

    /** A figure at the head of the page. */
    public record Fact(String label, String value) {}

    /** A cell of a table; the tone is a style's name, such as {@code n} for numbers. */
    public record Cell(String text, String tone) {
        /** Words. */
        public static Cell words(String text) {
            return new Cell(text, "");
        }

        /** A name, in one line. */
        public static Cell name(String text) {
            return new Cell(text, "nw");
        }

        /** A number. */
        public static Cell number(String text) {
            return new Cell(text, "n");
        }
    }

    /**
     * One section.
     *
     * @param drawing SVG of our own; empty for none
     * @param notes beside the drawing
     * @param rows each as many cells as there are columns, the first of which names the row; empty for no table
     */
    public record Part(
            String heading,
            List<String> texts,
            String drawing,
            List<String> notes,
            List<Cell> columns,
            List<List<Cell>> rows) {}

    /**
     * The page.
     *
     * @param selection which runs are meant, in words
     * @param lead what it comes to, a sentence
     */
    public record Content(
            String title, String selection, String lead, List<Fact> facts, List<String> notes, List<Part> parts) {}

    /** A part as the template reads it: with a name to link to, and each row's first cell as its heading. */
    record Section(
            String anchor,
            String heading,
            List<String> texts,
            String drawing,
            List<String> notes,
            List<Cell> columns,
            List<Row> rows) {}

    /** A row of a table. */
    record Row(Cell head, List<Cell> values) {
        static Row of(List<Cell> cells) {
            return new Row(cells.get(0), cells.subList(1, cells.size()));
        }
    }

    /** As the template reads it. */
    record ManyRunsSheet(
            String title,
            String selection,
            String lead,
            List<Fact> facts,
            List<String> notes,
            List<Section> parts,
            List<String> cautions,
            String version,
            String generated) {}

    /** Writes the page in characters that the caller encodes as UTF-8; does not close. */
    public static void write(Content content, ReportOptions options, Writer out) throws IOException {
        ManyRunsSheet sheet = new ManyRunsSheet(
                content.title(),
                content.selection(),
                content.lead(),
                content.facts(),
                content.notes(),
                sections(content.parts()),
                Cautions.read(),
                options.toolVersion(),
                options.made());
        StringWriter page = new StringWriter();
        HtmlReport.engine().process("many-runs", new Context(Locale.ROOT, Map.of("sheet", sheet)), page);
        out.append(page.getBuffer());
        out.flush();
    }

    private static List<Section> sections(List<Part> parts) {
        return IntStream.range(0, parts.size())
                .mapToObj(i -> section("part-" + (i + 1), parts.get(i)))
                .toList();
    }

    private static Section section(String anchor, Part part) {
        return new Section(
                anchor,
                part.heading(),
                part.texts(),
                part.drawing(),
                part.notes(),
                part.columns(),
                part.rows().stream().map(Row::of).toList());
    }
}
