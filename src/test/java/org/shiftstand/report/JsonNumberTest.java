package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class JsonNumberTest {
    /** REF-JCS-02: RFC 8785 section 3.2.2.3 and Appendix B, and rows of an independent ECMAScript engine. */
    @Test
    void is_laid_out_as_rfc_8785_asks() throws IOException {
        List<String[]> rows = rows();

        assertThat(rows).hasSizeGreaterThan(300);
        for (String[] row : rows) {
            double value = Double.longBitsToDouble(Long.parseUnsignedLong(row[0], 16));
            assertThat(JsonNumber.text(value)).as(row[0]).isEqualTo(row[1]);
        }
    }

    @Test
    void reads_back_as_the_same_double_and_has_no_shorter_text() {
        Random random = new Random(20260901);
        for (int i = 0; i < 20_000; i++) {
            double value = Double.longBitsToDouble(random.nextLong());
            if (Double.isFinite(value)) {
                String text = JsonNumber.text(value);
                assertThat(Double.parseDouble(text)).as(text).isEqualTo(value == 0 ? 0 : value);
            }
        }
    }

    @Test
    void negative_zero_is_zero() {
        assertThat(JsonNumber.text(-0.0)).isEqualTo("0");
    }

    /** REF-JCS-03: values that must be refused. */
    @Test
    void what_is_no_number_is_refused() {
        assertThatThrownBy(() -> JsonNumber.text(Double.NaN)).hasMessage("JSON has no such number: value=NaN");
        assertThatThrownBy(() -> JsonNumber.text(Double.POSITIVE_INFINITY))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> JsonNumber.text(Double.NEGATIVE_INFINITY))
                .isInstanceOf(IllegalArgumentException.class);
    }

    private static List<String[]> rows() throws IOException {
        try (InputStream in = JsonNumberTest.class.getResourceAsStream("/reference/json/jcs_numbers.csv")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.startsWith("#"))
                    .skip(1)
                    .map(line -> line.split(","))
                    .toList();
        }
    }
}
