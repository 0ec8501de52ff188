package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Decimal text to double: bit for bit {@code Double.parseDouble}, for what is a plain decimal number. */
class DecimalTest {
    private static final long SEED = 20261125;

    @Test
    void a_hundred_thousand_random_numbers_equal_the_library() {
        var random = new Random(SEED);
        for (int i = 0; i < 100_000; i++) {
            String text = number(random);
            byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);

            assertThat(Decimal.isNumber(bytes, 0, bytes.length))
                    .as("'%s', number %d of seed %d", text, i, SEED)
                    .isTrue();
            long ours = Double.doubleToRawLongBits(Decimal.parse(bytes, 0, bytes.length));
            if (ours != Double.doubleToRawLongBits(Double.parseDouble(text))) {
                throw new AssertionError("'" + text + "', number " + i + " of seed " + SEED + ": "
                        + Double.longBitsToDouble(ours) + " is not " + Double.parseDouble(text));
            }
        }
    }

    /** What loggers write, and what is hard: many digits, exponents, halves between two doubles. */
    private static String number(Random random) {
        return switch (random.nextInt(10)) {
            case 0 -> Integer.toString(random.nextInt(8192) - 4096);
            case 1 -> String.format(Locale.ROOT, "%.6f", random.nextDouble() * 100_000);
            case 2 -> String.format(Locale.ROOT, "%.3f", random.nextGaussian());
            case 3 -> Double.toString(random.nextDouble() * Math.pow(10, random.nextInt(20) - 10));
            case 4 -> Double.toString(Double.longBitsToDouble(random.nextLong() & 0x7fef_ffff_ffff_ffffL));
            case 5 -> digits(random, 1 + random.nextInt(30)) + "." + digits(random, 1 + random.nextInt(30));
            case 6 -> "-" + digits(random, 1 + random.nextInt(19)) + "e" + (random.nextInt(700) - 350);
            case 8 -> String.format(Locale.ROOT, "%.18e", Math.rint(random.nextGaussian() * 1e6) / 1024);
            case 7 -> "+." + digits(random, 1 + random.nextInt(25)) + "E+" + random.nextInt(30);
            default -> digits(random, 16 + random.nextInt(4)) + (random.nextBoolean() ? "" : ".");
        };
    }

    private static String digits(Random random, int n) {
        var text = new StringBuilder();
        for (int i = 0; i < n; i++) {
            text.append((char) ('0' + random.nextInt(10)));
        }
        return text.toString();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "0",
                "-0",
                "-0.0",
                "0.000",
                "9007199254740992",
                "9007199254740993",
                "9007199254740991.5",
                "1e22",
                "1e23",
                "4.9E-324",
                "2.4703282292062327e-324",
                "1.7976931348623157e308",
                "1e-400",
                "1e99999999999",
                "0e5",
                "00000000000000000000000000000000000012",
                "0.0000000000000000000000000000000000000000001234",
                "123456789012345678",
                "1234567890123456789",
                "0.1",
                "1.",
                ".5"
            })
    void hard_cases_equal_the_library(String text) {
        byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);

        assertThat(Decimal.isNumber(bytes, 0, bytes.length)).isTrue();
        assertThat(Double.doubleToRawLongBits(Decimal.parse(bytes, 0, bytes.length)))
                .isEqualTo(Double.doubleToRawLongBits(Double.parseDouble(text)));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "-",
                "+",
                ".",
                "-.",
                "e5",
                "1e",
                "1e+",
                "1d",
                "1f",
                "0x10",
                "0x1p3",
                "NaN",
                "Infinity",
                "-inf",
                "1 2",
                " 1",
                "1 ",
                "1,5",
                "--1",
                "1.2.3",
                "1_000",
                "１"
            })
    void what_is_no_plain_decimal_number_is_refused(String text) {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);

        assertThat(Decimal.isNumber(bytes, 0, bytes.length)).isFalse();
    }
}
