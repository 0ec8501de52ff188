package org.shiftstand.report;

import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Bound;
import org.shiftstand.stats.Sample;

/**
 * One row for each kind of shift, one dot for each shift: its value across, the time running down within the row; with
 * bounds, nominal value, number, mean and spread of each row.
 */
final class StripPlot {
    private static final double WIDTH = 760;
    private static final double LEFT = 132;
    private static final double RIGHT = 566;
    private static final double ROW = 22;
    private static final double DOTS = 15;
    private static final double TOP_WITH_MM = 58;
    private static final double TOP_PLAIN = 30;
    /** Rows with more shifts than this draw shifts that would cover each other as one dot. */
    static final int MANY = 150;

    private static final double CELL = 3;
    /** Axes reach at most this many times the median distance from zero, so that one stray shift hides no other. */
    private static final double REACH = 40;

    private final Frame frame;
    private final List<Row> rows;
    private final Scale scale;
    private final double top;
    private int beyond;
    private double farthest;

    StripPlot(Frame frame, List<Row> rows) {
        this.frame = frame;
        this.rows = List.copyOf(rows);
        this.scale = scale(frame, rows);
        this.top = frame.mmPerUnit().isPresent() ? TOP_WITH_MM : TOP_PLAIN;
    }

    String draw() {
        double bottom = top + rows.size() * ROW;
        Svg svg = new Svg(frame.id(), WIDTH, bottom + 44, frame.title(), frame.desc());
        bands(svg);
        axes(svg, bottom);
        svg.fill(Palette.QUIET)
                .text(RIGHT + 50, top - 8, "end", "n")
                .text(RIGHT + 110, top - 8, "end", frame.means() ? "mean" : "")
                .text(RIGHT + 176, top - 8, "end", "sd, " + frame.unit().symbol())
                .end();
        for (int i = 0; i < rows.size(); i++) {
            row(svg, rows.get(i), top + i * ROW);
        }
        return svg.finish();
    }

    /** How many shifts lie beyond the axis, and the farthest of them; empty where none does. Known after drawing. */
    Optional<String> beyond() {
        return beyond == 0
                ? Optional.empty()
                : Optional.of(Figures.count(beyond, "shift")
                        + " beyond the axis, drawn at its end with an arrow; the farthest at "
                        + Figures.of(farthest, frame.unit()) + ".");
    }

    private void bands(Svg svg) {
        svg.fill(Palette.WASH);
        boolean shade = false;
        for (int i = 0; i < rows.size(); i++) {
            if (i > 0 && !rows.get(i).head().isEmpty()) {
                shade = !shade;
            }
            if (shade) {
                svg.rect(0, top + i * ROW, WIDTH, ROW);
            }
        }
        svg.end();
    }

    private void axes(Svg svg, double bottom) {
        svg.stroke(Palette.GRID, 1);
        scale.ticks(8).forEach(v -> svg.line(scale.at(v), top, scale.at(v), bottom));
        svg.end();
        if (scale.holds(0)) {
            svg.stroke(Palette.QUIET, 1)
                    .line(scale.at(0), top - 4, scale.at(0), bottom + 4)
                    .end();
        }
        svg.stroke(Palette.QUIET, 1)
                .line(LEFT, bottom, RIGHT, bottom)
                .line(LEFT, top, RIGHT, top)
                .end();
        svg.fill(Palette.INK);
        int decimals = scale.tickDecimals(8);
        scale.ticks(8).forEach(v -> svg.text(scale.at(v), bottom + 16, "middle", Figures.bare(v, decimals)));
        svg.text(
                (LEFT + RIGHT) / 2,
                bottom + 34,
                "middle",
                frame.axis() + ", " + frame.unit().symbol());
        frame.mmPerUnit().ifPresent(factor -> {
            Scale mm = new Scale(scale.low() * factor, scale.high() * factor, scale.atLow(), scale.atHigh());
            int places = mm.tickDecimals(6);
            mm.ticks(6).forEach(v -> svg.text(mm.at(v), top - 10, "middle", Figures.bare(v, places)));
            svg.text((LEFT + RIGHT) / 2, top - 28, "middle", frame.axis() + ", mm of cage travel");
        });
        svg.end();
        frame.mmPerUnit().ifPresent(factor -> {
            Scale mm = new Scale(scale.low() * factor, scale.high() * factor, scale.atLow(), scale.atHigh());
            svg.stroke(Palette.QUIET, 1);
            mm.ticks(6).forEach(v -> svg.line(mm.at(v), top - 5, mm.at(v), top));
            svg.end();
        });
        svg.group("fill=\"" + Palette.QUIET + "\"")
                .text(4, top - 10, "start", frame.rowsAre())
                .end();
    }

