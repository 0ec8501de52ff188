package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.BadInput;

/** Captures that cannot be used: one clear message each, with its place, what was expected and what to do. */
class BadCaptureTest {
    private static final String HEADER = "time_s,hall_sin,hall_cos,current_a\n";
    private static final String GOOD = HEADER + "40.000000,2961,3365,0.001\n40.001953,2962,3362,0.004\n";

    @TempDir
    Path folder;

    private Path write(byte[] bytes) throws IOException {
        return Files.write(folder.resolve("tarn-0042.csv"), bytes);
    }

    /** The message, with the folder left out. */
    private String refusal(Path file) {
        BadInput refusal = catchThrowableOfType(BadInput.class, () -> CsvCapture.open(file, CsvOptions.usual()));
        assertThat(refusal).as("must be refused").isNotNull();
        return String.valueOf(refusal.getMessage()).replace(folder + "/", "");
    }

    private String refusal(String text) throws IOException {
        return refusal(write(text.getBytes(StandardCharsets.UTF_8)));
    }

    @Nested
    class The_file {
        @Test
        void is_missing() {
            assertThat(refusal(folder.resolve("no.csv")))
                    .isEqualTo("no.csv: no such file; expected a CSV capture. Check the name and the folder.");
        }

        @Test
        void is_a_folder() {
            assertThat(refusal(folder))
                    .isEqualTo(folder + ": is a folder; expected a CSV capture. Name the file inside it.");
        }

        @Test
        void is_empty() throws IOException {
            assertThat(refusal(""))
                    .isEqualTo(
                            "tarn-0042.csv: the file is empty; expected a header row and samples. Check that the logger"
                                    + " wrote something.");
        }

        @Test
        void has_a_header_only() throws IOException {
            assertThat(refusal(HEADER))
                    .isEqualTo(
                            "tarn-0042.csv: the file has a header but no samples; expected one row a sample. Check that"
                                    + " the logger ran.");
        }

        @Test
        void has_one_sample() throws IOException {
            assertThat(refusal(HEADER + "0,1,2,3\n"))
                    .isEqualTo("tarn-0042.csv: the file has one sample only; expected at least two, a motion needs"
                            + " hundreds.");
        }

        @Test
        void is_encoded_in_utf_16() throws IOException {
            String expected =
                    "tarn-0042.csv:1:1: the file is encoded in UTF-16; expected UTF-8. Nothing was measured. Save"
                            + " it as UTF-8.";
            for (String charset : List.of("UTF-16", "UTF-16LE", "UTF-16BE")) {
                assertThat(refusal(write(GOOD.getBytes(Charset.forName(charset)))))
                        .isEqualTo(expected);
            }
        }

        @Test
        void is_cut_short_inside_its_compression() throws IOException {
            byte[] zipped = zip(noise(100_000));

            String text = refusal(write(Arrays.copyOf(zipped, zipped.length / 2)));

            assertThat(text)
                    .matches(
                            "tarn-0042.csv: the compressed file is cut short after line \\d+; expected a whole gzip file\\."
                                    + " Nothing was measured\\. Copy the file again\\.");
            assertThat(refusal(write(Arrays.copyOf(zipped, zipped.length - 1)))).contains("cut short");
            assertThat(refusal(write(Arrays.copyOf(zipped, 5)))).contains("cut short");
        }

        @Test
        void is_damaged_inside_its_compression() throws IOException {
            byte[] zipped = zip(noise(100_000));
            zipped[zipped.length / 2] ^= 0x55;
            zipped[zipped.length / 2 + 1] ^= 0x55;

            assertThat(refusal(write(zipped))).contains("the compressed file is damaged");
        }

        @Test
        void is_two_gigabytes_of_zero_bytes() throws IOException {
            Path file = folder.resolve("tarn-0042.csv");
            try (var channel = java.nio.channels.FileChannel.open(
                    file, java.nio.file.StandardOpenOption.CREATE_NEW, java.nio.file.StandardOpenOption.WRITE)) {
                channel.write(java.nio.ByteBuffer.wrap(new byte[] {0}), (2L << 30) - 1); // sparse
            }

            assertThat(refusal(file))
                    .isEqualTo(
                            "tarn-0042.csv:1:1: a NUL byte; expected text in UTF-8. Nothing was measured. Cut the file"
                                    + " before this line, or check how it was copied.");
        }

        @Test
        void ends_in_zero_bytes() throws IOException {
            assertThat(refusal(GOOD + "\0".repeat(100_000))).startsWith("tarn-0042.csv:4:1: a NUL byte; expected text");
        }

        @Test
        void has_one_endless_line() throws IOException {
            assertThat(refusal("a".repeat(3_000_000)))
                    .isEqualTo(
                            "tarn-0042.csv:1:1: the line is longer than 65536 bytes; expected one sample a line. Is this"
                                    + " a CSV capture?");
            assertThat(refusal(GOOD + "1".repeat(3_000_000))).contains("tarn-0042.csv:4:1: the line is longer than");
            assertThat(refusal(GOOD + "\"" + "1".repeat(3_000_000)))
                    .startsWith("tarn-0042.csv:4:1: a quoted field does");
        }

