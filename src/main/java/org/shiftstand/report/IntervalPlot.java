package org.shiftstand.report;

import java.util.List;
import java.util.Optional;

/**
 * One row for each kind of shift: means with their intervals, over the bar from the least to the greatest seen; in words
 * where there is no number, and numbers beside.
 */
final class IntervalPlot {
    static final double WIDTH = 760;
    private static final double LEFT = 120;
    private static final double RIGHT = 540;
    private static final double ROW = 26;
    private static final double TOP = 34;
    /** Text in a row is cut here; the table beside it has the whole. */
    private static final int MOST_TEXT = 68;

    private final Frame frame;
    private final List<Row> rows;
    private final Scale scale;

    /**
     * @param heads of the columns beside the plot, two at most
     * @param band shaded behind all rows
     */
    record Frame(
            String id,
            String title,
            String desc,
            String axis,
            String rowsAre,
            List<String> heads,
            Optional<Band> band,
            boolean fromZero) {
        Frame {
            heads = List.copyOf(heads);
        }
    }

    record Band(double low, double high) {}

    /**
     * A mean.
     *
     * @param half infinite where not known: then drawn without an interval
     * @param upper a filled dot on the row's upper line, else a hollow diamond on its lower
     */
    record Dot(double value, double half, double least, double greatest, boolean upper) {}

    /**
     * @param head where a new group of rows begins, else empty
     * @param word in the plot; where there are no dots the whole row is it
     * @param tone of dots and word
     */
    record Row(String head, String label, List<Dot> dots, String word, boolean gap, String tone, List<String> columns) {
        Row {
            dots = List.copyOf(dots);
            columns = List.copyOf(columns);
        }
    }

    IntervalPlot(Frame frame, List<Row> rows) {
        this.frame = frame;
        this.rows = List.copyOf(rows);
        this.scale = scale(frame, rows);
    }

    private static Scale scale(Frame frame, List<Row> rows) {
        double low = frame.band().map(Band::low).orElse(Double.POSITIVE_INFINITY);
        double high = frame.band().map(Band::high).orElse(Double.NEGATIVE_INFINITY);
        for (Row row : rows) {
            for (Dot dot : row.dots()) {
                double half = Double.isFinite(dot.half()) ? dot.half() : 0;
                low = Math.min(low, Math.min(dot.least(), dot.value() - half));
                high = Math.max(high, Math.max(dot.greatest(), dot.value() + half));
            }
        }
        if (!(low <= high)) {
            low = 0;
            high = 1;
        }
        if (frame.fromZero()) {
            low = Math.min(0, low);
        }
        double room = Math.max(0.05 * (high - low), 1e-3 * Math.max(1, Math.abs(high)));
        return new Scale(frame.fromZero() && low == 0 ? 0 : low - room, high + room, LEFT, RIGHT);
    }

    String draw() {
        double bottom = TOP + rows.size() * ROW;
        Svg svg = new Svg(frame.id(), WIDTH, bottom + 44, frame.title(), frame.desc());
        shades(svg);
        frame.band().ifPresent(band -> {
            double from = scale.clamped(band.low());
            svg.fill(Palette.BAND)
                    .rect(from, TOP, Math.max(1, scale.clamped(band.high()) - from), bottom - TOP)
                    .end();
        });
        axes(svg, bottom);
        for (int i = 0; i < rows.size(); i++) {
            row(svg, rows.get(i), TOP + i * ROW);
        }
        return svg.finish();
    }

    private void shades(Svg svg) {
        svg.fill(Palette.WASH);
        boolean shade = true;
        for (int i = 0; i < rows.size(); i++) {
            shade ^= !rows.get(i).head().isEmpty();
            if (shade) {
                svg.rect(0, TOP + i * ROW, WIDTH, ROW);
            }
        }
        svg.end();
    }