    private void row(Svg svg, Row row, double y) {
        double middle = y + ROW / 2;
        svg.group("fill=\"" + Palette.INK + "\" font-weight=\"700\"")
                .text(8, middle + 5, "start", row.head())
                .end();
        svg.fill(Palette.INK).text(LEFT - 12, middle + 4, "end", row.label()).end();
        dots(svg, row, y + (ROW - DOTS) / 2);
        row.bound().ifPresent(bound -> bracket(svg, bound, y));
        row.nominal().ifPresent(v -> {
            StringBuilder tip = Svg.move(new StringBuilder(), scale.clamped(v), y + ROW - 6);
            svg.fill(Palette.INK).path(tip.append("l3.5 5.5h-7z")).end();
        });
        Sample sample = Sample.of(row.values());
        svg.fill(Palette.INK).text(RIGHT + 50, middle + 4, "end", Integer.toString(sample.count()));
        if (frame.means()) {
            sample.mean().ifPresent(v -> svg.text(RIGHT + 110, middle + 4, "end", Figures.bare(v, decimals())));
        }
        sample.standardDeviation()
                .ifPresent(v -> svg.text(RIGHT + 176, middle + 4, "end", Figures.bare(v, decimals() + 1)));
        svg.end();
    }

    private int decimals() {
        return Figures.decimals(frame.unit());
    }

    private void dots(Svg svg, Row row, double begin) {
        StringBuilder dots = new StringBuilder();
        StringBuilder broken = new StringBuilder();
        double[] values = row.values();
        Set<Long> taken = new HashSet<>();
        for (int i = 0; i < values.length; i++) {
            double x = scale.clamped(values[i]);
            double y = begin + DOTS * (values.length == 1 ? 0.5 : i / (values.length - 1.0));
            boolean outside = !scale.holds(values[i]);
            if (outside) {
                beyond++;
                farthest = Math.abs(values[i]) > Math.abs(farthest) ? values[i] : farthest;
            }
            long cell = Math.round(x / CELL) * 100_000 + Math.round(y / CELL) * 10 + (row.broken()[i] ? 1 : 0);
            if (values.length > MANY && !taken.add(cell)) {
                continue;
            }
            if (outside) {
                int way = values[i] > scale.high() ? 1 : -1;
                Svg.move(row.broken()[i] ? broken : dots, x - way * 4, y - 4)
                        .append("l" + way * 7 + " 4l" + -way * 7 + " 4z");
            } else if (row.broken()[i]) {
                Mark.diamond(broken, x, y, 4.2);
            } else {
                Svg.dot(dots, x, y);
            }
        }
        svg.group("fill=\"none\" stroke=\"" + (values.length > MANY ? Palette.RANGE : Palette.TRACE)
                        + "\" stroke-width=\"3\" stroke-linecap=\"round\"")
                .path(dots)
                .end();
        if (values.length > 1) {
            double x = scale.clamped(Sample.of(values).mean().orElseThrow());
            double edge = begin - (ROW - DOTS) / 2;
            svg.stroke(Palette.INK, 2)
                    .line(x, edge, x, edge + 4)
                    .line(x, edge + ROW - 4, x, edge + ROW)
                    .end();
        }
        svg.group("fill=\"" + Palette.FAIL + "\" stroke=\"" + Palette.PAPER + "\" stroke-width=\"0.8\"")
                .path(broken)
                .end();
    }

