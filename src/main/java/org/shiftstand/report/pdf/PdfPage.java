package org.shiftstand.report.pdf;

import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
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

    /** This Java cannot open fonts: parts of it, or of the system, are missing. */
    public static final class NoFonts extends RuntimeException {
        private static final long serialVersionUID = 1;

        NoFonts(Throwable cause) {
            super("fonts cannot be opened: cause=" + cause, cause);
        }
    }

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
     * @throws NoFonts where this Java cannot open fonts
     */
    public static void write(String page, OutputStream out) throws IOException {
        XRLog.setLoggingEnabled(false); // its warnings are about style rules
        System.setProperty("java.awt.headless", "true");
        Paper paper = Paper.of(page);
        try (PaperFonts fonts = PaperFonts.unpacked()) {
            PdfRendererBuilder builder = new PdfRendererBuilder()
                    .withW3cDocument(paper.document(), "about:blank")
                    .useSVGDrawer(drawer(fonts))
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

    /** The first to open a font. */
    private static BatikSVGDrawer drawer(PaperFonts fonts) throws IOException {
        try {
            return fonts.drawer();
        } catch (LinkageError | InternalError e) { // a Java without its font library, a system without its own
            throw new NoFonts(e);
        }
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
