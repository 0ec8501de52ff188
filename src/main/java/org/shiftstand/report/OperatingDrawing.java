package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.planning.ClauseExplanation;
import org.shiftstand.planning.Explanation;
import org.shiftstand.planning.OperatingCurve;
import org.shiftstand.quantity.Unit;

/** Operating characteristics of a spec and its clauses, drawn side by side as one SVG file. */
public final class OperatingDrawing {
    private static final int COLUMNS = 3;
    private static final double PANEL_WIDTH = 340;
    private static final double PANEL_HEIGHT = 216;
    private static final double MARGIN = 24;
    private static final double HEAD = 104;
    private static final double LEFT = 44;
    private static final double TOP = 48;
    private static final double PLOT_WIDTH = 268;
    private static final double PLOT_HEIGHT = 112;
    private static final int TICKS = 5;

    private OperatingDrawing() {}

    /** The drawing; empty where there is no curve. */
    public static String of(Explanation explained) {
        List<Panel> panels = panels(explained);
        int rows = (panels.size() + COLUMNS - 1) / COLUMNS;
        double width = 2 * MARGIN + COLUMNS * PANEL_WIDTH;
        double height = HEAD + rows * PANEL_HEIGHT + MARGIN;
        var svg = new Svg(
                "operating",
                width,
                height,
                "Operating characteristics of " + explained.spec().name(),
                "For each clause, and for the whole spec, the chance to pass over a quality from good to bad, simulated.");
        svg.fill(Palette.PAPER).rect(0, 0, width, height).end();
        head(svg, explained);
        for (int i = 0; i < panels.size(); i++) {
            draw(
                    svg,
                    panels.get(i),
                    MARGIN + i % COLUMNS * PANEL_WIDTH,
                    HEAD + Math.floorDiv(i, COLUMNS) * PANEL_HEIGHT);
        }
        return svg.finish();
    }

    /**
     * One plot.
     *
     * @param bad NaN where no bad unit is stated
     */
    private record Panel(
            String title,
            String place,
            String axis,
            Unit unit,
            List<OperatingCurve.Point> points,
            double bad,
            double ofBad) {}

    private static List<Panel> panels(Explanation explained) {
        List<Panel> panels = new ArrayList<>();
        explained
                .whole()
                .ifPresent(whole -> panels.add(new Panel(
                        "the whole spec",
                        "every clause at once",
                        "everything scatters so many times wider",
                        Unit.ONE,
                        whole.points(),
                        Double.NaN,
                        0)));
        for (ClauseExplanation clause : explained.clauses()) {
            clause.curve()
                    .ifPresent(curve -> panels.add(new Panel(
                            clause.clause().id(),
                            clause.place(),
                            WorseningWords.axis(clause.clause(), curve)
                                    + Figures.symbol(curve.unit()).replace(Figures.NO_BREAK, ", "),
                            curve.unit(),
                            curve.points(),
                            curve.bad(),
                            curve.consumersRisk().share())));
        }
        return panels;
    }

    private static void head(Svg svg, Explanation explained) {
        svg.group("fill=\"" + Palette.INK + "\" font-size=\"18\" font-weight=\"600\"")
                .text(MARGIN, 34, "start", "Chance to pass, from a sound unit to a bad one")
                .end();
        svg.fill(Palette.QUIET)
                .text(
                        MARGIN,
                        56,
                        "start",
                        explained.spec().name() + " version " + explained.spec().version() + "; simulated: "
                                + explained.assumptions().repetitions() + " units of each quality, "
                                + Figures.count(explained.plannedCycles(), "cycle") + " each, seed "
                                + explained.assumptions().seed())
                .end();
        double y = 80;
        svg.stroke(Palette.TRACE, 2).line(MARGIN, y, MARGIN + 28, y).end();
        dots(svg, Palette.TRACE, Svg.dot(new StringBuilder(), MARGIN + 14, y));
        svg.fill(Palette.BAND).rect(MARGIN + 190, y - 6, 28, 12).end();
        square(svg, MARGIN + 400, y);
        svg.dashed(Palette.OPEN, 1.5).line(MARGIN + 620, y, MARGIN + 648, y).end();
        svg.fill(Palette.INK)
                .text(MARGIN + 36, y + 4, "start", "passes; first dot: sound")
                .text(MARGIN + 226, y + 4, "start", "95" + Figures.NO_BREAK + "% interval of it")
                .text(MARGIN + 412, y + 4, "start", "the stated bad unit passes")
                .text(MARGIN + 656, y + 4, "start", "ends without a verdict")
                .end();
    }

