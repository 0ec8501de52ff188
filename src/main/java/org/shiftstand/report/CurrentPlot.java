package org.shiftstand.report;

import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** The supply current under the drawing of a shift, on the same time axis. */
final class CurrentPlot {
    private CurrentPlot() {}

    static void draw(Svg svg, Trace trace, double requestS, Scale time, double top, double bottom, Shift shift) {
        double most = 0;
        double least = 0;
        for (int i = 0; i < trace.size(); i++) {
            if (!Double.isNaN(trace.currentA(i))) {
                most = Math.max(most, trace.currentA(i));
                least = Math.min(least, trace.currentA(i));
            }
        }
        if (!(most > least)) {
            most = least + 1;
        }
        Scale current = new Scale(least, most + 0.12 * (most - least), bottom, top);
        double left = time.atLow();
        double right = time.atHigh();
        svg.stroke(Palette.GRID, 1);
        current.ticks(3).forEach(a -> svg.line(left, current.at(a), right, current.at(a)));
        svg.end();
        svg.stroke(Palette.QUIET, 1).line(left, top, left, bottom).end();
        svg.fill(Palette.INK);
        int decimals = current.tickDecimals(3);
        current.ticks(3).forEach(a -> svg.text(left - 6, current.at(a) + 4, "end", Figures.bare(a, decimals)));
        svg.text(left - 48, top - 8, "start", "current, A").end();
        line(svg, trace, requestS, time, current);
        shift.get(Measure.PEAK_CURRENT).number().ifPresent(peak -> {
            if (current.holds(peak)) {
                svg.dashed(Palette.QUIET, 0.8)
                        .line(left, current.at(peak), right, current.at(peak))
                        .end();
                svg.fill(Palette.INK)
                        .text(right + 16, current.at(peak) + 4, "start", "peak " + Figures.of(peak, Unit.A))
                        .end();
            }
        });
    }

    /** Least and most of each drawing unit: no peak is lost to thinning. */
    private static void line(Svg svg, Trace trace, double requestS, Scale time, Scale current) {
        StringBuilder d = new StringBuilder();
        boolean pen = false;
        int i = 0;
        while (i < trace.size()) {
            double cell = Math.rint(time.at(trace.timeS(i) - requestS));
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            boolean broken = !trace.breakBefore(i).isEmpty();
            while (i < trace.size() && Math.rint(time.at(trace.timeS(i) - requestS)) == cell) {
                if (!Double.isNaN(trace.currentA(i))) {
                    low = Math.min(low, trace.currentA(i));
                    high = Math.max(high, trace.currentA(i));
                }
                i++;
            }
            if (low > high) {
                pen = false;
                continue;
            }
            if (pen && !broken) {
                Svg.draw(d, cell, current.at(high));
            } else {
                Svg.move(d, cell, current.at(high));
            }
            if (high > low) {
                Svg.draw(d, cell, current.at(low));
            }
            pen = true;
        }
        svg.stroke(Palette.TRACE, 1).path(d).end();
    }
}
