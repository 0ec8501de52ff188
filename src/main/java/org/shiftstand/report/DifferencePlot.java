package org.shiftstand.report;

import java.util.List;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.quantity.Unit;

/**
 * The groups of one clause under each other: the difference of each with its interval, on the ground of what is allowed. Ratios
 * of spreads on a logarithmic scale, where twice and half are equally far from alike.
 */
final class DifferencePlot {
    private static final double WIDTH = 772;
    private static final double LEFT = 150;
    private static final double RIGHT = 560;
    private static final double TOP = 34;
    private static final double ROW = 22;
    /** Axes reach at most this many margins, so that one row that moved far hides no other. */
    private static final double REACH = 4;

    private static final List<Double> RATIOS = List.of(0.25, 0.5, 0.67, 0.8, 1.0, 1.25, 1.5, 2.0, 4.0);

    private final String id;
    private final String title;
    private final List<Compared> rows;
    private final boolean ratio;
    private final double margin;
    private final Unit unit;
    private final Scale scale;

    /** @param rows of one clause, all with the same margin */
    DifferencePlot(String id, String title, List<Compared> rows) {
        this.id = id;
        this.title = title;
        this.rows = rows;
        this.ratio = rows.get(0).ratio();
        this.margin = rows.get(0).margin().orElse(Double.NaN);
        this.unit = ratio ? Unit.ONE : rows.get(0).unit();
        this.scale = scale();
    }

    private double placed(double value) {
        return ratio ? Math.log(value) : value;
    }

    private Scale scale() {
        double allowed = placed(margin);
        double most = allowed * 1.3;
        for (Compared row : rows) {
            if (row.low().isPresent()) {
                most = Math.max(most, Math.abs(placed(row.low().getAsDouble())) * 1.05);
                most = Math.max(most, Math.abs(placed(row.high().orElseThrow())) * 1.05);
            }
        }
        double reach = Math.min(most, REACH * allowed);
        return new Scale(-reach, reach, LEFT, RIGHT);
    }

    String draw() {
        double bottom = TOP + rows.size() * ROW;
        long inside =
                rows.stream().filter(row -> row.change() == Change.EQUIVALENT).count();
        Svg svg = new Svg(
                id,
                WIDTH,
                bottom + 44,
                title,
                inside + " of " + rows.size() + " intervals lie inside the margin; the table after the drawing has the"
                        + " same figures.");
        ground(svg, bottom);
        for (int i = 0; i < rows.size(); i++) {
            row(svg, rows.get(i), TOP + i * ROW + ROW / 2);
        }
        return svg.finish();
    }

    private void ground(Svg svg, double bottom) {
        double allowed = placed(margin);
        svg.fill(Palette.BAND)
                .rect(scale.at(-allowed), TOP, scale.at(allowed) - scale.at(-allowed), bottom - TOP)
                .end();
        svg.stroke(Palette.GRID, 1);
        ticks().forEach(v -> svg.line(scale.at(placed(v)), TOP, scale.at(placed(v)), bottom));
        svg.end();
        svg.stroke(Palette.INK, 1.4)
                .line(scale.at(-allowed), TOP - 5, scale.at(-allowed), bottom + 5)
                .line(scale.at(allowed), TOP - 5, scale.at(allowed), bottom + 5)
                .end();
        svg.stroke(Palette.QUIET, 1)
                .line(scale.at(0), TOP - 5, scale.at(0), bottom + 5)
                .line(LEFT, bottom, RIGHT, bottom)
                .end();
        svg.fill(Palette.INK);
        int decimals = ratio ? 2 : scale.tickDecimals(8);
        ticks().forEach(v -> svg.text(scale.at(placed(v)), bottom + 17, "middle", Figures.bare(v, decimals)));
        svg.text(
                (LEFT + RIGHT) / 2,
                bottom + 35,
                "middle",
                ratio
                        ? "candidate over base"
                        : "candidate less base" + (unit.symbol().isEmpty() ? "" : ", " + unit.symbol()));
        svg.end();
        svg.fill(Palette.QUIET)
                .text(scale.at(0), TOP - 12, "middle", ratio ? "as before" : "no change")
                .text(RIGHT + 70, TOP - 12, "end", "before")
                .text(RIGHT + 140, TOP - 12, "end", "after")
                .text(WIDTH - 4, TOP - 12, "end", "n")
                .end();
    }

    private List<Double> ticks() {
        return ratio ? RATIOS.stream().filter(v -> scale.holds(Math.log(v))).toList() : scale.ticks(8);
    }

    private void row(Svg svg, Compared row, double y) {
        svg.fill(Palette.INK).text(LEFT - 12, y + 4, "end", row.words());
        int decimals = Figures.decimals(row.unit());
        row.base().value().ifPresent(v -> svg.text(RIGHT + 70, y + 4, "end", Figures.bare(v, decimals)));
        row.candidate().value().ifPresent(v -> svg.text(RIGHT + 140, y + 4, "end", Figures.bare(v, decimals)));
        svg.text(
                        WIDTH - 4,
                        y + 4,
                        "end",
                        Integer.toString(
                                Math.min(row.base().n(), row.candidate().n())))
                .end();
        if (row.difference().isEmpty()) {
            svg.fill(Palette.OPEN)
                    .text(scale.at(0), y + 4, "middle", "nothing to compare")
                    .end();
            return;
        }
        String colour = ChangeMark.colour(row.change());
        double low = placed(row.low().orElseThrow());
        double high = placed(row.high().orElseThrow());
        svg.stroke(colour, 2).line(scale.clamped(low), y, scale.clamped(high), y);
        end(svg, low, y);
        end(svg, high, y);
        svg.end();
        marker(svg, row.change(), scale.clamped(placed(row.difference().getAsDouble())), y);
    }

    /** A stroke where the interval ends; an arrow where it goes on beyond the axis. */
    private void end(Svg svg, double value, double y) {
        double x = scale.clamped(value);
        if (scale.holds(value)) {
            svg.line(x, y - 4, x, y + 4);
        } else {
            int way = value > 0 ? 1 : -1;
            StringBuilder d = Svg.move(new StringBuilder(), x - way * 6, y - 5);
            Svg.draw(d, x, y);
            svg.path(Svg.draw(d, x - way * 6, y + 5));
        }
    }

    /** Dot, diamond, open square: told apart without colour. */
    private static void marker(Svg svg, Change change, double x, double y) {
        String colour = ChangeMark.colour(change);
        switch (change) {
            case EQUIVALENT, NO_MARGIN ->
                svg.group("fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"8\" stroke-linecap=\"round\"")
                        .path(Svg.dot(new StringBuilder(), x, y))
                        .end();
            case DIFFERENT ->
                svg.fill(colour)
                        .path(Mark.diamond(new StringBuilder(), x, y, 6.5))
                        .end();
            case NOT_DECIDED ->
                svg.group("fill=\"" + Palette.PAPER + "\" stroke=\"" + colour + "\" stroke-width=\"2\"")
                        .rect(x - 4.5, y - 4.5, 9, 9)
                        .end();
        }
    }
}
