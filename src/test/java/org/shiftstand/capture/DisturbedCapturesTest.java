package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.WildCapture.Sample;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** Captures that something has happened to on the way: the shifts are those that were made, or the reason is told. */
class DisturbedCapturesTest {
    /** Six single shifts of 733 degrees inboard, the first three with 240 degrees of overtravel held for 600 ms, and back. */
    private static final double PITCH = 733;

    private static final double SECONDS = 24;
    private static final int SEED = 20261126;

    @TempDir
    Path folder;

    /** Angle of the shaft at a time, degrees. */
    static double angle(double t) {
        int shift = (int) Math.floor(t / 2);
        double within = t - 2 * shift - 0.4;
        boolean inboard = shift < 6;
        double from = PITCH * (inboard ? shift : 12 - shift);
        double landing = from + (inboard ? PITCH : -PITCH);
        double over = shift < 3 ? 240 : 0;
        double out = from + (landing + over - from) * smooth(within / 0.16);
        return over == 0 || within < 0.76 ? out : landing + over - over * smooth((within - 0.76) / 0.08);
    }

    private static double smooth(double u) {
        double x = Math.max(0, Math.min(1, u));
        return x - Math.sin(2 * Math.PI * x) / (2 * Math.PI);
    }

    private static List<Sample> samples(
            double rateHz, int periods, double fromS, double toS, DoubleUnaryOperator humCounts) {
        var random = new Random(SEED);
        List<Sample> samples = new ArrayList<>();
        for (long i = Math.round(fromS * rateHz); i < toS * rateHz; i++) {
            double t = i / rateHz;
            double phi = Math.toRadians(periods * angle(t));
            double hum = humCounts.applyAsDouble(t);
            samples.add(new Sample(
                    samples.size(),
                    BigDecimal.valueOf(t).setScale(6, RoundingMode.HALF_EVEN),
                    Math.round(2050 + 1400 * Math.sin(phi) + hum + 1.5 * random.nextGaussian()),
                    Math.round(2010 + 1330 * Math.cos(phi) + hum + 1.5 * random.nextGaussian()),
                    1,
                    BigDecimal.valueOf(Math.round(300 + hum), 3),
                    mark(t)));
        }
        return samples;
    }

    /** Held for 20 ms before each motion. */
    private static int mark(double t) {
        double within = t - 2 * Math.floor(t / 2);
        return within >= 0.379 && within < 0.399 ? (t < 12 ? 1 : -1) : 0;
    }

    private static List<Sample> samples(double rateHz) {
        return samples(rateHz, 1, 0, SECONDS, t -> 0);
    }

    private static WildCapture logger() {
        var capture = new WildCapture();
        capture.delimiter = ";";
        capture.decimal = ',';
        return capture.with(
                WildCapture.time("Time [ms]", "ms", 3, "1764132995", 3),
                WildCapture.sin("sin"),
                WildCapture.cos("cos"),
                WildCapture.milliamperes("I [mA]"),
                WildCapture.request("request"));
    }

    private Measurement measured(WildCapture capture, List<Sample> samples, Answers answers) throws IOException {
        Path file = capture.write(folder.resolve("wild.csv"), samples);
        Recognition recognition = Recognition.of(file, "wild", answers);
        assertThat(recognition.questions()).isEmpty();
        Dialect dialect = recognition.dialect().orElseThrow();
        try (SampleSource source = CsvCapture.open(file, CsvOptions.of(dialect))) {
            JudgeOptions options = JudgeOptions.defaults();
            if (dialect.periodsPerTurn().isPresent()) {
                options = options.withPeriodsPerTurn(dialect.periodsPerTurn().getAsInt());
            }
            return Measuring.measure(source, Optional.empty(), options);
        }
    }

    private Recognition recognised(WildCapture capture, List<Sample> samples) throws IOException {
        return Recognition.of(capture.write(folder.resolve("wild.csv"), samples), "wild", Answers.none());
    }

    private static double value(Shift shift, Measure measure) {
        return shift.get(measure).number().orElse(Double.NaN);
    }

    /** All twelve shifts as they were made. */
    private static void assertMade(List<Shift> shifts, double toleranceDeg) {
        assertThat(shifts).hasSize(12);
        for (int i = 0; i < 12; i++) {
            Shift shift = shifts.get(i);
            double sign = i < 6 ? 1 : -1;
            assertThat(sign * (value(shift, Measure.LANDING) - value(shift, Measure.START)))
                    .as("travel of shift " + (i + 1))
                    .isCloseTo(PITCH, within(toleranceDeg));
            assertThat(value(shift, Measure.OVERTRAVEL))
                    .as("overtravel of shift " + (i + 1))
                    .isCloseTo(i < 3 ? 240 : 0, within(toleranceDeg));
        }
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {128, 500, 2000, 10_000, 50_000})
    void any_rate_from_128_Hz_to_50_kHz(double rateHz) throws IOException {
        boolean one = rateHz > 20_000; // one shift is a hundred thousand rows
        List<Sample> fast = samples(rateHz, 1, one ? 0.3 : 0, one ? 1.4 : SECONDS, t -> 0);

        List<Shift> shifts = measured(logger(), fast, Answers.none()).table().shifts();

        assertThat(shifts).hasSize(one ? 1 : 12);
        assertThat(value(shifts.get(0), Measure.OVERTRAVEL)).isCloseTo(240, within(0.5));
    }

    @Test
    void two_periods_a_turn_are_told_and_carried_by_the_mapping() throws IOException {
        var answers = Answers.parse(
                List.of(), List.of(), List.of(), java.util.OptionalDouble.empty(), "", "", "", OptionalInt.of(2));

        Measurement measured = measured(logger(), samples(2000, 2, 0, SECONDS, t -> 0), answers);

        assertMade(measured.table().shifts(), 0.3);
    }

