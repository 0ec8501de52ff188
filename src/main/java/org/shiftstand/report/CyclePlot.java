package org.shiftstand.report;

import java.util.Arrays;
import java.util.Optional;
import org.shiftstand.spec.Bound;

/** One measure over the cycles of a run: a dot for each shift, or for long runs a bar from least to most. */
final class CyclePlot {
    private static final double WIDTH = 372;
    private static final double HEIGHT = 200;
    private static final double LEFT = 54;
    private static final double RIGHT = 364;
    private static final double TOP = 34;
    private static final double BOTTOM = 158;
    /** Longer runs are drawn as bars. */
    static final int MOST_DOTS = 700;

    private static final int COLUMNS = 124;

    private CyclePlot() {}

    /**
     * @param x where each shift stands, ascending
     * @param y its value
     * @param broken whether it broke a clause on this measure
     * @param breaks where the run was broken off
     * @param bound lines that hold for all of them
     */
    static String draw(
            String id,
            String title,
            String desc,
            String unit,
            String axis,
            double[] x,
            double[] y,
            boolean[] broken,
            double[] breaks,
            Optional<Bound> bound) {
        Scale across = new Scale(x[0] - 0.5, Math.max(x[x.length - 1], x[0]) + 0.5, LEFT, RIGHT);
        Scale up = scale(y, bound);
        Svg svg = new Svg(id, WIDTH, HEIGHT, title, desc);
        svg.group("fill=\"" + Palette.INK + "\" font-weight=\"700\" font-size=\"13\"")
                .text(LEFT - 48, 18, "start", title + ", " + unit)
                .end();
        frame(svg, across, up, axis);
        bound.ifPresent(b -> {
            svg.dashed(Palette.INK, 1.2);
            b.atLeast().ifPresent(v -> svg.line(LEFT, up.at(v), RIGHT, up.at(v)));
            b.atMost().ifPresent(v -> svg.line(LEFT, up.at(v), RIGHT, up.at(v)));
            svg.end();
        });
        breaks(svg, across, breaks);
        if (x.length <= MOST_DOTS) {
            dots(svg, across, up, x, y, broken);
        } else {
            bars(svg, across, up, x, y);
        }
        failing(svg, across, up, x, y, broken);
        return svg.finish();
    }

    private static void frame(Svg svg, Scale across, Scale up, String axis) {
        svg.stroke(Palette.GRID, 1);
        up.ticks(5).forEach(v -> svg.line(LEFT, up.at(v), RIGHT, up.at(v)));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .path("M" + Svg.coordinate(LEFT) + " " + Svg.coordinate(TOP) + "V" + Svg.coordinate(BOTTOM) + "H"
                        + Svg.coordinate(RIGHT));
        across.wholeTicks(7).forEach(v -> svg.line(across.at(v), BOTTOM, across.at(v), BOTTOM + 4));
        svg.end();
        svg.fill(Palette.INK);
        int decimals = up.tickDecimals(5);
        up.ticks(5).forEach(v -> svg.text(LEFT - 6, up.at(v) + 4, "end", Figures.bare(v, decimals)));
        across.wholeTicks(7).forEach(v -> svg.text(across.at(v), BOTTOM + 17, "middle", Figures.bare(v, 0)));
        svg.text(RIGHT, BOTTOM + 34, "end", axis).end();
    }

    private static void breaks(Svg svg, Scale across, double[] breaks) {
        if (breaks.length > 0) {
            svg.stroke(Palette.INK, 1.2);
            for (double at : breaks) {
                double x = Math.max(LEFT, Math.min(RIGHT, across.at(at)));
                svg.line(x, TOP, x, BOTTOM);
            }
            svg.end();
        }
    }

    private static void dots(Svg svg, Scale across, Scale up, double[] x, double[] y, boolean[] broken) {
        StringBuilder d = new StringBuilder();
        for (int i = 0; i < x.length; i++) {
            if (!broken[i]) {
                Svg.dot(d, across.at(x[i]), up.at(y[i]));
            }
        }
        svg.group("fill=\"none\" stroke=\"" + Palette.TRACE + "\" stroke-width=\"2.8\" stroke-linecap=\"round\"")
                .path(d)
                .end();
    }

    private static void bars(Svg svg, Scale across, Scale up, double[] x, double[] y) {
        StringBuilder ranges = new StringBuilder();
        StringBuilder medians = new StringBuilder();
        int first = 0;
        for (int column = 0; column < COLUMNS && first < x.length; column++) {
            double end = across.low() + (across.high() - across.low()) * (column + 1) / COLUMNS;
            int last = first;
            while (last < x.length && (x[last] < end || column == COLUMNS - 1)) {
                last++;
            }
            if (last > first) {
                double[] inside = Arrays.copyOfRange(y, first, last);
                Arrays.sort(inside);
                double at = across.at((x[first] + x[last - 1]) / 2);
                Svg.draw(Svg.move(ranges, at, up.at(inside[0])), at, up.at(inside[inside.length - 1]));
                Svg.dot(medians, at, up.at(inside[inside.length / 2]));
            }
            first = last;
        }
        svg.stroke(Palette.RANGE, 1.8).path(ranges).end();
        svg.group("fill=\"none\" stroke=\"" + Palette.INK + "\" stroke-width=\"2.6\" stroke-linecap=\"round\"")
                .path(medians)
                .end();
    }

    /** Diamonds; one for each place. */
    private static void failing(Svg svg, Scale across, Scale up, double[] x, double[] y, boolean[] broken) {
        StringBuilder d = new StringBuilder();
        java.util.Set<Long> taken = new java.util.HashSet<>();
        for (int i = 0; i < x.length; i++) {
            long cell = Math.round(across.at(x[i]) / 2.5) * 1000 + Math.round(up.at(y[i]) / 2.5);
            if (broken[i] && taken.add(cell)) {
                Mark.diamond(d, across.at(x[i]), up.at(y[i]), 4);
            }
        }
        svg.group("fill=\"" + Palette.FAIL + "\" stroke=\"" + Palette.PAPER + "\" stroke-width=\"0.8\"")
                .path(d)
                .end();
    }

    private static Scale scale(double[] y, Optional<Bound> bound) {
        double low = Arrays.stream(y).min().orElse(0);
        double high = Arrays.stream(y).max().orElse(1);
        low = Math.min(
                low,
                bound.map(b -> b.atLeast())
                        .orElse(java.util.OptionalDouble.empty())
                        .orElse(low));
        high = Math.max(
                high,
                bound.map(b -> b.atMost())
                        .orElse(java.util.OptionalDouble.empty())
                        .orElse(high));
        double room = Math.max(0.06 * (high - low), 1e-6 * (1 + Math.abs(high)));
        return new Scale(low - room, high + room, BOTTOM, TOP);
    }
}
