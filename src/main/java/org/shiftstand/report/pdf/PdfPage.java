package org.shiftstand.report.pdf;

import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.util.XRLog;
import java.io.IOException;
import java.io.OutputStream;
import java.time.Instant;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.Locale;
import java.util.Optional;
import java.util.TimeZone;
import org.apache.pdfbox.pdmodel.PDDocument;

/** A page as PDF. */
public final class PdfPage {
    private PdfPage() {}

    /** Whether the libraries for it are on the class path. */
    public static boolean isPossible() {
        try {
            Class.forName("com.openhtmltopdf.pdfboxout.PdfRendererBuilder", false, PdfPage.class.getClassLoader());
            return true;
        } catch (ClassNotFoundException e) {
            return false;
        }
    }

    /**
     * Writes the page; flushes and does not close.
     *
     * @param page text of a page of this program: well-formed XML
     * @throws IOException where the stream cannot write
     * @throws IllegalArgumentException where the page is not well-formed
     */
    public static void write(String page, OutputStream out) throws IOException {
        XRLog.setLoggingEnabled(false); // its warnings are about style rules
        System.setProperty("java.awt.headless", "true");
        Paper paper = Paper.of(page);
        try (PaperFonts fonts = PaperFonts.unpacked()) {
            PdfRendererBuilder builder = new PdfRendererBuilder()
                    .withW3cDocument(paper.document(), "about:blank")
                    .useSVGDrawer(fonts.drawer())
                    .usePdfUaAccessibility(true)
                    .useExternalResourceAccessControl(
                            (uri, type) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI)
                    .withProducer("Shiftstand")
                    .toStream(out);
            fonts.addTo(builder);
            try (PdfBoxRenderer renderer = builder.buildPdfRenderer()) {
                renderer.layout();
                try (PDDocument document = renderer.createPDFKeepOpen()) {
                    dated(document, paper.made());
                    document.save(out);
                }
            }
        }
        out.flush();
    }

    /** The only date is the page's own, and the identity follows from it: nothing else changes from time to time. */
    private static void dated(PDDocument document, Optional<Instant> made) {
        made.ifPresentOrElse(
                at -> document.getDocumentInformation().setCreationDate(calendar(at)),
                () -> document.getDocumentInformation()
                        .getCOSObject()
                        .removeItem(org.apache.pdfbox.cos.COSName.CREATION_DATE));
        document.setDocumentId(made.map(Instant::toEpochMilli).orElse(0L));
    }

    private static Calendar calendar(Instant at) {
        Calendar calendar = new GregorianCalendar(TimeZone.getTimeZone("UTC"), Locale.ROOT);
        calendar.setTimeInMillis(at.toEpochMilli());
        return calendar;
    }
}
