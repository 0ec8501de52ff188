package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDOutlineItem;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.shiftstand.report.pdf.PdfPage;

class PdfPageTest {
    private static final String PAGE =
            HtmlReportTest.html(new Fixture(3, 4, 7).sweep().endOfLine().judged(), false);
    private static byte[] made;

    @BeforeAll
    static void make() throws IOException {
        made = pdf(PAGE);
    }

    private static byte[] pdf(String page) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PdfPage.write(page, out);
        return out.toByteArray();
    }

    @Test
    void the_same_page_gives_the_same_bytes() throws IOException {
        assertThat(pdf(PAGE)).isEqualTo(made);
    }

    @Test
    void its_words_can_be_selected_and_each_page_says_whose_it_is() throws IOException {
        try (PDDocument document = Loader.loadPDF(made)) {
            assertThat(text(document, 1, document.getNumberOfPages()))
                    .contains("TD-0107", "overtravel-inboard-small", "What to do next", "Statement of conformity");
            for (int page = 1; page <= document.getNumberOfPages(); page++) {
                assertThat(text(document, page, page))
                        .contains("Page " + page + " of " + document.getNumberOfPages())
                        .containsPattern("Report [0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}");
            }
        }
    }

    @Test
    void the_head_of_a_long_table_is_on_each_of_its_pages() throws IOException {
        try (PDDocument document = Loader.loadPDF(made)) {
            int heads = 0;
            for (int page = 1; page <= document.getNumberOfPages(); page++) {
                heads += text(document, page, page).contains("Asked for") ? 1 : 0;
            }
            assertThat(heads).isGreaterThan(1);
        }
    }

    @Test
    void it_is_tagged_and_has_title_language_outline_and_fonts_of_its_own() throws IOException {
        try (PDDocument document = Loader.loadPDF(made)) {
            assertThat(document.getDocumentInformation().getTitle()).startsWith("TD-0107: ");
            assertThat(document.getDocumentCatalog().getLanguage()).isEqualTo("en");
            assertThat(document.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
            List<String> outline = new ArrayList<>();
            for (PDOutlineItem item :
                    document.getDocumentCatalog().getDocumentOutline().children()) {
                outline.add(item.getTitle());
            }
            assertThat(outline).contains("Clauses", "Statement of conformity", "Cautions");
            for (PDPage page : document.getPages()) {
                assertThat(page.getMediaBox().getWidth()).isBetween(595f, 596f); // A4, points
                for (var name : page.getResources().getFontNames()) {
                    PDFont font = page.getResources().getFont(name);
                    assertThat(font.isEmbedded()).as(font.getName()).isTrue();
                }
            }
        }
    }

    @Test
    void a_page_that_is_not_well_formed_is_refused() {
        assertThatThrownBy(() -> pdf("<html><p></html>")).isInstanceOf(IllegalArgumentException.class);
    }

    /** Not a twelfth of it, as fonts from files come out of openhtmltopdf at exactly 12. */
    @Test
    void words_in_drawings_are_as_large_as_the_drawing_asks() throws IOException {
        String drawn = "<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\"><head><title>t</title></head><body>"
                + "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 772 100\" width=\"772\" height=\"100\" font-size=\"12\">"
                + "<title>t</title><desc>d</desc><text x=\"100\" y=\"50\">HHHHHHHH</text></svg></body></html>";

        try (PDDocument document = Loader.loadPDF(pdf(drawn))) {
            BufferedImage seen = new PDFRenderer(document).renderImageWithDPI(0, 72);

            int left = seen.getWidth();
            int right = 0;
            for (int x = 0; x < seen.getWidth(); x++) {
                for (int y = 0; y < seen.getHeight() / 2; y++) { // the foot has a page number
                    if ((seen.getRGB(x, y) & 0xff) < 128) {
                        left = Math.min(left, x);
                        right = Math.max(right, x);
                    }
                }
            }
            // Liberation Sans: an H is 0.722 em wide; 8 × 0.722 × 12 units, 178 mm / 772 units, 72 points an inch
            assertThat((double) right - left).isCloseTo(8 * 0.722 * 12 * (178.0 / 772) * 72 / 25.4, within(3.0));
        }
    }

    /** As on a server without fontconfig; Java asks once a process, so in one of its own. */
    @Test
    void it_is_made_where_the_system_has_no_settings_of_fonts() throws IOException, InterruptedException {
        String paths = System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
        Process alone = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Dsun.awt.fontconfig=/nonexistent",
                        "-XX:TieredStopAtLevel=1",
                        "-cp",
                        paths,
                        Alone.class.getName())
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .start();
        try (OutputStream to = alone.getOutputStream()) {
            to.write(PAGE.getBytes(StandardCharsets.UTF_8));
        }

        byte[] there = alone.getInputStream().readAllBytes();

        assertThat(alone.waitFor()).isZero();
        assertThat(there).isEqualTo(made);
    }

    static final class Alone {
        public static void main(String[] arguments) throws IOException {
            java.io.PrintStream out = System.out;
            System.setOut(System.err); // what libraries log is no part of the PDF
            byte[] pdf = pdf(new String(System.in.readAllBytes(), StandardCharsets.UTF_8));
            out.write(pdf, 0, pdf.length);
            out.flush();
        }
    }

    private static String text(PDDocument document, int from, int to) throws IOException {
        PDFTextStripper stripper = new PDFTextStripper();
        stripper.setStartPage(from);
        stripper.setEndPage(to);
        return stripper.getText(document);
    }
}
