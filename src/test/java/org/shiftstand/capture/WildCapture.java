package org.shiftstand.capture;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.zip.GZIPOutputStream;

/** Writes the samples of one capture as another logger would have written them. */
final class WildCapture {
    /** One sample of the plain capture, decimals as they stand there. */
    record Sample(long index, BigDecimal timeS, long sin, long cos, int power, BigDecimal currentA, int request) {}

    /** A column: its header, its unit, and its numbers with a decimal point. */
    record Col(String header, String unit, Function<Sample, String> text) {
        Col named(String other) {
            return new Col(other, unit, text);
        }
    }

    List<Col> columns = new ArrayList<>();
    String delimiter = ",";
    char decimal = '.';
    boolean quoted;
    boolean headerQuoted;
    boolean bracketUnits;
    boolean unitsRow;
    boolean header = true;
    boolean trailing;
    boolean mark;
    boolean zipped;
    String grouping = "";
    String lineBreak = "\n";
    List<String> preamble = new ArrayList<>();
    int repeatEvery;

    WildCapture with(Col... more) {
        columns.addAll(List.of(more));
        return this;
    }

    Path write(Path file, List<Sample> samples) throws IOException {
        var text = new StringBuilder(mark ? "\uFEFF" : "");
        preamble.forEach(line -> text.append(line).append(lineBreak));
        if (header) {
            line(
                    text,
                    columns.stream()
                            .map(c -> bracketUnits && !c.unit.isEmpty() ? c.header + " [" + c.unit + "]" : c.header)
                            .toList(),
                    headerQuoted || quoted);
        }
        if (unitsRow) {
            line(text, columns.stream().map(Col::unit).toList(), false);
        }
        for (Sample sample : samples) {
            List<String> fields =
                    columns.stream().map(c -> number(c.text.apply(sample))).toList();
            line(text, fields, quoted);
            if (repeatEvery > 0 && sample.index % repeatEvery == 0) {
                line(text, fields, quoted);
            }
        }
        try (OutputStream out =
                zipped ? new GZIPOutputStream(Files.newOutputStream(file)) : Files.newOutputStream(file)) {
            out.write(text.toString().getBytes(StandardCharsets.UTF_8));
        }
        return file;
    }

    private void line(StringBuilder text, List<String> fields, boolean inQuotes) {
        text.append(String.join(
                        delimiter,
                        fields.stream()
                                .map(f -> inQuotes || f.contains(delimiter) ? '"' + f.replace("\"", "\"\"") + '"' : f)
                                .toList()))
                .append(trailing ? delimiter : "")
                .append(lineBreak);
    }

    private String number(String plain) {
        if (!plain.matches("-?[0-9]+(\\.[0-9]+)?")) {
            return plain;
        }
        String whole = plain.replaceAll("\\..*", "");
        String grouped = grouping.isEmpty() ? whole : whole.replaceAll("(?<=[0-9])(?=([0-9]{3})+$)", grouping);
        return grouped + plain.substring(whole.length()).replace('.', decimal);
    }

    // what loggers call their columns, and in what unit they count

    static Col seconds(String header) {
        return new Col(header, "s", s -> s.timeS.toPlainString());
    }

    /** Time in thousandths, millionths, … of a second, counted from {@code epochS}. */
    static Col time(String header, String unit, int power, String epochS, int decimals) {
        return new Col(
                header,
                unit,
                s -> s.timeS
                        .add(new BigDecimal(epochS))
                        .scaleByPowerOfTen(power)
                        .setScale(decimals, RoundingMode.HALF_EVEN)
                        .toPlainString());
    }

    static Col stamp(String header, String pattern) {
        DateTimeFormatter format = DateTimeFormatter.ofPattern(pattern).withZone(ZoneOffset.UTC);
        return new Col(
                header,
                "",
                s -> format.format(Instant.ofEpochSecond(1_789_373_700L)
                        .plusNanos(s.timeS.scaleByPowerOfTen(9).longValueExact())));
    }

    /** Counts at 512 Hz, on while the sensors are off and nothing is written. */
    static Col index(String header) {
        return new Col(header, "", s -> Long.toString(Math.round(512 * s.timeS.doubleValue())));
    }

    static Col sin(String header) {
        return new Col(header, "", s -> Long.toString(s.sin));
    }

    static Col cos(String header) {
        return new Col(header, "", s -> Long.toString(s.cos));
    }

    /** Any exact change of the counts. */
    static Col hall(
            String header, String unit, Function<Sample, Long> counts, String factor, String offset, int decimals) {
        return new Col(
                header,
                unit,
                s -> BigDecimal.valueOf(counts.apply(s))
                        .multiply(new BigDecimal(factor))
                        .add(new BigDecimal(offset))
                        .setScale(decimals, RoundingMode.HALF_EVEN)
                        .toPlainString());
    }

    static Col amperes(String header) {
        return new Col(header, "A", s -> s.currentA.toPlainString());
    }

    static Col milliamperes(String header) {
        return new Col(
                header, "mA", s -> s.currentA.scaleByPowerOfTen(3).setScale(1).toPlainString());
    }

    static Col power(String header, String off, String on) {
        return new Col(header, "", s -> s.power == 1 ? on : off);
    }

    static Col request(String header) {
        return new Col(header, "", s -> Integer.toString(s.request));
    }

    static Col text(String header, String value) {
        return new Col(header, "", s -> value);
    }

    /** The samples of a plain capture's text: time, sine, cosine, power, current, request. */
    static List<Sample> samples(byte[] plain, int most) {
        List<Sample> samples = new ArrayList<>();
        List<String> lines =
                new String(plain, StandardCharsets.US_ASCII).lines().toList();
        for (String line : lines.subList(1, Math.min(lines.size(), most + 1))) {
            String[] f = line.split(",");
            samples.add(new Sample(
                    samples.size(),
                    new BigDecimal(f[0]),
                    Long.parseLong(f[1]),
                    Long.parseLong(f[2]),
                    Integer.parseInt(f[3]),
                    new BigDecimal(f[4]),
                    f.length > 5 ? Integer.parseInt(f[5]) : 0));
        }
        return samples;
    }

    static byte[] unzipped(Path file) throws IOException {
        try (var in = new java.util.zip.GZIPInputStream(Files.newInputStream(file));
                var out = new ByteArrayOutputStream()) {
            in.transferTo(out);
            return out.toByteArray();
        }
    }
}
