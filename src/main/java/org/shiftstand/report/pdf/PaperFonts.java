package org.shiftstand.report.pdf;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FSFontUseCase;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.svgsupport.PDFTranscoder;
import java.awt.FontFormatException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.apache.fontbox.FontBoxFont;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.io.RandomAccessReadBufferedFile;
import org.apache.pdfbox.pdmodel.font.CIDFontMapping;
import org.apache.pdfbox.pdmodel.font.FontMapper;
import org.apache.pdfbox.pdmodel.font.FontMappers;
import org.apache.pdfbox.pdmodel.font.FontMapping;
import org.apache.pdfbox.pdmodel.font.PDCIDSystemInfo;
import org.apache.pdfbox.pdmodel.font.PDFontDescriptor;
import org.jspecify.annotations.Nullable;

/**
 * The fonts of a PDF, unpacked to a folder that goes with {@link #close}: words and drawings look the same on every machine, and
 * the fonts of the machine are never searched, which takes seconds and leaves a list in the user's home.
 */
final class PaperFonts implements AutoCloseable {
    static final String SANS = "Liberation Sans";
    static final String MONO = "Liberation Mono";
    private static final String IN_JAR = "liberation/";
    private static final Set<FSFontUseCase> EVERYWHERE = EnumSet.of(FSFontUseCase.DOCUMENT, FSFontUseCase.SVG);
    private static final List<Face> FACES = List.of(
            new Face(SANS, 400, "LiberationSans-Regular.ttf"),
            new Face(SANS, 700, "LiberationSans-Bold.ttf"),
            new Face(MONO, 400, "LiberationMono-Regular.ttf"));

    private final Path folder;
    private final TrueTypeFont usual;
    private final FontMapper before = FontMappers.instance();

    private PaperFonts(Path folder, TrueTypeFont usual) {
        this.folder = folder;
        this.usual = usual;
        FontMappers.set(new Only(usual));
    }

    static PaperFonts unpacked() throws IOException {
        LogicalFonts.provide(IN_JAR + FACES.get(0).file());
        Path folder = Files.createTempDirectory("shiftstand-fonts-");
        for (Face face : FACES) {
            try (InputStream in = PaperFonts.class.getClassLoader().getResourceAsStream(IN_JAR + face.file())) {
                if (in == null) {
                    throw new IllegalStateException("font missing: file=" + face.file());
                }
                Files.copy(in, folder.resolve(face.file()));
            }
        }
        Path first = folder.resolve(FACES.get(0).file());
        return new PaperFonts(folder, new TTFParser().parse(new RandomAccessReadBufferedFile(first)));
    }

    void addTo(PdfRendererBuilder builder) {
        for (Face face : FACES) {
            builder.useFont(
                    folder.resolve(face.file()).toFile(),
                    face.family(),
                    face.weight(),
                    FontStyle.NORMAL,
                    true,
                    EVERYWHERE);
        }
    }

    /** Draws SVG with these fonts. */
    BatikSVGDrawer drawer() throws IOException {
        BatikSVGDrawer drawer = new BatikSVGDrawer();
        drawer.fontResolver = new PDFTranscoder.OpenHtmlFontResolver();
        for (Face face : FACES) {
            try {
                drawer.addFontFile(
                        folder.resolve(face.file()).toFile(), face.family(), face.weight(), FontStyle.NORMAL);
            } catch (FontFormatException e) {
                throw new IllegalStateException("font unreadable: file=" + face.file(), e);
            }
        }
        return drawer;
    }

    @Override
    public void close() throws IOException {
        FontMappers.set(before);
        usual.close();
        for (Face face : FACES) {
            Files.deleteIfExists(folder.resolve(face.file()));
        }
        Files.deleteIfExists(folder);
    }

    private record Face(String family, int weight, String file) {}

    /** Stands in for every font that a PDF may name without bringing it along; ours name none. */
    private record Only(TrueTypeFont font) implements FontMapper {
        @Override
        public FontMapping<TrueTypeFont> getTrueTypeFont(String name, @Nullable PDFontDescriptor descriptor) {
            return new FontMapping<>(font, true);
        }

        @Override
        public FontMapping<FontBoxFont> getFontBoxFont(String name, @Nullable PDFontDescriptor descriptor) {
            return new FontMapping<>(font, true);
        }

        @Override
        public @Nullable CIDFontMapping getCIDFont(
                String name, @Nullable PDFontDescriptor descriptor, @Nullable PDCIDSystemInfo system) {
            return null; // as PDFBox says of a font that it does not know
        }
    }
}
