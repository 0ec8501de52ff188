package org.shiftstand.speed;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.GZIPInputStream;

/**
 * Writes a long CSV capture by laying a short one end to end, its first column, {@code time_s}, going on.
 *
 * <p>All other columns are copied as they are. At a seam the shaft jumps by what lies between the short capture's last
 * and first sample.
 */
public final class LongCapture {
    private static final int MICROS_PER_SECOND = 1_000_000;

    private LongCapture() {}

    /** {@code CAPTURE[.gz] OUT ROWS}. */
    public static void main(String[] args) throws IOException {
        write(Path.of(args[0]), Path.of(args[1]), Long.parseLong(args[2]));
    }

    static void write(Path from, Path to, long rows) throws IOException {
        List<String> lines = lines(from);
        int n = lines.size() - 1;
        long[] micros = new long[n];
        byte[][] rest = new byte[n][];
        for (int i = 0; i < n; i++) {
            String line = lines.get(i + 1);
            int comma = line.indexOf(',');
            micros[i] = Math.round(Double.parseDouble(line.substring(0, comma)) * MICROS_PER_SECOND);
            rest[i] = (line.substring(comma) + "\r\n").getBytes(StandardCharsets.US_ASCII);
        }
        long period = micros[n - 1] - micros[0] + (micros[1] - micros[0]);
        byte[] time = new byte[32];
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(to), 1 << 20)) {
            out.write((lines.get(0) + "\r\n").getBytes(StandardCharsets.US_ASCII));
            for (long row = 0; row < rows; row++) {
                int i = (int) (row % n);
                int at = seconds(row / n * period + micros[i] - micros[0], time);
                out.write(time, at, time.length - at);
                out.write(rest[i]);
            }
        }
    }

    /** Writes seconds with six decimals to the end of a buffer; gives where they begin. */
    private static int seconds(long micros, byte[] buffer) {
        int at = buffer.length;
        long left = micros;
        for (int digit = 0; digit < 6; digit++) {
            buffer[--at] = (byte) ('0' + left % 10);
            left /= 10;
        }
        buffer[--at] = '.';
        do {
            buffer[--at] = (byte) ('0' + left % 10);
            left /= 10;
        } while (left > 0);
        return at;
    }

    private static List<String> lines(Path file) throws IOException {
        try (InputStream in = file.toString().endsWith(".gz")
                ? new GZIPInputStream(Files.newInputStream(file))
                : Files.newInputStream(file)) {
            return new ArrayList<>(new String(in.readAllBytes(), StandardCharsets.US_ASCII)
                    .lines()
                    .toList());
        }
    }
}