        @Test
        void is_random_bytes() throws IOException {
            for (int seed = 0; seed < 40; seed++) {
                byte[] bytes = new byte[5000];
                new Random(seed).nextBytes(bytes);
                for (int i = 0; seed % 2 == 0 && i < bytes.length; i++) {
                    bytes[i] = (byte) (32 + (bytes[i] & 63)); // half of them printable
                }

                assertThatThrownBy(() -> CsvCapture.open(write(bytes), CsvOptions.usual()))
                        .as("seed %d", seed)
                        .isInstanceOf(BadInput.class);
            }
        }
    }

    @Nested
    class The_header {
        @Test
        void lacks_required_columns_all_told_at_once_with_the_nearest() throws IOException {
            assertThat(refusal("time,hall_sine,hall_cos\n0,1,2\n"))
                    .isEqualTo("tarn-0042.csv:1:1: no column 'time_s'; expected a header row with time_s, hall_sin and"
                            + " hall_cos, found time, hall_sine, hall_cos. Did you mean 'time'? Name it with --column"
                            + " time_s=HEADER.\n"
                            + "tarn-0042.csv:1:1: no column 'hall_sin'; expected a header row with time_s, hall_sin and"
                            + " hall_cos, found time, hall_sine, hall_cos. Did you mean 'hall_sine'? Name it with --column"
                            + " hall_sin=HEADER.\n"
                            + "tarn-0042.csv: a capture of another logger? See what it is: shiftstand import --dry-run"
                            + " tarn-0042.csv");
        }

        @Test
        void is_missing_altogether() throws IOException {
            assertThat(refusal("0.0,2961,3365\n0.1,2962,3362\n"))
                    .contains("no column 'time_s'", "found 0.0, 2961, 3365");
        }

        @Test
        void is_separated_by_something_else() throws IOException {
            assertThat(refusal("time_s;hall_sin;hall_cos\n0;1;2\n"))
                    .contains("The fields look separated by ';'; a capture is separated by commas (RFC 4180)");
        }

        @Test
        void names_a_column_twice() throws IOException {
            assertThat(refusal("time_s,hall_sin,hall_cos,hall_sin\n0,1,2,3\n"))
                    .isEqualTo(
                            "tarn-0042.csv:1:26: the header 'hall_sin' stands twice (fields 2 and 4); expected each name"
                                    + " once. Rename one of them.");
        }

        @Test
        void lacks_a_column_that_was_mapped() throws IOException {
            Path file = write(GOOD.getBytes(StandardCharsets.UTF_8));
            var options = CsvOptions.parse(List.of("hall_sin=CH1", "supply_v=VBAT"), List.of());

            assertThatThrownBy(() -> CsvCapture.open(file, options))
                    .hasMessageContaining("no column 'CH1' (for hall_sin)")
                    .hasMessageContaining("no column 'VBAT' (for supply_v)");
        }
    }

    @Nested
    class A_row {
        @Test
        void has_text_instead_of_a_number() throws IOException {
            assertThat(refusal(GOOD + "40.003906,abc,3365,0.001\n40.005859,2961,12x,0.001\n"))
                    .isEqualTo(
                            "tarn-0042.csv:4:11: hall_sin is 'abc'; expected a number. Nothing was measured. Repair or"
                                    + " remove the row.\n"
                                    + "tarn-0042.csv:5:16: hall_cos is '12x'; expected a number. Nothing was measured. Repair or"
                                    + " remove the row.");
        }

        @Test
        void has_an_empty_field() throws IOException {
            assertThat(refusal(GOOD + "40.003906,,3365,0.001\n"))
                    .isEqualTo(
                            "tarn-0042.csv:4:11: hall_sin is empty; expected a number. Nothing was measured. Repair or"
                                    + " remove the row.");
        }

        @Test
        void has_a_number_that_is_not_finite() throws IOException {
            for (String value : List.of("NaN", "nan", "Infinity", "-inf", "1e999")) {
                assertThat(refusal(GOOD + "40.003906,2961," + value + ",0.001\n"))
                        .isEqualTo("tarn-0042.csv:4:16: hall_cos is '" + value
                                + "'; expected a finite number. Nothing was" + " measured. Repair or remove the row.");
            }
        }

        @Test
        void has_a_decimal_comma() throws IOException {
            assertThat(refusal(GOOD + "\"40,003906\",2961,3365,0.001\n"))
                    .contains(":4:1: time_s is '40,003906'; expected a number with a decimal point");
        }

        @Test
        void goes_back_in_time() throws IOException {
            assertThat(refusal(HEADER + "40.000000,1,2,0\n40.003906,2,3,0\n40.001953,3,4,0\n40.005859,3,4,0\n"))
                    .isEqualTo(
                            "tarn-0042.csv:4:1: time goes back by 1.95 ms (40.001953 s after 40.003906 s); times must"
                                    + " increase. Nothing was measured. Check the logger's clock, or cut the file before this"
                                    + " line.");
        }

