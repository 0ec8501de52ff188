package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedPosition;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.Overlay;
import org.shiftstand.learn.OvertravelPattern;

/** The shifts of one row over each other: the whole way above, enlarged about the landing below. */
final class OverlayPanel {
    private static final double WIDTH = 360;
    private static final double HEIGHT = 300;
    private static final double LEFT = 44;
    private static final double RIGHT = 352;
    private static final double TOP = 40;
    private static final double BOTTOM = 156;
    private static final double NEAR_TOP = 186;
    private static final double NEAR_BOTTOM = 262;
    /** The lower drawing reaches this many settle bands to each side of the landing. */
    private static final double NEAR_BANDS = 2;
    /** A corner nearer to the line than this, in drawing units, is left out. */
    private static final double CORNER = 0.3;

    private final Learned learned;
    private final Overlay overlay;
    private final double longestS;
    private final int room;
    private int drawn;

    /** @param room characters that the strands may take */
    OverlayPanel(Learned learned, Overlay overlay, double longestS, int room) {
        this.learned = learned;
        this.overlay = overlay;
        this.longestS = longestS;
        this.room = room;
    }

    String draw() {
        String name = overlay.from() + Words.ARROW + overlay.to();
        Svg svg = new Svg(
                "overlay-" + overlay.from() + "-" + overlay.to(),
                WIDTH,
                HEIGHT,
                "Shifts " + name + " over each other",
                "Angle over time since the request, one strand for each shift.");
        Scale time = new Scale(0, longestS, LEFT, RIGHT);
        Scale angle = angle();
        band(svg, angle);
        axes(svg, time, angle, TOP, BOTTOM);
        if (near().isEmpty()) {
            times(svg, time, BOTTOM);
        }
        svg.fill(Palette.INK).text(LEFT - 5, TOP - 9, "end", "deg").end();
        Optional<Scale> near = near();
        near.ifPresent(scale -> {
            band(svg, scale);
            axes(svg, time, scale, NEAR_TOP, NEAR_BOTTOM);
            times(svg, time, NEAR_BOTTOM);
            svg.fill(Palette.INK)
                    .text(LEFT, NEAR_TOP - 6, "start", "about the landing, deg")
                    .end();
        });
        strands(svg, time, angle, near);
        svg.group("fill=\"" + Palette.INK + "\" font-weight=\"700\"")
                .text(LEFT, 14, "start", name)
                .end();
        String kind = kind();
        svg.fill(kind.isEmpty() ? Palette.QUIET : Palette.OPEN)
                .text(LEFT + 52, 14, "start", kind)
                .end();
        svg.fill(Palette.QUIET).text(RIGHT, 14, "end", counted()).end();
        return svg.finish();
    }

    private Scale angle() {
        double low = 0;
        double high = 1;
        for (Overlay.Strand strand : overlay.strands()) {
            for (float deg : strand.angleDeg()) {
                if (!Float.isNaN(deg)) {
                    low = Math.min(low, deg);
                    high = Math.max(high, deg);
                }
            }
        }
        return new Scale(low - 0.03 * (high - low), high + 0.05 * (high - low), BOTTOM, TOP);
    }

    private Optional<Scale> near() {
        double way = way();
        double reach = NEAR_BANDS * learned.bandDeg();
        return Double.isFinite(way)
                ? Optional.of(new Scale(way - reach, way + reach, NEAR_BOTTOM, NEAR_TOP))
                : Optional.empty();
    }

    private void band(Svg svg, Scale angle) {
        double way = way();
        if (Double.isFinite(way)) {
            double top = angle.clamped(way + learned.bandDeg());
            svg.fill(Palette.BAND)
                    .rect(LEFT, top, RIGHT - LEFT, angle.clamped(way - learned.bandDeg()) - top)
                    .end();
        }
    }

    private static void axes(Svg svg, Scale time, Scale angle, double top, double bottom) {
        svg.stroke(Palette.GRID, 1);
        angle.ticks(5).forEach(v -> svg.line(LEFT, angle.at(v), RIGHT, angle.at(v)));
        time.ticks(6).forEach(v -> svg.line(time.at(v), top, time.at(v), bottom));
        svg.end();
        svg.stroke(Palette.QUIET, 1)
                .line(LEFT, top, LEFT, bottom)
                .line(LEFT, bottom, RIGHT, bottom)
                .end();
        svg.fill(Palette.INK);
        int degDecimals = angle.tickDecimals(5);
        angle.ticks(5).forEach(v -> svg.text(LEFT - 5, angle.at(v) + 4, "end", Figures.bare(v, degDecimals)));
        svg.end();
    }