    @Test
    void swapped_and_inverted_outputs_only_turn_the_sense() throws IOException {
        var swapped = logger();
        swapped.columns.set(1, WildCapture.cos("sin"));
        swapped.columns.set(2, WildCapture.hall("cos", "", Sample::sin, "-1", "4095", 0));
        var swappedOnly = logger();
        swappedOnly.columns.set(1, WildCapture.cos("sin"));
        swappedOnly.columns.set(2, WildCapture.sin("cos"));

        assertMade(measured(swapped, samples(512), Answers.none()).table().shifts(), 0.3);
        assertMade(measured(swappedOnly, samples(512), Answers.none()).table().shifts(), 0.3);
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {50, 60})
    void mains_hum_on_all_channels(double humHz) throws IOException {
        // ten counts are 0.4 degrees on one output; the median of a rest leaves a part of it
        List<Sample> humming = samples(512, 1, 0, SECONDS, t -> 10 * Math.sin(2 * Math.PI * humHz * t));

        assertMade(measured(logger(), humming, Answers.none()).table().shifts(), 0.5);
    }

    @Test
    void uneven_sampling() throws IOException {
        var random = new Random(SEED);
        List<Sample> uneven = new ArrayList<>();
        for (Sample s : samples(2000)) {
            if (random.nextDouble() < 0.5 || s.request() != 0) {
                uneven.add(s);
            }
        }

        Measurement measured = measured(logger(), uneven, Answers.none());

        for (Shift shift : measured.table().shifts()) {
            double overtravel = value(shift, Measure.OVERTRAVEL);
            // a gap is told; what is measured is right
            assertThat(Double.isNaN(overtravel) || overtravel == 0 || Math.abs(overtravel - 240) < 0.5)
                    .as("overtravel " + overtravel)
                    .isTrue();
        }
        assertThat(measured.table().shifts()).hasSize(12);
    }

    @Test
    void a_capture_that_starts_inside_a_shift() throws IOException {
        List<Sample> late = samples(512, 1, 2.46, SECONDS, t -> 0);

        List<Shift> shifts = measured(logger(), late, Answers.none()).table().shifts();

        assertThat(shifts.get(shifts.size() - 1).number()).isGreaterThanOrEqualTo(10);
        List<Shift> whole = shifts.subList(shifts.size() - 10, shifts.size());
        assertThat(value(whole.get(0), Measure.OVERTRAVEL)).isCloseTo(240, within(0.3));
        for (Shift first :
                shifts.subList(0, shifts.size() - 10)) { // its start is not seen, its plateau and landing are
            assertThat(value(first, Measure.TRAVEL_TIME))
                    .as("travel time without a request")
                    .isNaN();
            assertThat(value(first, Measure.OVERTRAVEL)).isCloseTo(240, within(0.3));
        }
    }

    @Test
    void a_channel_lost_for_the_whole_file_is_refused_with_its_name() throws IOException {
        var capture = logger();
        capture.columns.set(2, WildCapture.text("cos", "2048"));

        Recognition recognition = recognised(capture, samples(512));

        assertThat(recognition.dialect()).isEmpty();
        assertThat(recognition.questions().get(0).what())
                .startsWith(
                        "hall_cos: 'cos' is 2048 in all 12288 rows: this channel is lost, and one alone gives no angle.");
    }

    @Test
    void a_channel_lost_for_a_while_is_a_sensor_fault_there_and_nowhere_else() throws IOException {
        List<Sample> samples = new ArrayList<>();
        for (Sample s : samples(512)) {
            double t = s.timeS().doubleValue();
            samples.add(
                    t > 6.3 && t < 7.2
                            ? new Sample(s.index(), s.timeS(), s.sin(), 0, 1, s.currentA(), s.request())
                            : s);
        }

        List<Shift> shifts = measured(logger(), samples, Answers.none()).table().shifts();

        assertThat(shifts).hasSize(12);
        assertThat(value(shifts.get(3), Measure.OVERTRAVEL))
                .as("of the shift in the dark")
                .isNaN();
        assertThat(value(shifts.get(0), Measure.OVERTRAVEL)).isCloseTo(240, within(0.3));
        assertThat(value(shifts.get(9), Measure.OVERTRAVEL)).isZero();
    }

    @Test
    void a_clipped_converter_is_told_with_the_column_and_the_rail() throws IOException {
        List<Sample> clipped = clipped(3300);

        Recognition recognition = recognised(logger(), clipped);

        assertThat(recognition.dialect()).isPresent();
        assertThat(recognition.notes())
                .anyMatch(n -> n.startsWith("'sin' is clipped: ") && n.contains("stand at 3300"));
        assertThat(recognised(logger(), samples(512)).notes()).noneMatch(n -> n.contains("clipped"));
    }

    private static List<Sample> clipped(long most) {
        return samples(512).stream()
                .map(s -> new Sample(
                        s.index(),
                        s.timeS(),
                        Math.min(most, s.sin()),
                        Math.min(most, s.cos()),
                        1,
                        s.currentA(),
                        s.request()))
                .toList();
    }

    @Test
    void a_clipped_converter_gives_no_wrong_number() throws IOException {
        List<Shift> shifts =
                measured(logger(), clipped(3300), Answers.none()).table().shifts();

        for (Shift shift : shifts) {
            double overtravel = value(shift, Measure.OVERTRAVEL);
            assertThat(Double.isNaN(overtravel) || Math.abs(overtravel - 240) < 1 || overtravel == 0)
                    .as("overtravel " + overtravel)
                    .isTrue();
        }
    }
}
