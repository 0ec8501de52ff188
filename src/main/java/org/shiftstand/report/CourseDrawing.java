package org.shiftstand.report;

import java.util.List;
import java.util.OptionalDouble;

/**
 * Values from run to run with their moving average: each run a mark, whose shape tells its verdict; the average a line within its
 * limits; the bounds of the clause dashed.
 */
public final class CourseDrawing {
    private static final double WIDTH = 772;
    private static final double HEIGHT = 300;
    private static final double LEFT = 64;
    private static final double RIGHT = 16;
    private static final double TOP = 16;
    private static final double BOTTOM = 34;

    /** More marks than this lie on each other, and only make the page long. */
    private static final int MOST_MARKS = 2000;
    /** Up to here a mark has room to be seen on paper and on a phone. */
    private static final int FEW = 200;

    private CourseDrawing() {}

    /**
     * What is drawn.
     *
     * @param values of runs in order
     * @param verdicts {@code pass}, {@code fail}, {@code no-verdict}, one a value
     * @param means moving average after each value; empty for none
     * @param target of the average; not a number for none
     * @param reach half the distance of its limits
     * @param unit of the values
     */
    public record Course(
            double[] values,
            List<String> verdicts,
            double[] means,
            double target,
            double reach,
            OptionalDouble atLeast,
            OptionalDouble atMost,
            String unit) {}

    /**
     * The drawing as SVG.
     *
     * @param id unique in the page
     */
    public static String of(String id, Course course) {
        Scale y = new Scale(lowest(course), highest(course), HEIGHT - BOTTOM, TOP);
        Scale x = new Scale(0, course.values().length + 1.0, LEFT, WIDTH - RIGHT);
        Svg svg = new Svg(
                id,
                WIDTH,
                HEIGHT,
                "Values from run to run",
                course.values().length + " runs, " + (course.unit().isEmpty() ? "values" : "values in " + course.unit())
                        + ", in order of time");
        axis(svg, y, course);
        bounds(svg, y, course);
        marks(svg, x, y, course);
        average(svg, x, y, course);
        boundNames(svg, y, course);
        svg.text(LEFT, HEIGHT - 8, "start", "first run");
        svg.text(WIDTH - RIGHT, HEIGHT - 8, "end", "run " + course.values().length);
        return svg.finish();
    }

    private static double lowest(Course course) {
        double low = course.atLeast().orElse(Double.POSITIVE_INFINITY);
        for (double value : course.values()) {
            low = Math.min(low, value);
        }
        return low - room(course);
    }

    private static double highest(Course course) {
        double high = course.atMost().orElse(Double.NEGATIVE_INFINITY);
        for (double value : course.values()) {
            high = Math.max(high, value);
        }
        return high + room(course);
    }

    private static double room(Course course) {
        double low = course.atLeast().orElse(Double.POSITIVE_INFINITY);
        double high = course.atMost().orElse(Double.NEGATIVE_INFINITY);
        for (double value : course.values()) {
            low = Math.min(low, value);
            high = Math.max(high, value);
        }
        return high > low ? 0.06 * (high - low) : 1;
    }

    private static void axis(Svg svg, Scale y, Course course) {
        int most = 6;
        svg.stroke(Palette.GRID, 1);
        y.ticks(most).forEach(tick -> svg.line(LEFT, y.at(tick), WIDTH - RIGHT, y.at(tick)));
        svg.end();
        svg.fill(Palette.QUIET);
        y.ticks(most)
                .forEach(tick -> svg.text(LEFT - 8, y.at(tick) + 4, "end", Figures.bare(tick, y.tickDecimals(most))));
        svg.text(LEFT, TOP - 4, "start", course.unit());
        svg.end();
    }

    private static void bounds(Svg svg, Scale y, Course course) {
        svg.dashed(Palette.FAIL, 1.5);
        course.atLeast().ifPresent(b -> svg.line(LEFT, y.at(b), WIDTH - RIGHT, y.at(b)));
        course.atMost().ifPresent(b -> svg.line(LEFT, y.at(b), WIDTH - RIGHT, y.at(b)));
        svg.end();
    }

    /** Over the marks, so that they are read. */
    private static void boundNames(Svg svg, Scale y, Course course) {
        course.atLeast()
                .ifPresent(b -> svg.haloed(
                        WIDTH - RIGHT, y.at(b) + 14, "end", Palette.FAIL, "at least " + Figures.asWritten(b)));
        course.atMost()
                .ifPresent(b ->
                        svg.haloed(WIDTH - RIGHT, y.at(b) - 5, "end", Palette.FAIL, "at most " + Figures.asWritten(b)));
    }

    /** Every failing run is drawn; of the others every so many, where there are too many. */
    private static void marks(Svg svg, Scale x, Scale y, Course course) {
        int every = Math.max(1, course.values().length / MOST_MARKS);
        StringBuilder pass = new StringBuilder();
        StringBuilder open = new StringBuilder();
        StringBuilder fail = new StringBuilder();
        for (int i = 0; i < course.values().length; i++) {
            String verdict = course.verdicts().get(i);
            double at = x.at(i + 1.0);
            double up = y.at(course.values()[i]);
            if (verdict.equals("fail")) {
                cross(fail, at, up);
            } else if (i % every == 0) {
                if (verdict.equals("pass")) {
                    Svg.dot(pass, at, up);
                } else {
                    Mark.diamond(open, at, up, 4);
                }
            }
        }
        drawn(svg, Palette.RANGE, course.values().length > FEW ? 4 : 6, pass); // the fewer, the easier to miss
        drawn(svg, Palette.OPEN, 1.5, open);
        drawn(svg, Palette.FAIL, 1.5, fail);
    }

    private static void cross(StringBuilder d, double x, double y) {
        Svg.draw(Svg.move(d, x - 4, y - 4), x + 4, y + 4);
        Svg.draw(Svg.move(d, x - 4, y + 4), x + 4, y - 4);
    }

    private static void drawn(Svg svg, String colour, double width, StringBuilder d) {
        if (d.length() > 0) {
            svg.group("fill=\"none\" stroke-linecap=\"round\" stroke=\"" + colour + "\" stroke-width=\""
                            + Svg.coordinate(width) + "\"")
                    .path(d)
                    .end();
        }
    }

    private static void average(Svg svg, Scale x, Scale y, Course course) {
        if (course.means().length == 0) {
            return;
        }
        svg.dashed(Palette.TRACE, 1);
        svg.line(LEFT, y.at(course.target() - course.reach()), WIDTH - RIGHT, y.at(course.target() - course.reach()));
        svg.line(LEFT, y.at(course.target() + course.reach()), WIDTH - RIGHT, y.at(course.target() + course.reach()));
        svg.end();
        int every = Math.max(1, course.means().length / MOST_MARKS);
        StringBuilder line = new StringBuilder();
        for (int i = 0; i < course.means().length; i += every) {
            if (i == 0) {
                Svg.move(line, x.at(1), y.at(course.means()[0]));
            } else {
                Svg.draw(line, x.at(i + 1.0), y.at(course.means()[i]));
            }
        }
        drawn(svg, Palette.TRACE, 2, line);
    }
}
