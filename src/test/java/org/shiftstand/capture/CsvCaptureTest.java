package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.quantity.Direction;

/** What a CSV capture may look like, and what is read from it. */
class CsvCaptureTest {
    @TempDir
    Path folder;

    private Path write(String text) throws IOException {
        return Files.write(folder.resolve("tarn-0042.csv"), text.getBytes(StandardCharsets.UTF_8));
    }

    private SampleSource open(String text) throws IOException {
        return CsvCapture.open(write(text), CsvOptions.usual());
    }

    private static List<double[]> samples(SampleSource source) {
        return Samples.of(source, 100);
    }

    @Nested
    class Text {
        private static final double[][] TWO = {
            {0, 2961, 3365, 1, 0, Double.NaN, Double.NaN}, {0.001953, 2962, -3362.5, 1, 0, Double.NaN, Double.NaN}
        };

        @Test
        void lines_may_end_in_carriage_return_and_line_feed() throws IOException {
            assertThat(samples(open("time_s,hall_sin,hall_cos\r\n0,2961,3365\r\n0.001953,2962,-3362.5\r\n")))
                    .containsExactly(TWO);
        }

        @Test
        void lines_may_end_in_line_feed() throws IOException {
            assertThat(samples(open("time_s,hall_sin,hall_cos\n0,2961,3365\n0.001953,2962,-3362.5\n")))
                    .containsExactly(TWO);
        }

        @Test
        void the_last_line_break_may_be_missing() throws IOException {
            var source = open("time_s,hall_sin,hall_cos\r\n0,2961,3365\r\n0.001953,2962,-3362.5");

            assertThat(samples(source)).containsExactly(TWO);
            assertThat(source.notices()).isEmpty();
        }

        @Test
        void fields_may_be_quoted() throws IOException {
            assertThat(
                            samples(
                                    open(
                                            "\"time_s\",\"hall_sin\",\"hall_cos\"\r\n\"0\",2961,\"3365\"\r\n0.001953,\"2962\",-3362.5\r\n")))
                    .containsExactly(TWO);
        }

        @Test
        void a_byte_order_mark_is_stepped_over() throws IOException {
            assertThat(samples(open("\uFEFFtime_s,hall_sin,hall_cos\n0,2961,3365\n0.001953,2962,-3362.5\n")))
                    .containsExactly(TWO);
        }

        @Test
        void spaces_around_numbers_and_names_do_not_matter() throws IOException {
            assertThat(samples(open("time_s, hall_sin , hall_cos\n0, 2961 ,3365\n1.953e-3,2.962E3,\t-3362.5\n")))
                    .containsExactly(TWO);
        }

        @Test
        void comment_lines_before_the_header_and_empty_lines_at_the_end_are_left_out() throws IOException {
            var source =
                    open("# bench two\n# 512 Hz\ntime_s,hall_sin,hall_cos\n0,2961,3365\n0.001953,2962,-3362.5\n\n\r\n");

            assertThat(samples(source)).containsExactly(TWO);
            assertThat(source.notices()).containsExactly("2 comment lines before the header left out");
        }

        @Test
        void gzip_is_told_by_its_bytes_not_by_the_name() throws IOException {
            var zipped = new ByteArrayOutputStream();
            try (var out = new GZIPOutputStream(zipped)) {
                out.write("time_s,hall_sin,hall_cos\r\n0,2961,3365\r\n0.001953,2962,-3362.5\r\n"
                        .getBytes(StandardCharsets.UTF_8));
            }
            Path file = Files.write(folder.resolve("tarn-0042.csv"), zipped.toByteArray());

            assertThat(samples(CsvCapture.open(file, CsvOptions.usual()))).containsExactly(TWO);
        }

        @Test
        void two_gzip_members_are_one_capture() throws IOException {
            var zipped = new ByteArrayOutputStream();
            for (String part : List.of("time_s,hall_sin,hall_cos\n0,2961,3365\n0.0", "01953,2962,-3362.5\n")) {
                try (var out = new GZIPOutputStream(zipped)) {
                    out.write(part.getBytes(StandardCharsets.UTF_8));
                }
            }
            Path file = Files.write(folder.resolve("tarn-0042.csv.gz"), zipped.toByteArray());

            assertThat(samples(CsvCapture.open(file, CsvOptions.usual()))).containsExactly(TWO);
        }

