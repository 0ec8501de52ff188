package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Contrast as WCAG 2.2 defines it: (lighter + 0.05) / (darker + 0.05) of relative luminance. */
class PaletteTest {
    private static final List<String> GROUNDS = List.of(Palette.PAPER, Palette.WASH, Palette.BAND);

    /** WCAG 2.2, definition of contrast ratio: black on white is 21 : 1. */
    @Test
    void the_formula_gives_its_own_ends() {
        assertThat(contrast("#000000", "#ffffff")).isEqualTo(21.0);
        assertThat(contrast("#777777", "#777777")).isEqualTo(1.0);
    }

    /** WCAG 2.2, 1.4.3: text needs 4.5 : 1. */
    @ParameterizedTest
    @ValueSource(strings = {Palette.INK, Palette.QUIET, Palette.TRACE, Palette.PASS, Palette.FAIL, Palette.OPEN})
    void text_is_readable_on_every_ground(String colour) {
        assertThat(GROUNDS)
                .allSatisfy(ground -> assertThat(contrast(colour, ground)).isGreaterThanOrEqualTo(4.5));
    }

    /** WCAG 2.2, 1.4.11: parts of graphics needed to understand them need 3 : 1. */
    @Test
    void bars_are_visible_on_every_ground() {
        assertThat(GROUNDS)
                .allSatisfy(
                        ground -> assertThat(contrast(Palette.RANGE, ground)).isGreaterThanOrEqualTo(3));
    }

    @ParameterizedTest
    @ValueSource(strings = {"report.html", "learned.html", "comparison.html", "many-runs.html", "pdf/paper.css"})
    void no_page_uses_other_colours(String style) throws IOException, IllegalAccessException {
        Map<String, String> known = new TreeMap<>();
        for (Field field : Palette.class.getDeclaredFields()) {
            if (Modifier.isStatic(field.getModifiers()) && field.getType() == String.class) {
                known.put((String) field.get(null), field.getName());
            }
        }
        List<String> used = new ArrayList<>();
        try (InputStream in = HtmlReport.class.getResourceAsStream(style)) {
            String template = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            Pattern.compile("#[0-9a-fA-F]{3,8}(?=[;,!}\\s\"])")
                    .matcher(template)
                    .results()
                    .forEach(r -> used.add(r.group()));
        }

        assertThat(used).isNotEmpty().allMatch(known::containsKey);
    }

    private static double contrast(String a, String b) {
        double first = luminance(a) + 0.05;
        double second = luminance(b) + 0.05;
        return Math.max(first, second) / Math.min(first, second);
    }

    private static double luminance(String colour) {
        return 0.2126 * channel(colour, 1) + 0.7152 * channel(colour, 3) + 0.0722 * channel(colour, 5);
    }

    private static double channel(String colour, int at) {
        double c = Integer.parseInt(colour.substring(at, at + 2), 16) / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4);
    }
}
