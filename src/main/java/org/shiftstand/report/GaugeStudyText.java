package org.shiftstand.report;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;
import java.util.OptionalDouble;
import org.shiftstand.judge.ClauseAbility;
import org.shiftstand.judge.GaugeOutcome;
import org.shiftstand.shift.Measure;
import org.shiftstand.stats.CrossedAnova;
import org.shiftstand.stats.CrossedAnova.Line;
import org.shiftstand.stats.GaugeVariation;

/** A gauge study as tables of plain text, for a terminal of 100 columns. */
public final class GaugeStudyText {
    private static final MathContext DIGITS = new MathContext(5);
    private static final double NEXT_TO_NOTHING = 0.0001;

    private final GaugeOutcome study;
    private final StringBuilder text = new StringBuilder();

    private GaugeStudyText(GaugeOutcome study) {
        this.study = study;
    }

    /** Every table, each line ended. */
    public static String of(GaugeOutcome study) {
        return new GaugeStudyText(study).whole();
    }

    private String whole() {
        var values = study.values();
        int all =
                values.units().size() * values.mounts().size() * values.study().repeats();
        line(
                "Gauge study of %s: %d units, %d mounts, %d repeats; %d values, mean %s.",
                study.measure().map(Measure::key).orElse("bare numbers"),
                values.units().size(),
                values.mounts().size(),
                values.study().repeats(),
                all,
                with(values.study().mean()));
        if (values.shifts() > 1) {
            line("Each value is the mean of %d shifts.", values.shifts());
        }
        variance();
        variation("Variation by the analysis of variance", study.anova().variation());
        variation("Variation by averages and ranges", study.ranges().variation());
        line(
                "  mean range %s, mounts apart %s, units apart %s; K1 %.4f, K2 %.4f, K3 %.4f",
                number(study.ranges().meanRange()),
                number(study.ranges().mountDifference()),
                number(study.ranges().unitRange()),
                study.ranges().k1(),
                study.ranges().k2(),
                study.ranges().k3());
        if (study.anova().variation().interaction() > 0) {
            line("  This way takes no notice of units with mounts: go by the analysis of variance.");
        }
        if (!study.repeatabilityIsTheRigs()) {
            line("");
            line(
                    "The units shifted anew for each repeat: the repeats' spread is the units' own and the rig's together.");
            line("It is told, and does not count as the rig's uncertainty (--repeats-spread rig makes it count).");
        }
        abilities();
        return text.toString();
    }

    private void variance() {
        CrossedAnova a = study.anova();
        line("");
        line("Crossed analysis of variance");
        line("  %-20s %12s %8s %12s %10s", "source", "squares", "freedom", "mean square", "F");
        source("units", a.unit(), number(a.unitF()));
        source("mounts", a.mount(), number(a.mountF()));
        source("units with mounts", a.interaction(), number(a.interactionF()));
        source("repeats", a.error(), "");
        int freedom = a.units() * a.mounts() * a.repeats() - 1;
        line("  %-20s %12s %8d", "total", number(a.totalSquares()), freedom);
        line(
                "  units with mounts: p %s; %s",
                a.interactionP() < NEXT_TO_NOTHING
                        ? "below 0.0001"
                        : String.format(Locale.ROOT, "%.4f", a.interactionP()),
                a.pools()
                        ? "above 0.25, so taken into the repeats' spread (convention)"
                        : "not above 0.25, so told apart (convention)");
    }

    private void source(String name, Line of, String f) {
        line("  %-20s %12s %8d %12s %10s", name, number(of.squares()), of.freedom(), number(of.mean()), f);
    }

    private void variation(String title, GaugeVariation v) {
        line("");
        line(title);
        line("  %-20s %12s %12s %12s", "part", "sd" + unit(), "% of study", "% of variance");
        part("repeatability", v, v.repeatability());
        part("reproducibility", v, v.reproducibility());
        if (v.interaction() > 0) {
            part("units with mounts", v, v.interaction());
        }
        part("gauge, all of these", v, v.gauge());
        part("units", v, v.unit());
        part("total", v, v.total());
        OptionalDouble raw = v.rawDistinctCategories();
        if (raw.isPresent()) {
            line(
                    "  distinct categories: %d (%s, truncated); 5 or more tell units apart by common practice",
                    (long) Math.floor(raw.getAsDouble()), number(raw.getAsDouble()));
        } else {
            line("  distinct categories: not told, the gauge showed no variation; a finer reading would");
        }
    }

    private void part(String name, GaugeVariation v, double sd) {
        double share = v.shareOfTotal(sd);
        line("  %-20s %12s %12.2f %12.2f", name, number(sd), 100 * share, 100 * share * share);
    }

    private void abilities() {
        if (study.spec().isEmpty()) {
            return;
        }
        String spec = study.spec().get().name();
        String measure = study.measure().map(Measure::key).orElse("");
        line("");
        if (study.abilities().isEmpty()) {
            line("Spec %s has no clause on %s: this study tells nothing of it.", spec, measure);
            return;
        }
        line("Whether this rig can judge %s on %s", spec, measure);
        line("  %-9s %-26s %12s %12s %12s %9s", "", "clause", "gauge sd", "expanded", "held against", "share");
        for (ClauseAbility a : study.abilities()) {
            line(
                    "  %-9s %-26s %12s %12s %12s %9s",
                    a.word().word(),
                    a.clause().id(),
                    number(a.gauge()),
                    number(a.expanded()),
                    number(a.width()),
                    a.share().isPresent()
                            ? String.format(
                                    Locale.ROOT, "%.1f %%", 100 * a.share().getAsDouble())
                            : "–");
            line(
                    "            %s %s",
                    a.word() == ClauseAbility.Word.NOT_TOLD ? "Why:" : "Held against:", a.held() + ".");
        }
        line("  Figures in %s. Share: six sd of the width; of a spread the gauge's own spread.", symbol());
        line(
                "  can: up to 10 %%; marginal: up to 30 %%; cannot: above, or where the expanded uncertainty (95 %%) leaves");
        line("  no room between the bounds. These limits are common practice, no published source.");
    }

    private String symbol() {
        return study.measure().map(m -> m.unit().symbol()).orElse("the unit of the values");
    }

    private String unit() {
        return study.measure().map(m -> ", " + m.unit().symbol()).orElse("");
    }

    private String with(double value) {
        return number(value) + study.measure().map(m -> " " + m.unit().symbol()).orElse("");
    }

    private static String number(OptionalDouble value) {
        return value.isPresent() ? number(value.getAsDouble()) : "–";
    }

    /** Five digits that count. */
    private static String number(double value) {
        if (Double.isInfinite(value)) {
            return "infinite";
        }
        BigDecimal rounded = new BigDecimal(value).round(DIGITS);
        double size = Math.abs(value);
        return value == 0 ? "0" : size < 1e-5 || size >= 1e9 ? rounded.toString() : rounded.toPlainString();
    }

    private void line(String format, Object... values) {
        text.append(String.format(Locale.ROOT, format, values).stripTrailing()).append(System.lineSeparator());
    }
}
