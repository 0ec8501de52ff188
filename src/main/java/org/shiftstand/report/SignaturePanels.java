package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.learn.CurrentSignature;
import org.shiftstand.quantity.Unit;

/** The supply current of each kind of shift over time: mean, and the band that most shifts stay in. */
final class SignaturePanels {
    private static final double WIDTH = 360;
    private static final double HEIGHT = 214;
    private static final double LEFT = 44;
    private static final double RIGHT = 352;
    private static final double TOP = 40;
    private static final double BOTTOM = 176;

    private SignaturePanels() {}

    /** One drawing a signature, all with the same axes. */
    static List<String> draw(List<CurrentSignature> signatures) {
        double mostA = 0.01;
        double leastA = 0;
        double longest = 0.1;
        for (CurrentSignature s : signatures) {
            longest = Math.max(longest, (s.meanA().length - 1) * s.stepS());
            for (int i = 0; i < s.meanA().length; i++) {
                if (!Double.isNaN(s.meanA()[i])) {
                    mostA = Math.max(mostA, s.meanA()[i] + s.sdA()[i]);
                    leastA = Math.min(leastA, s.meanA()[i] - s.sdA()[i]);
                }
            }
        }
        Scale time = new Scale(0, longest, LEFT, RIGHT);
        Scale current = new Scale(leastA, mostA * 1.05, BOTTOM, TOP);
        List<String> drawings = new ArrayList<>();
        for (CurrentSignature s : signatures) {
            if (s.meanA().length > 1) {
                drawings.add(draw(s, drawings.size() + 1, time, current));
            }
        }
        return drawings;
    }

    static String name(CurrentSignature s) {
        return s.direction().word() + (s.overtravel() ? ", with overtravel" : ", without overtravel");
    }

    private static String draw(CurrentSignature s, int number, Scale time, Scale current) {
        Svg svg = new Svg(
                "signature-" + number,
                WIDTH,
                HEIGHT,
                "Current of shifts " + name(s),
                "Mean current over time since the request, in a band of one standard deviation to each side.");
        svg.fill(Palette.BAND).path(band(s, time, current)).end();
        svg.stroke(Palette.GRID, 1);
        current.ticks(4).forEach(v -> svg.line(LEFT, current.at(v), RIGHT, current.at(v)));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .line(LEFT, TOP, LEFT, BOTTOM)
                .line(LEFT, BOTTOM, RIGHT, BOTTOM)
                .end();
        svg.stroke(Palette.TRACE, 1.4).path(mean(s, time, current)).end();
        svg.fill(Palette.INK);
        int places = current.tickDecimals(4);
        current.ticks(4).forEach(v -> svg.text(LEFT - 5, current.at(v) + 4, "end", Figures.bare(v, places)));
        int decimals = time.tickDecimals(6);
        time.ticks(6).forEach(v -> svg.text(time.at(v), BOTTOM + 15, "middle", Figures.bare(v, decimals)));
        svg.text(LEFT - 5, TOP - 9, "end", Unit.A.symbol()).text(RIGHT, BOTTOM + 31, "end", "s after the request");
        svg.end();
        svg.group("fill=\"" + Palette.INK + "\" font-weight=\"700\"")
                .text(LEFT, 14, "start", name(s))
                .end();
        svg.fill(Palette.QUIET)
                .text(RIGHT, 14, "end", Figures.count(s.shifts(), "shift"))
                .end();
        return svg.finish();
    }

    /** Closed pieces, one for each stretch without a hole. */
    private static String band(CurrentSignature s, Scale time, Scale current) {
        StringBuilder d = new StringBuilder();
        int i = 0;
        while (i < s.meanA().length) {
            int end = i;
            while (end < s.meanA().length && !Double.isNaN(s.meanA()[end])) {
                end++;
            }
            if (end > i) {
                Svg.move(d, time.at(i * s.stepS()), current.clamped(s.meanA()[i] + s.sdA()[i]));
                for (int k = i + 1; k < end; k++) {
                    Svg.draw(d, time.at(k * s.stepS()), current.clamped(s.meanA()[k] + s.sdA()[k]));
                }
                for (int k = end - 1; k >= i; k--) {
                    Svg.draw(d, time.at(k * s.stepS()), current.clamped(s.meanA()[k] - s.sdA()[k]));
                }
                d.append('z');
            }
            i = end + 1;
        }
        return d.toString();
    }

    private static String mean(CurrentSignature s, Scale time, Scale current) {
        StringBuilder d = new StringBuilder();
        boolean pen = false;
        for (int i = 0; i < s.meanA().length; i++) {
            double a = s.meanA()[i];
            if (!Double.isNaN(a)) {
                if (pen) {
                    Svg.draw(d, time.at(i * s.stepS()), current.clamped(a));
                } else {
                    Svg.move(d, time.at(i * s.stepS()), current.clamped(a));
                }
            }
            pen = !Double.isNaN(a);
        }
        return d.toString();
    }
}
