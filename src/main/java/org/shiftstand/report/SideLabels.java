package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Labels beside a plot, moved apart so that none covers another, each led to its height. */
final class SideLabels {
    private static final double APART = 15;

    private final List<Label> labels = new ArrayList<>();

    void add(double y, String colour, String text) {
        labels.add(new Label(y, colour, text));
    }

    void draw(Svg svg, double plotEnd, double top, double bottom) {
        List<Label> sorted = new ArrayList<>(labels);
        sorted.sort(Comparator.comparingDouble(Label::y));
        double[] y = new double[sorted.size()];
        double free = top;
        for (int i = 0; i < y.length; i++) {
            y[i] = Math.max(sorted.get(i).y(), free);
            free = y[i] + APART;
        }
        double limit = bottom;
        for (int i = y.length - 1; i >= 0; i--) {
            y[i] = Math.min(y[i], limit);
            limit = y[i] - APART;
        }
        for (int i = 0; i < y.length; i++) {
            Label label = sorted.get(i);
            StringBuilder leader = Svg.move(new StringBuilder(), plotEnd, label.y());
            Svg.draw(leader, plotEnd + 4, label.y());
            Svg.draw(leader, plotEnd + 12, y[i]);
            svg.stroke(label.colour(), 0.8).path(leader).end();
            svg.fill(label.colour())
                    .text(plotEnd + 16, y[i] + 4, "start", label.text())
                    .end();
        }
    }

    private record Label(double y, String colour, String text) {}
}
