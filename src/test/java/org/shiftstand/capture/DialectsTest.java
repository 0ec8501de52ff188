package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.shiftstand.capture.WildCapture.amperes;
import static org.shiftstand.capture.WildCapture.cos;
import static org.shiftstand.capture.WildCapture.hall;
import static org.shiftstand.capture.WildCapture.index;
import static org.shiftstand.capture.WildCapture.milliamperes;
import static org.shiftstand.capture.WildCapture.power;
import static org.shiftstand.capture.WildCapture.request;
import static org.shiftstand.capture.WildCapture.seconds;
import static org.shiftstand.capture.WildCapture.sin;
import static org.shiftstand.capture.WildCapture.stamp;
import static org.shiftstand.capture.WildCapture.text;
import static org.shiftstand.capture.WildCapture.time;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.shiftstand.capture.WildCapture.Col;
import org.shiftstand.capture.WildCapture.Sample;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import org.shiftstand.report.ShiftCsv;

/**
 * The same samples as seventy loggers might write them, each recognised, written as a mapping, read by that mapping and
 * measured: the table of shifts is that of the plain capture.
 */
class DialectsTest {
    /** How far the table may be from the plain one, and why. */
    enum Loss {
        /** Every number is read as the plain one is, to the last bit. */
        NONE(0, 0, 0),
        /** Both Hall outputs by one factor or less an offset: the same ellipse, other rounding; last digit. */
        ROUNDING(2e-4, 3e-6, 1e-4),
        /** One gain changed: the points that the ellipse is fitted to are thinned by raw angle, so they are others; twice the
         * 0.1 deg that a landing may be off, for a difference of two. */
        GAIN(0.2, 1e-4, 1e-3),
        /** Count over rate, where the plain capture rounds to a microsecond: half of one at both ends and the origin; the
         * second-order term is fitted over time, and moves by hundredths of a degree. */
        CLOCK(0.02, 6e-6, 1e-4),
        /** Volts with four decimals: 0.1 mV of 1.2 mV a count, 0.03 counts rms, 0.0013 deg a sample. */
        VOLTS(0.01, 5e-5, 1e-4),
        /** Whole milliseconds: times by one at both ends; steady speed cannot be told from them, so that the second-order
         * term is missing and measuring says 0.5 deg, twice that for a difference of two. */
        MILLISECONDS(1, 2e-3, 0.02);

        final double deg;
        final double s;
        final double other;

        Loss(double deg, double s, double other) {
            this.deg = deg;
            this.s = s;
            this.other = other;
        }
    }

    record Wild(String name, WildCapture capture, Answers answers, Loss loss) {
        @Override
        public String toString() {
            return name;
        }
    }

    private static final String EPOCH = "1764132995";
    private static final int SAMPLES = 6000;

    @TempDir
    static Path folder;

    static List<Sample> samples = List.of();
    static List<List<String>> plain = List.of();

    @BeforeAll
    static void measure_the_plain_one() throws IOException {
        samples = WildCapture.samples(
                WildCapture.unzipped(Path.of("src/test/resources/captures/bench-b.csv.gz")), SAMPLES);
        plain = measured(usual(new WildCapture()).write(folder.resolve("plain.csv"), samples), CsvOptions.usual());
        assertThat(plain).as("shifts in the plain capture").hasSizeGreaterThan(12);
    }

    private static WildCapture usual(WildCapture capture) {
        return capture.with(
                seconds("time_s"),
                sin("hall_sin"),
                cos("hall_cos"),
                power("hall_power", "0", "1"),
                amperes("current_a"),
                request("request"));
    }

    static List<List<String>> measured(Path file, CsvOptions options) throws IOException {
        try (SampleSource source = CsvCapture.open(file, options)) {
            JudgeOptions by = JudgeOptions.defaults();
            var periods = options.dialect().map(Dialect::periodsPerTurn);
            if (periods.isPresent() && periods.get().isPresent()) {
                by = by.withPeriodsPerTurn(periods.get().getAsInt());
            }
            var text = new StringBuilder();
            ShiftCsv.write(Measuring.measure(source, Optional.empty(), by).table(), text);
            var bytes = new Bytes(
                    new java.io.ByteArrayInputStream(text.toString().getBytes(java.nio.charset.StandardCharsets.UTF_8)),
                    new CsvProblems("table"));
            List<List<String>> rows = new ArrayList<>();
            while (bytes.hasLine()) {
                rows.add(CsvRecord.read(bytes).fields());
            }
            return rows;
        }
    }

    static Stream<Wild> dialects() {
        return Stream.concat(chosen().stream(), mixed().stream());
    }

