package org.shiftstand.report;

/** Dimension lines as a technical drawing has them: a thin line between slender arrow heads, its figure beside it. */
final class Dimensions {
    private static final double HEAD = 7;
    private static final double HALF = 2.3;

    private final Svg svg;

    Dimensions(Svg svg) {
        this.svg = svg;
    }

    /** From {@code x1} to {@code x2} at height y; the figure above the middle, or behind the end where it is narrow. */
    void across(double x1, double x2, double y, String colour, String figure) {
        boolean narrow = Math.abs(x2 - x1) < 2 * HEAD + 4;
        double out = narrow ? -1 : 1;
        svg.stroke(colour, 1);
        svg.line(narrow ? x1 - 14 : x1, y, narrow ? x2 + 14 : x2, y).end();
        StringBuilder heads = new StringBuilder();
        head(heads, x1, y, out, 0);
        head(heads, x2, y, -out, 0);
        svg.fill(colour).path(heads).end();
        if (Math.abs(x2 - x1) > figure.length() * 6.2 + 4) {
            svg.haloed((x1 + x2) / 2, y - 4, "middle", colour, figure);
        } else {
            svg.haloed(x2 + (narrow ? 18 : 6), y + 4, "start", colour, figure);
        }
    }

    /** From {@code y1} to {@code y2} at x; the figure to the right of the middle, or of the lower end where it is narrow. */
    void upright(double x, double y1, double y2, String colour, String figure) {
        boolean narrow = Math.abs(y2 - y1) < 2 * HEAD + 4;
        double top = Math.min(y1, y2);
        double bottom = Math.max(y1, y2);
        double out = narrow ? -1 : 1;
        svg.stroke(colour, 1);
        svg.line(x, narrow ? top - 14 : top, x, narrow ? bottom + 14 : bottom).end();
        StringBuilder heads = new StringBuilder();
        head(heads, x, top, 0, out);
        head(heads, x, bottom, 0, -out);
        svg.fill(colour).path(heads).end();
        svg.haloed(x + 7, narrow ? bottom + 18 : (y1 + y2) / 2 + 4, "start", colour, figure);
    }

    /** Arrow head with its tip at the point; dx, dy point from the tip along the shaft. */
    private static void head(StringBuilder d, double x, double y, double dx, double dy) {
        double bx = x + dx * HEAD;
        double by = y + dy * HEAD;
        Svg.move(d, x, y);
        Svg.draw(d, bx - dy * HALF, by - dx * HALF);
        Svg.draw(d, bx + dy * HALF, by + dx * HALF).append('z');
    }

    /** Hatching as of a fixed stop, on the side away from the motion: {@code side} −1 above the line, +1 below. */
    static void stop(Svg svg, double x1, double x2, double y, int side) {
        StringBuilder hatch = new StringBuilder();
        for (double x = x1; x + 8 <= x2; x += 8) {
            Svg.move(hatch, x, y);
            Svg.draw(hatch, x + 8, y + side * 8);
        }
        svg.stroke(Palette.INK, 1.6).line(x1, y, x2, y).end();
        svg.stroke(Palette.INK, 0.8).path(hatch).end();
    }
}