    private static void draw(Svg svg, Panel panel, double left, double top) {
        List<OperatingCurve.Point> points = panel.points();
        double low = points.get(0).quality();
        double last = points.get(points.size() - 1).quality();
        double high = Math.max(last, Double.isNaN(panel.bad()) ? last : panel.bad());
        double span = high > low ? high - low : 1;
        var x = new Scale(low, low + span * 1.04, left + LEFT, left + LEFT + PLOT_WIDTH);
        var y = new Scale(0, 1, top + TOP + PLOT_HEIGHT, top + TOP);
        svg.group("fill=\"" + Palette.INK + "\" font-weight=\"600\"")
                .text(left + LEFT, top + 18, "start", panel.title())
                .end();
        svg.group("fill=\"" + Palette.QUIET + "\" font-size=\"11\"")
                .text(left + LEFT, top + 34, "start", panel.place())
                .text(left + LEFT + PLOT_WIDTH / 2, top + TOP + PLOT_HEIGHT + 32, "middle", panel.axis())
                .end();
        axes(svg, x, y);
        svg.fill(Palette.BAND).path(band(points, x, y)).end();
        if (points.stream().anyMatch(p -> p.verdicts().noVerdict() > 0)) {
            svg.dashed(Palette.OPEN, 1.5).path(undecided(points, x, y)).end();
        }
        svg.stroke(Palette.TRACE, 2).path(passes(points, x, y)).end();
        StringBuilder dots = new StringBuilder();
        points.forEach(
                p -> Svg.dot(dots, x.at(p.quality()), y.at(p.verdicts().passes().share())));
        dots(svg, Palette.TRACE, dots);
        if (!Double.isNaN(panel.bad())) {
            square(svg, x.at(panel.bad()), y.at(panel.ofBad()));
        }
    }

    private static void axes(Svg svg, Scale x, Scale y) {
        svg.stroke(Palette.GRID, 1);
        for (double part : new double[] {0.05, 0.5, 0.95}) {
            svg.line(x.atLow(), y.at(part), x.atHigh(), y.at(part));
        }
        svg.end();
        svg.stroke(Palette.INK, 1)
                .line(x.atLow(), y.atLow(), x.atHigh(), y.atLow())
                .line(x.atLow(), y.atLow(), x.atLow(), y.atHigh())
                .end();
        svg.group("fill=\"" + Palette.QUIET + "\" font-size=\"10\"");
        for (int percent : new int[] {5, 50, 95}) {
            svg.text(x.atLow() - 6, y.at(percent / 100.0) + 3.5, "end", percent + Figures.NO_BREAK + "%");
        }
        for (double tick : x.ticks(TICKS)) {
            svg.text(x.at(tick), y.atLow() + 14, "middle", Figures.bare(tick, x.tickDecimals(TICKS)));
        }
        svg.end();
        svg.stroke(Palette.INK, 1);
        for (double tick : x.ticks(TICKS)) {
            svg.line(x.at(tick), y.atLow(), x.at(tick), y.atLow() + 3);
        }
        svg.end();
    }

    private static StringBuilder band(List<OperatingCurve.Point> points, Scale x, Scale y) {
        StringBuilder d = new StringBuilder();
        for (int i = 0; i < points.size(); i++) {
            double at = x.at(points.get(i).quality());
            double high = y.at(points.get(i).verdicts().passes().high());
            if (i == 0) {
                Svg.move(d, at, high);
            } else {
                Svg.draw(d, at, high);
            }
        }
        for (int i = points.size() - 1; i >= 0; i--) {
            Svg.draw(
                    d,
                    x.at(points.get(i).quality()),
                    y.at(points.get(i).verdicts().passes().low()));
        }
        return d.append('Z');
    }

    private static StringBuilder passes(List<OperatingCurve.Point> points, Scale x, Scale y) {
        StringBuilder d = new StringBuilder();
        for (OperatingCurve.Point point : points) {
            next(d, x.at(point.quality()), y.at(point.verdicts().passes().share()));
        }
        return d;
    }

    private static StringBuilder undecided(List<OperatingCurve.Point> points, Scale x, Scale y) {
        StringBuilder d = new StringBuilder();
        for (OperatingCurve.Point point : points) {
            next(d, x.at(point.quality()), y.at(point.verdicts().undecided().share()));
        }
        return d;
    }

    private static void next(StringBuilder d, double x, double y) {
        if (d.length() == 0) {
            Svg.move(d, x, y);
        } else {
            Svg.draw(d, x, y);
        }
    }

    private static void dots(Svg svg, String colour, CharSequence dots) {
        svg.group("fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"5\" stroke-linecap=\"round\"")
                .path(dots)
                .end();
    }

    private static void square(Svg svg, double x, double y) {
        svg.group("fill=\"" + Palette.PAPER + "\" stroke=\"" + Palette.FAIL + "\" stroke-width=\"2\"")
                .rect(x - 4.5, y - 4.5, 9, 9)
                .end();
    }
}