    private static Wild wild(String name, Loss loss, Answers answers, Col time, Col sin, Col cos) {
        var capture = new WildCapture()
                .with(time, sin, cos, power("hall_power", "0", "1"), amperes("current_a"), request("request"));
        return new Wild(name, capture, answers, loss);
    }

    private static Wild wild(String name, Loss loss, Col time, Col sin, Col cos) {
        return wild(name, loss, Answers.none(), time, sin, cos);
    }

    private static Answers rate(double hz) {
        return Answers.parse(
                List.of(),
                List.of(),
                List.of(),
                java.util.OptionalDouble.of(hz),
                "",
                "",
                "",
                java.util.OptionalInt.empty());
    }

    private static List<Wild> chosen() {
        Col s = seconds("time_s");
        Col hs = sin("hall_sin");
        Col hc = cos("hall_cos");
        List<Wild> all = new ArrayList<>();
        all.add(wild("plain", Loss.NONE, s, hs, hc));
        all.add(wild("time in ms", Loss.NONE, time("t [ms]", "ms", 3, "0", 3), hs, hc));
        all.add(wild("time in us", Loss.NONE, time("Time (us)", "us", 6, "0", 0), hs, hc));
        all.add(wild("time in micro sign s", Loss.NONE, time("t/µs", "us", 6, "0", 0), hs, hc));
        all.add(wild("time in ns", Loss.NONE, time("timestamp_ns", "ns", 9, "0", 0), hs, hc));
        all.add(wild("time without a unit", Loss.NONE, seconds("t"), hs, hc));
        all.add(wild("milliseconds without a unit", Loss.NONE, time("Time", "ms", 3, "0", 3), hs, hc));
        all.add(wild("microseconds without a unit", Loss.NONE, time("ticks", "us", 6, "0", 0), hs, hc));
        all.add(wild("epoch s", Loss.NONE, time("epoch", "s", 0, EPOCH, 6), hs, hc));
        all.add(wild("epoch ms", Loss.NONE, time("unix time [ms]", "ms", 3, EPOCH, 3), hs, hc));
        all.add(wild("epoch us", Loss.NONE, time("ts_us", "us", 6, EPOCH, 0), hs, hc));
        all.add(wild("epoch ns", Loss.NONE, time("ts_ns", "ns", 9, EPOCH, 0), hs, hc));
        all.add(wild("epoch ns with a fraction", Loss.NONE, time("ts_ns", "ns", 9, EPOCH, 3), hs, hc));
        all.add(wild("epoch whole ms", Loss.MILLISECONDS, time("epoch_ms", "ms", 3, EPOCH, 0), hs, hc));
        all.add(wild("RFC 3339", Loss.NONE, stamp("Timestamp", "yyyy-MM-dd'T'HH:mm:ss.SSSSSS'Z'"), hs, hc));
        all.add(wild("RFC 3339 east", Loss.NONE, stamp("UTC", "yyyy-MM-dd'T'HH:mm:ss.SSSSSSSSS'+02:00'"), hs, hc));
        all.add(wild("date and time", Loss.NONE, stamp("Date/Time", "yyyy-MM-dd HH:mm:ss.SSSSSS"), hs, hc));
        all.add(wild("time of day", Loss.NONE, stamp("clock", "HH:mm:ss.SSSSSS"), hs, hc));
        all.add(wild("Sin and Cos", Loss.NONE, s, sin("Sin"), cos("Cos")));
        all.add(wild("Hall sensor sine", Loss.NONE, s, sin("Hall sensor sine (raw)"), cos("Hall sensor cosine (raw)")));
        all.add(wild("Hall A and B", Loss.NONE, s, sin("Hall A"), cos("Hall B")));
        all.add(wild("H1 and H2", Loss.NONE, s, sin("H1"), cos("H2")));
        all.add(wild("CH1 and CH2", Loss.NONE, s, sin("CH1"), cos("CH2")));
        all.add(wild("x and y", Loss.NONE, s, sin("x"), cos("y")));
        all.add(wild("volts", Loss.VOLTS, s, volts("sin (V)", Sample::sin), volts("cos (V)", Sample::cos)));
        all.add(wild("millivolts", Loss.ROUNDING, s, milli("sin [mV]", Sample::sin), milli("cos [mV]", Sample::cos)));
        all.add(wild("signed", Loss.ROUNDING, s, signed("sin", Sample::sin), signed("cos", Sample::cos)));
        all.add(wild("unlike gains", Loss.GAIN, s, hall("sin", "", Sample::sin, "0.5", "100", 1), cos("cos")));
        var differential =
                wild("differential", Loss.ROUNDING, s, half("sin+", Sample::sin, 1), half("cos+", Sample::cos, 1));
        differential.capture.with(half("sin-", Sample::sin, -1), half("cos-", Sample::cos, -1));
        all.add(differential);
        var byStem =
                wild("differential by stem", Loss.ROUNDING, s, half("A+", Sample::sin, 1), half("B+", Sample::cos, 1));
        byStem.capture.with(half("A-", Sample::sin, -1), half("B-", Sample::cos, -1));
        all.add(byStem);
        all.add(layout("index and rate", Loss.CLOCK, rate(512), c -> c.columns.set(0, index("sample"))));
        all.add(layout("semicolons", c -> c.delimiter = ";"));
        all.add(layout("tabs", c -> c.delimiter = "\t"));
        all.add(layout("semicolons and decimal comma", c -> {
            c.delimiter = ";";
            c.decimal = ',';
        }));
        all.add(layout("tabs and decimal comma", c -> {
            c.delimiter = "\t";
            c.decimal = ',';
        }));
        all.add(layout("commas, and decimal commas in quotes", c -> {
            c.decimal = ',';
            c.quoted = true;
        }));
        all.add(layout("all in quotes", c -> c.quoted = true));
        all.add(layout("thousands by apostrophe", c -> c.grouping = "'"));
        all.add(layout("thousands by point", c -> {
            c.delimiter = ";";
            c.decimal = ',';
            c.grouping = ".";
        }));
        all.add(layout("thousands by comma in quotes", c -> {
            c.grouping = ",";
            c.quoted = true;
        }));
        all.add(layout("thousands by space", c -> {
            c.delimiter = "\t";
            c.grouping = " ";
        }));
        all.add(layout("CRLF, BOM, compressed", c -> {
            c.lineBreak = "\r\n";
            c.mark = true;
            c.zipped = true;
        }));
        all.add(layout(
                "preamble",
                c -> c.preamble.addAll(
                        List.of("Logger 4, serial 0042", "", "Sample rate: 512 Hz", "Channels; 6", "-----"))));
        all.add(layout("units below", c -> {
            c.columns.set(0, time("t", "ms", 3, "0", 3));
            c.columns.set(4, milliamperes("I"));
            c.unitsRow = true;
        }));
        all.add(layout("units in brackets", c -> {
            c.columns.set(0, time("t", "ms", 3, "0", 3));
            c.columns.set(4, milliamperes("I"));
            c.bracketUnits = true;
        }));
        all.add(layout("a delimiter at the end of each row", c -> {
            c.delimiter = ";";
            c.trailing = true;
        }));
        all.add(layout("every third row repeated", c -> c.repeatEvery = 3));
        all.add(layout("every row repeated", c -> c.repeatEvery = 1));
        all.add(layout("current in mA", c -> c.columns.set(4, milliamperes("Motor current (mA)"))));
        all.add(layout("current in A by size", c -> c.columns.set(4, amperes("I"))));
        all.add(layout("current in mA by size", c -> c.columns.set(4, milliamperes("Supply current"))));
        all.add(layout("enable as a level", c -> c.columns.set(3, power("Hall enable", "0.02", "3.29"))));
        all.add(layout("other columns between", c -> {
            c.columns.add(1, text("state", "moving"));
            c.columns.add(3, text("Date", "2026-09-14"));
            c.columns.add(text("temperature", "23.5"));
        }));
        all.add(layout("columns in another order", c -> Collections.reverse(c.columns)));
        return all;
    }

