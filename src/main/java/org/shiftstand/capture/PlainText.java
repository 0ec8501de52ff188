package org.shiftstand.capture;

import java.io.IOException;
import java.io.OutputStream;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.shiftstand.quantity.Direction;

/**
 * Writes samples as a plain capture (RFC 4180, lines ended by CRLF): what it says when it is read is bit for bit what the
 * source said.
 */
public final class PlainText {
    private PlainText() {}

    /** Writes all samples of a source; marks of requests are written on the first sample at or behind them. */
    public static long write(SampleSource source, OutputStream to) throws IOException {
        SampleSource.Channels channels = source.channels();
        List<Request> requests = source.requests();
        List<String> header = new ArrayList<>(List.of("time_s", "hall_sin", "hall_cos"));
        if (channels.hallPower()) {
            header.add("hall_power");
        }
        if (channels.window()) {
            header.add("window");
        }
        if (channels.current()) {
            header.add("current_a");
        }
        if (channels.supply()) {
            header.add("supply_v");
        }
        if (!requests.isEmpty()) {
            header.add("request");
        }
        var line = new StringBuilder(String.join(",", header)).append("\r\n");
        long rows = 0;
        int next = 0;
        try (SampleReader reader = source.open()) {
            var block = new SampleBlock(4096);
            while (reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    line.append(plain(block.timeS[i])).append(',').append(plain(block.hallSin[i]));
                    line.append(',').append(plain(block.hallCos[i]));
                    if (channels.hallPower()) {
                        line.append(',').append(block.powered[i] ? '1' : '0');
                    }
                    if (channels.window()) {
                        line.append(',').append(block.window[i]);
                    }
                    if (channels.current()) {
                        line.append(',').append(plain(block.currentA[i]));
                    }
                    if (channels.supply()) {
                        line.append(',').append(plain(block.supplyV[i]));
                    }
                    if (!requests.isEmpty()) {
                        int mark = 0;
                        while (next < requests.size() && requests.get(next).timeS() <= block.timeS[i]) {
                            mark = requests.get(next++)
                                    .direction()
                                    .map(d -> d == Direction.INBOARD ? 1 : -1)
                                    .orElse(0);
                        }
                        line.append(',').append(mark);
                    }
                    line.append("\r\n");
                    rows++;
                }
                to.write(line.toString().getBytes(StandardCharsets.US_ASCII));
                line.setLength(0);
            }
        }
        return rows;
    }

    /** The shortest decimal that is read as this double, without an exponent. */
    private static String plain(double value) {
        if (value == (long) value && Math.abs(value) < 1e15 && !(value == 0 && 1 / value < 0)) {
            return Long.toString((long) value);
        }
        String text = Double.toString(value);
        return text.indexOf('E') < 0 ? text : new BigDecimal(text).toPlainString();
    }
}