    private void bracket(Svg svg, Bound bound, double y) {
        StringBuilder d = new StringBuilder();
        bound.atLeast().ifPresent(v -> hook(d, v, y, 4));
        bound.atMost().ifPresent(v -> hook(d, v, y, -4));
        svg.stroke(Palette.INK, 1.4).path(d).end();
    }

    private void hook(StringBuilder d, double value, double y, double inward) {
        if (scale.holds(value)) {
            double x = scale.at(value);
            Svg.move(d, x + inward, y + 2);
            Svg.draw(d, x, y + 2);
            Svg.draw(d, x, y + ROW - 2);
            Svg.draw(d, x + inward, y + ROW - 2);
        }
    }

    private static Scale scale(Frame frame, List<Row> rows) {
        double low = frame.fromZero() ? 0 : Double.POSITIVE_INFINITY;
        double high = frame.fromZero() ? 0 : Double.NEGATIVE_INFINITY;
        double[] distances = rows.stream()
                .flatMapToDouble(row -> Arrays.stream(row.values()))
                .map(Math::abs)
                .sorted()
                .toArray();
        double median = distances.length == 0 ? 1 : distances[distances.length / 2];
        double reach = frame.fromZero() ? Double.POSITIVE_INFINITY : REACH * Math.max(median, 1);
        for (Row row : rows) {
            for (double v : row.values()) {
                if (Math.abs(v) <= reach) {
                    low = Math.min(low, v);
                    high = Math.max(high, v);
                }
            }
            for (OptionalDouble edge : row.edges()) {
                low = Math.min(low, edge.orElse(low));
                high = Math.max(high, edge.orElse(high));
            }
        }
        if (!(high > low)) {
            double at = Double.isFinite(low) ? low : 0;
            low = at - 1;
            high = at + 1;
        }
        double room = 0.05 * (high - low);
        return new Scale(low - room, high + room, LEFT, RIGHT);
    }

    /**
     * What the plot is about.
     *
     * @param axis name of what is drawn across
     * @param rowsAre heading of the row names
     * @param mmPerUnit millimetres of cage travel for one unit, for a second axis
     * @param fromZero whether the axis includes zero and reaches as far as the values do
     * @param means whether the mean of a row is a result
     */
    record Frame(
            String id,
            String title,
            String desc,
            String axis,
            String rowsAre,
            Unit unit,
            OptionalDouble mmPerUnit,
            boolean fromZero,
            boolean means) {}

    /**
     * One row; a final class since it carries arrays.
     */
    static final class Row {
        private final String head;
        private final String label;
        private final double[] values;
        private final boolean[] broken;
        private final Optional<Bound> bound;
        private final OptionalDouble nominal;

        /**
         * @param head bold name where a new band of rows begins, else empty
         * @param values in time order
         * @param broken which of them broke a clause, same length
         */
        Row(
                String head,
                String label,
                double[] values,
                boolean[] broken,
                Optional<Bound> bound,
                OptionalDouble nominal) {
            this.head = head;
            this.label = label;
            this.values = values;
            this.broken = broken;
            this.bound = bound;
            this.nominal = nominal;
        }

        String head() {
            return head;
        }

        String label() {
            return label;
        }

        double[] values() {
            return values;
        }

        boolean[] broken() {
            return broken;
        }

        Optional<Bound> bound() {
            return bound;
        }

        OptionalDouble nominal() {
            return nominal;
        }

        List<OptionalDouble> edges() {
            return List.of(
                    bound.map(Bound::atLeast).orElse(OptionalDouble.empty()),
                    bound.map(Bound::atMost).orElse(OptionalDouble.empty()),
                    nominal);
        }
    }
}
