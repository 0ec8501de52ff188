package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.WildCapture.Sample;
import org.shiftstand.document.BadInput;

/**
 * A file that something happened to on its way is read as far as it says what it said, or refused: never a stack trace, and
 * never a sample that was not there.
 */
class MutilatedCaptureTest {
    private static final int FILES = 200;

    @TempDir
    Path folder;

    @Test
    void a_recognised_file_holds_no_sample_that_was_not_written() throws IOException {
        List<Sample> samples =
                WildCapture.samples(WildCapture.unzipped(Path.of("src/test/resources/captures/bench-a.csv.gz")), 1500);
        int read = 0;
        for (int seed = 0; seed < FILES; seed++) {
            var random = new Random(seed);
            WildCapture capture = any(random);
            byte[] whole = Files.readAllBytes(capture.write(folder.resolve("whole.csv"), samples));
            Path file = Files.write(folder.resolve("cut.csv"), mutilated(whole, random));
            Optional<List<double[]>> left = read(file, "seed " + seed);
            if (left.isPresent()) {
                read++;
                assertWritten(left.get(), samples, "seed " + seed);
            }
        }
        assertThat(read).as("files that could be read").isBetween(FILES / 20, FILES - FILES / 20);
    }

    private static WildCapture any(Random random) {
        var capture = new WildCapture();
        capture.with(
                random.nextBoolean()
                        ? WildCapture.time("t [ms]", "ms", 3, random.nextBoolean() ? "0" : "1764132995", 3)
                        : WildCapture.seconds("time"),
                WildCapture.sin("sin"),
                WildCapture.cos("cos"),
                WildCapture.milliamperes("I (mA)"));
        capture.delimiter = List.of(",", ";", "\t").get(random.nextInt(3));
        capture.decimal = capture.delimiter.equals(",") || random.nextBoolean() ? '.' : ',';
        capture.quoted = random.nextInt(4) == 0;
        capture.header = random.nextInt(4) > 0;
        if (random.nextBoolean()) {
            capture.preamble.add("Logger 4");
        }
        return capture;
    }

    /** Cuts, doubles, swaps and removes bytes and lines: no digit becomes another, or nobody could tell. */
    private static byte[] mutilated(byte[] whole, Random random) {
        List<String> lines = new ArrayList<>(
                new String(whole, StandardCharsets.UTF_8).lines().toList());
        int from = random.nextInt(lines.size());
        int to = Math.min(lines.size(), from + 1 + random.nextInt(40));
        switch (random.nextInt(9)) {
            case 0 -> lines.subList(from, to).clear();
            case 1 -> lines.addAll(to, List.copyOf(lines.subList(from, to)));
            case 2 -> java.util.Collections.swap(lines, from, to - 1);
            case 3 -> { // not inside its last number: 12 for 123 is a number too
                int most =
                        Math.max(0, lines.get(from).replaceAll("[^,;\t]*$", "").length());
                lines.set(from, lines.get(from).substring(0, random.nextInt(1 + most)));
            }
            case 4 -> lines.add(from, "--- connection lost ---");
            case 5 -> lines.set(from, lines.get(from) + lines.get(to - 1));
            case 6 -> lines.add(from, "");
            case 7 -> lines.set(from, lines.get(from).replaceFirst("[0-9]", "x"));
            default -> {
                byte[] bytes = whole.clone();
                for (int k = 1 + random.nextInt(3); k > 0; k--) {
                    bytes[random.nextInt(bytes.length)] =
                            (byte) (random.nextBoolean() ? 0 : 0x80 + random.nextInt(128));
                }
                return bytes;
            }
        }
        return (String.join("\n", lines) + "\n").getBytes(StandardCharsets.UTF_8);
    }

    /** Empty where it was refused or asked about; anything else than that is a failure by itself. */
    private static Optional<List<double[]>> read(Path file, String seed) {
        try {
            Recognition recognition = Recognition.of(file, "cut", Answers.none());
            assertThat(recognition.dialect().isPresent())
                    .as(seed + ": a dialect or questions")
                    .isEqualTo(recognition.questions().isEmpty());
            if (recognition.dialect().isEmpty()) {
                return Optional.empty();
            }
            try (SampleSource source =
                    CsvCapture.open(file, CsvOptions.of(recognition.dialect().get()))) {
                return Optional.of(Samples.of(source, 512));
            }
        } catch (BadInput e) {
            assertThat(e.problems()).as(seed).isNotEmpty();
            return Optional.empty();
        } catch (RuntimeException e) {
            throw new AssertionError(seed, e);
        }
    }

    /** Each sample has its values at its time; of an origin that is the first one left, at the same distance. */
    private static void assertWritten(List<double[]> left, List<Sample> samples, String seed) {
        Map<Long, Sample> byMicros = new HashMap<>();
        samples.forEach(s -> byMicros.put(s.timeS().movePointRight(6).longValueExact(), s));
        long first = Math.round(left.get(0)[0] * 1e6);
        long origin = samples.stream()
                .map(s -> s.timeS().movePointRight(6).longValueExact() - first)
                .filter(o -> fits(left.get(0), byMicros.get(first + o))
                        && fits(left.get(1), byMicros.get(Math.round(left.get(1)[0] * 1e6) + o)))
                .findFirst()
                .orElseThrow(() -> new AssertionError(seed + ": the first sample was never written"));
        for (double[] sample : left) {
            assertThat(fits(sample, byMicros.get(Math.round(sample[0] * 1e6) + origin)))
                    .as(seed + ": " + java.util.Arrays.toString(sample))
                    .isTrue();
        }
    }

    private static boolean fits(double[] sample, @org.jspecify.annotations.Nullable Sample written) {
        return written != null
                && (sample[1] == written.sin() && sample[2] == written.cos()
                        || sample[1] == written.cos() && sample[2] == written.sin())
                && (Double.isNaN(sample[5]) || sample[5] == written.currentA().doubleValue());
    }

    @Test
    void any_bytes_are_refused_with_a_message() throws IOException {
        for (int seed = 0; seed < 150; seed++) {
            var random = new Random(seed);
            byte[] bytes = new byte[random.nextInt(4000)];
            for (int i = 0; i < bytes.length; i++) {
                bytes[i] = (byte) "0123456789.,;\t\n\r\"'- +eEx:TZ".charAt(random.nextInt(27));
            }
            if (random.nextBoolean()) {
                random.nextBytes(bytes);
            }
            read(Files.write(folder.resolve("any.csv"), bytes), "seed " + seed);
        }
    }
}