    private static Wild layout(String name, java.util.function.Consumer<WildCapture> change) {
        return layout(name, Loss.NONE, Answers.none(), change);
    }

    private static Wild layout(
            String name, Loss loss, Answers answers, java.util.function.Consumer<WildCapture> change) {
        var capture = usual(new WildCapture());
        change.accept(capture);
        return new Wild(name, capture, answers, loss);
    }

    private static Col volts(String header, java.util.function.Function<Sample, Long> counts) {
        return hall(header, "V", counts, "0.001220703125", "0", 4);
    }

    private static Col milli(String header, java.util.function.Function<Sample, Long> counts) {
        return hall(header, "mV", counts, "1.25", "-12.5", 2);
    }

    private static Col signed(String header, java.util.function.Function<Sample, Long> counts) {
        return hall(header, "", counts, "1", "-2048", 0);
    }

    /** Half of the swing, about 2.5 V. */
    private static Col half(String header, java.util.function.Function<Sample, Long> counts, int sign) {
        return hall(header, "V", counts, sign > 0 ? "0.0005" : "-0.0005", "2.5", 4);
    }

    /** Twenty more, put together at random from what was shown alone. */
    private static List<Wild> mixed() {
        List<Wild> all = new ArrayList<>();
        for (int seed = 1; seed <= 20; seed++) {
            var random = new Random(seed);
            var capture = new WildCapture();
            List<Col> times = List.of(
                    seconds("Time [s]"),
                    time("elapsed (ms)", "ms", 3, "0", 3),
                    time("t_us", "us", 6, EPOCH, 0),
                    time("Unix time", "s", 0, EPOCH, 6),
                    stamp("date time", "yyyy-MM-dd'T'HH:mm:ss.SSSSSS'Z'"));
            List<List<Col>> halls = List.of(
                    List.of(sin("HallSin"), cos("HallCos")),
                    List.of(sin("ADC0"), cos("ADC1")),
                    List.of(sin("hall_1"), cos("hall_2")),
                    List.of(sin("SINE"), cos("COSINE")));
            List<Col> currents =
                    List.of(amperes("Current (A)"), milliamperes("I_mA"), milliamperes("supply current [mA]"));
            List<Col> powers =
                    List.of(power("en", "0", "1"), power("Sensor power", "0", "3.3"), power("hall_pwr", "0", "5"));
            capture.with(pick(times, random));
            capture.columns.addAll(pick(halls, random));
            capture.with(
                    pick(currents, random),
                    pick(powers, random),
                    pick(List.of(request("Mark"), request("shift request")), random));
            if (random.nextBoolean()) {
                capture.with(text("state", "ok"));
            }
            List<Col> rest = capture.columns.subList(3, capture.columns.size());
            Collections.shuffle(rest, random); // the first of two unnamed outputs is taken for the sine
            if (random.nextInt(3) > 0) {
                capture.delimiter = pick(List.of(";", "\t"), random);
                capture.decimal = pick(List.of('.', ','), random);
            }
            capture.headerQuoted = random.nextBoolean();
            capture.quoted = random.nextInt(4) == 0;
            capture.lineBreak = pick(List.of("\n", "\r\n"), random);
            capture.trailing = random.nextInt(4) == 0;
            capture.mark = random.nextInt(4) == 0;
            capture.zipped = random.nextInt(4) == 0;
            capture.repeatEvery = random.nextInt(3) == 0 ? 7 : 0;
            for (int k = random.nextInt(5); k > 0; k--) {
                capture.preamble.add(pick(List.of("# made by a logger", "Channel map 1", "", "Rate 512"), random));
            }
            all.add(new Wild("mixed, seed " + seed, capture, Answers.none(), Loss.NONE));
        }
        return all;
    }