        @Test
        void rows_across_read_boundaries_are_whole() throws IOException {
            int rows = 200_000; // several megabytes: more than one buffer
            var text = new StringBuilder("time_s,hall_sin,hall_cos\r\n");
            for (int i = 0; i < rows; i++) {
                text.append(String.format(Locale.ROOT, "%.6f,%d,%d\r\n", i / 512.0, i % 4096, (i * 7) % 4096));
            }

            var all = samples(open(text.toString()));

            assertThat(all).hasSize(rows);
            for (int i = 0; i < rows; i++) {
                if (all.get(i)[1] != i % 4096 || all.get(i)[2] != (i * 7) % 4096) {
                    throw new AssertionError("row " + i + " is wrong");
                }
            }
        }
    }

    @Nested
    class Columns {
        @Test
        void are_found_by_name_in_any_order_and_unknown_ones_are_told() throws IOException {
            var source = open("""
                    note,hall_cos,supply_v,hall_sin,temperature,time_s,current_a,hall_power,window
                    start,3,8.2,2,21,0,0.5,1,7
                    "a,b",30,8.1,20,21,0.5,0.25,0,8
                    """);

            assertThat(samples(source))
                    .containsExactly(
                            new double[] {0, 2, 3, 1, 7, 0.5, 8.2}, new double[] {0.5, 20, 30, 0, 8, 0.25, 8.1});
            assertThat(source.notices()).containsExactly("columns kept aside, not used: note, temperature");
            assertThat(source.channels()).isEqualTo(new SampleSource.Channels(true, true, true, true));
        }

        @Test
        void can_be_mapped_and_scaled() throws IOException {
            var options = CsvOptions.parse(
                    List.of("hall_sin=CH1", "hall_cos=CH2", "time_s=t=ms"), List.of("current_a=0.001", "time_s=1e-3"));

            var source = CsvCapture.open(write("t=ms,CH1,CH2,current_a\n0,1,2,1500\n2,3,4,20\n4,5,6,0\n"), options);

            assertThat(samples(source))
                    .containsExactly(
                            new double[] {0, 1, 2, 1, 0, 1.5, Double.NaN},
                            new double[] {0.002, 3, 4, 1, 0, 0.02, Double.NaN},
                            new double[] {0.004, 5, 6, 1, 0, 0, Double.NaN});
            assertThat(source.intervalS()).isCloseTo(0.002, within(1e-12));
        }

        @Test
        void absent_ones_are_not_measured() throws IOException {
            var source = open("time_s,hall_sin,hall_cos\n0,1,2\n1,3,4\n");

            assertThat(source.channels()).isEqualTo(new SampleSource.Channels(false, false, false, false));
            assertThat(samples(source).get(0)).containsExactly(0, 1, 2, 1, 0, Double.NaN, Double.NaN);
        }
    }

    @Nested
    class Requests {
        @Test
        void between_neighbours_stand_at_the_middle() throws IOException {
            var source = open("time_s,hall_sin,hall_cos,request\n0,1,2,0\n0.002,3,4,1\n0.004,5,6,0\n0.006,5,6,-1\n");

            assertThat(source.requests()).hasSize(2);
            assertThat(source.requests().get(0).timeS()).isCloseTo(0.001, within(1e-12));
            assertThat(source.requests().get(0).direction()).contains(Direction.INBOARD);
            assertThat(source.requests().get(0).stamped()).isFalse();
            assertThat(source.requests().get(1).timeS()).isCloseTo(0.005, within(1e-12));
            assertThat(source.requests().get(1).direction()).contains(Direction.OUTBOARD);
        }

