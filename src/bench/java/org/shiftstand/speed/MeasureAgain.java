package org.shiftstand.speed;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;

/**
 * Reads a capture once; then, for each line on standard input, measures it (both passes: correction, then angle, shifts, all
 * measures, numbering) and prints the seconds that took and how many shifts there were. Counterpart of
 * {@code src/bench/numpy/shifts.py --serve}; one machine for all rounds, as there.
 */
public final class MeasureAgain {
    private static final PrintStream OUT = new PrintStream(System.out, true, StandardCharsets.UTF_8);

    private MeasureAgain() {}

    /** {@code CAPTURE}. */
    public static void main(String[] args) throws IOException {
        try (SampleSource capture = CsvCapture.open(Path.of(args[0]), CsvOptions.usual());
                BufferedReader asked = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8))) {
            OUT.println("ready");
            while (asked.readLine() != null) {
                long start = System.nanoTime();
                int shifts = Measuring.measure(capture, Optional.empty(), JudgeOptions.defaults())
                        .table()
                        .shifts()
                        .size();
                OUT.printf(Locale.ROOT, "%.6f %d%n", (System.nanoTime() - start) / 1e9, shifts);
            }
        }
    }
}