    private static <T> T pick(List<T> of, Random random) {
        return of.get(random.nextInt(of.size()));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("dialects")
    void is_measured_as_the_plain_one(Wild wild) throws IOException {
        Path file = wild.capture.write(folder.resolve("wild.csv"), samples);

        Recognition recognition = Recognition.of(file, "logger", wild.answers);

        assertThat(recognition.questions()).as("questions").isEmpty();
        Dialect dialect = recognition.dialect().orElseThrow();
        Dialect reread = MappingFile.read(
                org.shiftstand.document.TextFile.of("logger.mapping.yaml", MappingText.of(dialect, List.of("found"))));
        assertThat(reread).as("the mapping written and read").isEqualTo(dialect);
        assertSame(measured(file, CsvOptions.of(reread)), plain, wild.loss, wild.name);
    }

    /** Equal to the tolerance; origins of time and angle may differ, since an epoch's is another. */
    static void assertSame(List<List<String>> table, List<List<String>> plain, Loss loss, String name) {
        assertThat(table).as(name + ": shifts").hasSameSizeAs(plain);
        List<String> header = plain.get(0);
        int request = header.indexOf("request_s");
        double originS = number(table, 1, request) - number(plain, 1, request);
        for (int row = 1; row < plain.size(); row++) {
            for (int c = 0; c < header.size(); c++) {
                String what = name + ", row " + row + ", " + header.get(c);
                String expected = plain.get(row).get(c);
                String found = table.get(row).get(c);
                boolean instant =
                        List.of("request_s", "motion_start_s", "settled_s").contains(header.get(c));
                double tolerance = header.get(c).endsWith("_deg")
                        ? loss.deg
                        : header.get(c).endsWith("_s") ? loss.s : loss.other;
                if (!expected.matches("-?[0-9]+\\.[0-9]+") || (tolerance == 0 && !instant)) {
                    assertThat(found).as(what).isEqualTo(expected);
                } else {
                    assertThat(Double.parseDouble(found) - (instant ? originS : 0))
                            .as(what)
                            .isCloseTo(
                                    Double.parseDouble(expected),
                                    org.assertj.core.api.Assertions.within(tolerance + (instant ? 1.5e-6 : 0)));
                }
            }
        }
    }

    private static double number(List<List<String>> table, int row, int column) {
        return Double.parseDouble(table.get(row).get(column));
    }
}