        @Test
        void after_missing_rows_stand_half_an_interval_before_the_first_sample() throws IOException {
            var source = open("""
                    time_s,hall_sin,hall_cos,request
                    1,1,2,1
                    1.002,3,4,0
                    1.004,3,4,0
                    1.006,5,6,0
                    3,5,6,1
                    3.002,5,6,0
                    """);

            assertThat(source.requests().get(0).timeS()).isCloseTo(0.999, within(1e-9)); // first of the capture
            assertThat(source.requests().get(1).timeS()).isCloseTo(2.999, within(1e-9));
        }

        @Test
        void a_mark_held_over_several_samples_is_one_request() throws IOException {
            var source = open("time_s,hall_sin,hall_cos,request\n0,1,2,0\n1,3,4,1\n2,5,6,1\n3,5,6,0\n4,5,6,1\n");

            assertThat(source.requests()).hasSize(2);
        }
    }

    @Nested
    class Identity {
        /** REF-SHA-01, FIPS 180-4 by way of an independent {@code sha256sum}; the digest is of the bytes of the file. */
        @Test
        void is_the_digest_of_the_file_and_its_name() throws IOException {
            Path file = write("time_s,hall_sin,hall_cos\n0,1,2\n1,3,4\n");

            var identity = CsvCapture.open(file, CsvOptions.usual()).identity();

            assertThat(identity)
                    .isEqualTo(new SourceIdentity(
                            "csv",
                            "tarn-0042.csv",
                            "f63fb94e9b81c86e9bfdb140b52cbf178dffd90f12db698d6850f5833f8fa592"));
            assertThat(HexFormat.of().parseHex(identity.sha256())).hasSize(32);
        }
    }

    @Nested
    class The_last_line {
        private static final String START = "time_s,hall_sin,hall_cos,current_a\r\n0,1,2,0.001\r\n1,3,4,0.002\r\n";

        @Test
        void cut_short_in_its_fields_is_dropped_with_a_notice() throws IOException {
            var source = open(START + "2,5");

            assertThat(samples(source)).hasSize(2);
            assertThat(source.notices())
                    .containsExactly("line 4 is cut short (it has 2 of 4 fields) and was left out: the logger stopped"
                            + " inside it");
        }

        @Test
        void cut_short_in_its_last_number_is_dropped_with_a_notice() throws IOException {
            for (String end : List.of("2,5,6,", "2,5,6,-", "2,5,6,0.", "2,5,6,0.00", "2,5,6,\"0.0")) {
                var source = open(START + end);

                assertThat(samples(source)).as(end).hasSize(2);
                assertThat(source.notices()).as(end).singleElement().asString().startsWith("line 4 is cut short (");
            }
        }

        @Test
        void whole_but_without_line_break_is_kept() throws IOException {
            assertThat(samples(open(START + "2,5,6,0.003"))).hasSize(3);
        }
    }

    @Nested
    class Spooling {
        @Test
        void gives_back_every_number_bit_for_bit_in_any_block_size() throws IOException {
            long seed = 77;
            var random = new Random(seed);
            int rows = 3 * RowStage.ROWS + 17;
            double[][] written = new double[rows][];
            var text = new StringBuilder("time_s,hall_sin,hall_cos,current_a,supply_v\n");
            double time = 0;
            for (int i = 0; i < rows; i++) {
                time += 0.001 + random.nextDouble();
                int part = i / RowStage.ROWS; // each block in another form
                String[] fields = {
                    part == 0 ? String.format(Locale.ROOT, "%.6f", time) : Double.toString(time),
                    part == 1 ? Integer.toString(random.nextInt()) : Integer.toString(random.nextInt(4096)),
                    part == 2 ? Double.toString(random.nextGaussian() * 1e9) : "-0.0",
                    String.format(Locale.ROOT, "%." + (1 + random.nextInt(4)) + "f", random.nextGaussian()),
                    part == 3 ? "9007199254740991" : "12345678901.5"
                };
                text.append(String.join(",", fields)).append('\n');
                written[i] = Stream.of(fields).mapToDouble(Double::parseDouble).toArray();
                time = written[i][0];
            }
            Path file = write(text.toString());

            for (long memory : new long[] {CsvCapture.MEMORY_LIMIT, 1000}) {
                try (var source = CsvCapture.open(file, CsvOptions.usual(), memory, folder)) {
                    for (int blockSize : new int[] {1, 7, 1000, 4096, 100_000}) {
                        var all = Samples.of(source, blockSize);
                        assertThat(all).hasSize(rows);
                        for (int i = 0; i < rows; i++) {
                            double[] s = all.get(i);
                            double[] read = {s[0], s[1], s[2], s[5], s[6]};
                            for (int k = 0; k < read.length; k++) {
                                if (Double.doubleToRawLongBits(read[k]) != Double.doubleToRawLongBits(written[i][k])) {
                                    throw new AssertionError("seed " + seed + ", row " + i + ", column " + k
                                            + ", blocks of " + blockSize + ": " + read[k] + " is not " + written[i][k]);
                                }
                            }
                        }
                    }
                }
            }
        }