        @Test
        void repeats_its_time() throws IOException {
            assertThat(refusal(HEADER + "40.00,1,2,0\n40.00,2,3,0\n40.01,3,4,0\n"))
                    .isEqualTo("tarn-0042.csv:3:1: time stands still (40.000000 s after 40.000000 s) with other"
                            + " values; times must increase. Nothing was measured. Check the logger's clock and its"
                            + " number of decimals, or count samples instead: shiftstand import --rate HZ.");
        }

        @Test
        void has_another_number_of_fields() throws IOException {
            assertThat(refusal(GOOD + "40.003906,2961,3365\n40.005859,2961,3365,1,2,3\n40.007812,2961,3365,0.001\n"))
                    .isEqualTo(
                            "tarn-0042.csv:4:1: the row has 3 fields; the header has 4. Nothing was measured. Remove or"
                                    + " repair the row.\n"
                                    + "tarn-0042.csv:5:1: the row has 6 fields; the header has 4. Nothing was measured. Remove or"
                                    + " repair the row.");
        }

        @Test
        void is_empty_between_others() throws IOException {
            assertThat(refusal(GOOD + "\n40.003906,2961,3365,0.001\n"))
                    .isEqualTo("tarn-0042.csv:4:1: the line is empty; expected a sample. Remove it.");
        }

        @Test
        void holds_a_flag_that_is_none() throws IOException {
            assertThat(refusal("time_s,hall_sin,hall_cos,hall_power,request\n0,1,2,0,0\n1,2,3,4.5,0\n2,3,4,1,7\n"))
                    .isEqualTo(
                            "tarn-0042.csv:3:7: hall_power is 4.5; expected 0 or 1. Nothing was measured. Repair the row,"
                                    + " or map another column with --column.\n"
                                    + "tarn-0042.csv:4:9: request is 7.0; expected -1, 0 or 1. Nothing was measured. Repair the row,"
                                    + " or map another column with --column.");
        }
    }

    @Test
    void a_hall_column_that_never_changes_is_refused() throws IOException {
        assertThat(refusal(HEADER + "0,2048,1,0\n1,2048,2,0\n2,2048,3,0\n"))
                .isEqualTo(
                        "tarn-0042.csv: hall_sin is 2048.0 in all 3 samples; expected a Hall output that changes while the"
                                + " shaft turns. Nothing was measured. Check its wiring, or name the right column with --column"
                                + " hall_sin=HEADER.");
    }

    @Test
    void reading_stops_after_ten_problems() throws IOException {
        String text = refusal(GOOD + "x,1,2,3\n".repeat(50));

        assertThat(text.lines()).hasSize(11);
        assertThat(text)
                .contains("tarn-0042.csv: and perhaps more: reading stopped after 10 problems. Mend these first");
    }

    @Test
    void options_that_cannot_be_used_are_told_at_once() {
        assertThatThrownBy(() -> CsvOptions.parse(
                        List.of("hall_sine=CH1", "hall_cos", "time_s=a", "time_s=b"),
                        List.of("current_a=x", "time_s=-1", "volts=2")))
                .isInstanceOf(BadInput.class)
                .hasMessage("--column: unknown capture column 'hall_sine'; expected one of time_s, hall_sin, hall_cos,"
                        + " hall_power, window, current_a, supply_v, request. Did you mean 'hall_sin'?\n"
                        + "--column: cannot read 'hall_cos'; expected NAME=HEADER, such as hall_sin=CH1\n"
                        + "--column: time_s is given twice; expected once\n"
                        + "--scale: cannot read 'current_a=x'; expected NAME=FACTOR with a number other than 0 (above 0 for"
                        + " time_s), such as current_a=0.001\n"
                        + "--scale: cannot read 'time_s=-1'; expected NAME=FACTOR with a number other than 0 (above 0 for"
                        + " time_s), such as current_a=0.001\n"
                        + "--scale: unknown capture column 'volts'; expected one of time_s, hall_sin, hall_cos, hall_power,"
                        + " window, current_a, supply_v, request.");
    }

    private static byte[] noise(int rows) {
        var random = new Random(5);
        var text = new StringBuilder(HEADER);
        for (int i = 0; i < rows; i++) {
            text.append(i)
                    .append(',')
                    .append(random.nextInt(4096))
                    .append(',')
                    .append(random.nextInt(4096))
                    .append(",0\n");
        }
        return text.toString().getBytes(StandardCharsets.US_ASCII);
    }

    private static byte[] zip(byte[] bytes) throws IOException {
        var zipped = new ByteArrayOutputStream();
        try (OutputStream out = new GZIPOutputStream(zipped)) {
            out.write(bytes);
        }
        return zipped.toByteArray();
    }
}