    private void axes(Svg svg, double bottom) {
        svg.stroke(Palette.GRID, 1);
        scale.ticks(8).forEach(v -> svg.line(scale.at(v), TOP, scale.at(v), bottom));
        svg.end();
        svg.stroke(Palette.QUIET, 1).line(LEFT, TOP, RIGHT, TOP).line(LEFT, bottom, RIGHT, bottom);
        if (scale.holds(0)) {
            svg.line(scale.at(0), TOP, scale.at(0), bottom + 4);
        }
        svg.end().fill(Palette.INK);
        int decimals = scale.tickDecimals(8);
        scale.ticks(8).forEach(v -> svg.text(scale.at(v), bottom + 16, "middle", Figures.bare(v, decimals)));
        svg.text((LEFT + RIGHT) / 2, bottom + 34, "middle", frame.axis()).end();
        svg.fill(Palette.QUIET).text(4, TOP - 10, "start", frame.rowsAre());
        for (int i = 0; i < frame.heads().size(); i++) {
            svg.text(column(i), TOP - 10, "end", frame.heads().get(i));
        }
        svg.end();
    }

    private static double column(int i) {
        return i == 0 ? 648 : 754;
    }

    private void row(Svg svg, Row row, double y) {
        double middle = y + ROW / 2;
        svg.fill(Palette.INK);
        svg.text(4, middle + 4, "start", row.head()).text(LEFT - 10, middle + 4, "end", row.label());
        for (int i = 0; i < row.columns().size(); i++) {
            svg.text(column(i), middle + 4, "end", row.columns().get(i));
        }
        svg.end();
        if (row.gap()) {
            gap(svg, row, y);
            return;
        }
        row.dots().forEach(dot -> dot(svg, dot, row.tone(), dot.upper() ? middle - 5 : middle + 5));
        if (!row.word().isEmpty()) {
            word(svg, row, middle);
        }
    }

    /** A hole in the table looks like one: dashed all round, with its word. */
    private static void gap(Svg svg, Row row, double y) {
        svg.group("fill=\"" + Palette.PAPER + "\" stroke=\"" + Palette.OPEN + "\" stroke-dasharray=\"5 3\"")
                .rect(LEFT + 4, y + 3, RIGHT - LEFT - 8, ROW - 6)
                .end();
        svg.fill(Palette.OPEN)
                .text(LEFT + 14, y + ROW / 2 + 4, "start", cut(row.word()))
                .end();
    }

    private void word(Svg svg, Row row, double middle) {
        double first = row.dots().stream()
                .mapToDouble(d -> scale.clamped(d.least()))
                .min()
                .orElse(LEFT);
        double last = row.dots().stream()
                .mapToDouble(d -> scale.clamped(d.greatest()))
                .max()
                .orElse(LEFT);
        boolean left = RIGHT - last < first - LEFT;
        svg.haloed(left ? first - 12 : last + 12, middle + 4, left ? "end" : "start", row.tone(), cut(row.word()));
    }

    static String cut(String text) {
        return text.length() <= MOST_TEXT
                ? text
                : text.substring(0, MOST_TEXT - 1).stripTrailing() + "\u2026";
    }

    private void dot(Svg svg, Dot dot, String tone, double y) {
        svg.stroke(Palette.RANGE, 4)
                .line(scale.clamped(dot.least()), y, scale.clamped(dot.greatest()), y)
                .end();
        if (Double.isFinite(dot.half())) {
            double from = scale.clamped(dot.value() - dot.half());
            double to = scale.clamped(dot.value() + dot.half());
            svg.stroke(Palette.INK, 1.2)
                    .line(from, y, to, y)
                    .line(from, y - 3.5, from, y + 3.5)
                    .line(to, y - 3.5, to, y + 3.5)
                    .end();
        }
        double at = scale.clamped(dot.value());
        if (dot.upper()) {
            svg.group("fill=\"none\" stroke=\"" + tone + "\" stroke-width=\"6\" stroke-linecap=\"round\"")
                    .path(Svg.dot(new StringBuilder(), at, y))
                    .end();
        } else {
            svg.group("fill=\"" + Palette.PAPER + "\" stroke=\"" + tone + "\" stroke-width=\"1.4\"")
                    .path(Mark.diamond(new StringBuilder(), at, y, 3.8))
                    .end();
        }
    }
}