    private static void times(Svg svg, Scale time, double bottom) {
        svg.fill(Palette.INK);
        int decimals = time.tickDecimals(6);
        time.ticks(6).forEach(v -> svg.text(time.at(v), bottom + 15, "middle", Figures.bare(v, decimals)));
        svg.text(RIGHT, bottom + 31, "end", "s after the request").end();
    }

    /** From where it should start to where it should land; NaN where one is not known. */
    private double way() {
        return Math.abs(position(overlay.to()) - position(overlay.from()));
    }

    private double position(int sprocket) {
        return learned.positions().stream()
                .filter(p -> p.sprocket() == sprocket)
                .mapToDouble(LearnedPosition::programmedDeg)
                .findFirst()
                .orElse(Double.NaN);
    }

    private void strands(Svg svg, Scale time, Scale angle, Optional<Scale> near) {
        List<String> solid = new ArrayList<>();
        List<String> heldBack = new ArrayList<>();
        int left = room;
        for (Overlay.Strand strand : overlay.strands()) {
            String d = path(strand.angleDeg(), time, angle)
                    + near.map(scale -> path(inside(strand.angleDeg(), scale), time, scale))
                            .orElse("");
            if (drawn > 0 && d.length() > left) {
                break;
            }
            (strand.heldBack() ? heldBack : solid).add(d);
            left -= d.length();
            drawn++;
        }
        svg.group("fill=\"none\" stroke=\"" + Palette.TRACE + "\" stroke-width=\"0.9\" stroke-opacity=\"0.75\"");
        solid.forEach(svg::path);
        svg.end();
        svg.group("fill=\"none\" stroke=\"" + Palette.OPEN + "\" stroke-width=\"1.1\" stroke-dasharray=\"5 3\"");
        heldBack.forEach(svg::path);
        svg.end();
    }

    private static float[] inside(float[] deg, Scale scale) {
        float[] inside = deg.clone();
        for (int i = 0; i < inside.length; i++) {
            if (!scale.holds(inside[i])) {
                inside[i] = Float.NaN;
            }
        }
        return inside;
    }

    private String path(float[] deg, Scale time, Scale angle) {
        StringBuilder d = new StringBuilder();
        int i = 0;
        while (i < deg.length) {
            int end = i;
            while (end < deg.length && !Float.isNaN(deg[end])) {
                end++;
            }
            if (end > i) {
                piece(d, deg, i, end, time, angle);
            }
            i = Math.max(end, i) + 1;
        }
        return d.toString();
    }

    /** From each drawn point the farthest next one that the points between lie close to the line to. */
    private void piece(StringBuilder d, float[] deg, int from, int end, Scale time, Scale angle) {
        Svg.move(d, time.at(from * overlay.stepS()), angle.clamped(deg[from]));
        int at = from;
        while (at < end - 1) {
            double x0 = time.at(at * overlay.stepS());
            double y0 = angle.clamped(deg[at]);
            double steepest = Double.POSITIVE_INFINITY;
            double flattest = Double.NEGATIVE_INFINITY;
            int next = at + 1;
            for (int k = at + 1; k < end; k++) {
                double dx = time.at(k * overlay.stepS()) - x0;
                double dy = angle.clamped(deg[k]) - y0;
                if (dy / dx < flattest || dy / dx > steepest) {
                    break;
                }
                next = k;
                flattest = Math.max(flattest, (dy - CORNER) / dx);
                steepest = Math.min(steepest, (dy + CORNER) / dx);
            }
            at = next;
            Svg.draw(d, time.at(at * overlay.stepS()), angle.clamped(deg[at]));
        }
    }

    private String kind() {
        return OverlayPanels.row(learned, overlay.from(), overlay.to())
                .map(OverlayPanel::kind)
                .orElse("");
    }

    private static String kind(LearnedStep step) {
        return step.overtravel() instanceof OvertravelPattern.Irregular row
                ? "irregular: " + row.with() + " of " + (row.with() + row.without())
                : step.rang().isEmpty()
                        ? ""
                        : "rang: " + Figures.count(step.rang().size(), "shift");
    }

    private String counted() {
        int all = overlay.strands().size() + overlay.more();
        return drawn < all ? drawn + " of " + all + " shifts" : Figures.count(all, "shift");
    }
}
