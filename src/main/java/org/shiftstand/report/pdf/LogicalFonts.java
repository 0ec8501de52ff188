package org.shiftstand.report.pdf;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Gives Java a font of ours for its logical fonts ({@code dialog}, {@code serif}, …). No drawing of a PDF uses them, but Java
 * does not open any font before it has them, and asks the system's fontconfig, which small servers and containers lack.
 *
 * <p>What it writes stays until the program ends, since Java may open the file at any later time.
 */
final class LogicalFonts {
    /** Read once, when the first font is made. */
    private static final String SETTING = "sun.awt.fontconfig";

    private static final List<String> NAMES = List.of("dialog", "dialoginput", "sansserif", "serif", "monospaced");
    private static final List<String> STYLES = List.of("plain", "bold", "italic", "bolditalic");

    private LogicalFonts() {}

    /** Once a program; a file of the user's own that is there goes before. */
    static synchronized void provide(String fontResource) throws IOException {
        if (isThere(System.getProperty(SETTING))) {
            return;
        }
        Path folder = Files.createTempDirectory("shiftstand-logical-");
        folder.toFile().deleteOnExit(); // the files first: the order is that of asking, backwards
        Path font = folder.resolve("font.ttf");
        font.toFile().deleteOnExit();
        try (InputStream in = LogicalFonts.class.getClassLoader().getResourceAsStream(fontResource)) {
            if (in == null) {
                throw new IllegalStateException("font missing: resource=" + fontResource);
            }
            Files.copy(in, font);
        }
        Path settings = folder.resolve("fontconfig.properties");
        settings.toFile().deleteOnExit();
        Files.writeString(settings, settings(font), StandardCharsets.ISO_8859_1); // as java.util.Properties reads
        System.setProperty(SETTING, settings.toString());
    }

    private static boolean isThere(@Nullable String file) {
        return file != null && Files.isReadable(Path.of(file));
    }

    private static String settings(Path font) {
        StringBuilder text = new StringBuilder("version=1\n");
        for (String name : NAMES) {
            for (String style : STYLES) {
                text.append(name).append('.').append(style).append(".default=Ours\n");
            }
        }
        return text.append("sequence.allfonts=default\nfilename.Ours=")
                .append(escaped(font.toAbsolutePath().toString()))
                .append('\n')
                .toString();
    }

    private static String escaped(String value) {
        StringBuilder text = new StringBuilder();
        for (char c : value.toCharArray()) {
            text.append(c < 0x80 && c != '\\' ? "" + c : String.format("\\u%04x", (int) c));
        }
        return text.toString();
    }
}