        @Test
        void a_pass_can_start_at_any_sample() throws IOException {
            var text = new StringBuilder("time_s,hall_sin,hall_cos\n");
            for (int i = 0; i < 10_000; i++) {
                text.append(i * 3)
                        .append(',')
                        .append(i % 100)
                        .append(',')
                        .append(i % 77)
                        .append('\n');
            }
            var source = open(text.toString());

            for (int from : new int[] {0, 1, 4095, 4096, 5000, 9999}) {
                var rest = Samples.read(source.open((long) from), 333);
                assertThat(rest).hasSize(10_000 - from);
                assertThat(rest.get(0)[0]).isEqualTo(from * 3.0);
            }
            assertThat(Samples.read(source.open(10_000L), 10)).isEmpty();
        }

        @Test
        void a_long_capture_goes_to_a_file_that_is_gone_when_the_source_is_closed() throws IOException {
            Path spoolFolder = Files.createDirectory(folder.resolve("spool"));
            var text = new StringBuilder("time_s,hall_sin,hall_cos\n");
            for (int i = 0; i < 20_000; i++) {
                text.append(i)
                        .append(',')
                        .append(i % 100)
                        .append(',')
                        .append(i % 77)
                        .append('\n');
            }

            try (var source = CsvCapture.open(write(text.toString()), CsvOptions.usual(), 10_000, spoolFolder)) {
                assertThat(source.inFile()).isTrue();
                assertThat(samples(source)).hasSize(20_000);
            }

            assertThat(spoolFolder).isEmptyDirectory();
        }

        @Test
        void a_capture_that_is_refused_leaves_no_file() throws IOException {
            Path spoolFolder = Files.createDirectory(folder.resolve("spool"));
            var text = new StringBuilder("time_s,hall_sin,hall_cos\n");
            for (int i = 0; i < 20_000; i++) {
                text.append(i)
                        .append(',')
                        .append(i % 100)
                        .append(',')
                        .append(i % 77)
                        .append('\n');
            }
            Path file = write(text + "x,1,2\n");

            assertThat(org.assertj.core.api.Assertions.catchThrowable(
                            () -> CsvCapture.open(file, CsvOptions.usual(), 10_000, spoolFolder)))
                    .isInstanceOf(org.shiftstand.document.BadInput.class);

            assertThat(spoolFolder).isEmptyDirectory();
        }
    }

    @Test
    void the_interval_is_finer_than_the_decimals_of_the_time_column() throws IOException {
        var text = new StringBuilder("time_s,hall_sin,hall_cos\n");
        for (int i = 0; i < 5000; i++) {
            double pause = i > 2500 ? 100 : 0; // a pause must not count
            text.append(String.format(Locale.ROOT, "%.6f,%d,%d%n", i / 512.0 + pause, i % 9, i % 7));
        }

        assertThat(open(text.toString()).intervalS()).isCloseTo(1 / 512.0, within(1e-9));
    }

    @Test
    void options_know_their_columns() {
        assertThat(new CsvOptions(Map.of("hall_sin", "A"), Map.of()).columns()).containsEntry("hall_sin", "A");
    }
}
