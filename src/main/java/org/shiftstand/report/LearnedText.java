package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.learn.Dwell;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedPosition;
import org.shiftstand.learn.LearnedSource;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.OvertravelPattern;
import org.shiftstand.learn.StoppingBias;
import org.shiftstand.learn.Undecided;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.shift.Measure;

/** What was learned, as lines of text for a terminal. */
public final class LearnedText {
    private final Learned learned;
    private final List<String> lines = new ArrayList<>();

    private LearnedText(Learned learned) {
        this.learned = learned;
    }

    /** Lines without line breaks, at most about 110 characters where no name is longer. */
    public static List<String> of(Learned learned) {
        LearnedText text = new LearnedText(learned);
        text.sources();
        text.positions();
        text.rows();
        text.common();
        text.open();
        return List.copyOf(text.lines);
    }

    private void line(String format, Object... values) {
        lines.add(String.format(Locale.ROOT, format, values).stripTrailing());
    }

    private void sources() {
        int n = learned.positions().size();
        line("%d sprockets; %s", n, ends());
        for (LearnedSource source : learned.sources()) {
            line(
                    "  %s, unit %s: %s in %s, learned from %d, held back %d%s; sprockets %d to %d, sense %s",
                    Words.clean(source.name()),
                    source.unit().equals(LearnedSource.UNNAMED) ? "not named" : Words.clean(source.unit()),
                    counted(source.shifts(), "shift"),
                    counted(source.cycles(), "cycle"),
                    source.learned(),
                    source.heldBack(),
                    source.leftOut().isEmpty() ? "" : ", left out " + leftOut(source),
                    source.firstSprocket(),
                    source.lastSprocket(),
                    source.sense());
        }
        line("");
    }

    private String ends() {
        var count = learned.sprockets();
        return "the sweep turned " + times(count.turnsOutboard()) + " at sprocket 1"
                + refused(count.refusedOutboard()) + " and " + times(count.turnsInboard()) + " at sprocket "
                + count.seen() + refused(count.refusedInboard());
    }

    private static String times(int n) {
        return n == 1 ? "once" : n == 2 ? "twice" : n == 0 ? "not once" : n + " times";
    }

    private static String counted(int n, String what) {
        return n + " " + what + (n == 1 ? "" : "s");
    }

    private static String refused(int n) {
        return n == 0 ? "" : " (" + n + (n == 1 ? " request" : " requests") + " beyond moved nothing)";
    }

    private static String leftOut(LearnedSource source) {
        List<String> parts = new ArrayList<>();
        source.leftOut().forEach((why, n) -> parts.add(n + " (" + why + ")"));
        return String.join(", ", parts);
    }

    private void positions() {
        line(
                "Positions, degrees from sprocket %d, ± at %s confidence",
                learned.origin(), percent(learned.options().confidence()));
        line(
                "  %8s %10s %8s %18s %18s %8s",
                "sprocket", "position", "±", "landing inboard", "landing outboard", "to next");
        for (LearnedPosition p : learned.positions()) {
            line(
                    "  %8d %10s %8s %18s %18s %8s",
                    p.sprocket(),
                    deg(p.programmedDeg()),
                    deg(p.halfWidthDeg()),
                    mean(p.inboard()),
                    mean(p.outboard()),
                    p.pitchMm().isPresent()
                            ? String.format(Locale.ROOT, "%.2f mm", p.pitchMm().getAsDouble())
                            : "");
        }
        line("");
    }

    private void rows() {
        line(
                "Overtravel and dwell by shift; achieved by the shaft, programmed as estimated; dwell after arrival within"
                        + " %s deg",
                Decimal.text(learned.bandDeg()));
        line(
                "  %7s %4s %16s %16s %10s %9s %9s  %s",
                "shift", "n", "achieved", "programmed", "dwell", "travel", "ringing", "");
        for (LearnedStep step : learned.steps()) {
            row(step);
        }
        for (LearnedStep step : learned.jumps()) {
            row(step);
        }
        line(
                "  none: no plateau farther than the settle band, %s deg, past the landing; less cannot be told from none",
                Decimal.text(learned.bandDeg()));
        line("");
    }

    private void row(LearnedStep step) {
        String[] overtravel = step.overtravel().match(new OvertravelPattern.Cases<>() {
            @Override
            public String[] programmed(OvertravelPattern.Programmed row) {
                return new String[] {
                    plusMinus(row.achieved().mean(), row.achieved().halfWidth()),
                    learned.stopping().known()
                            ? plusMinus(row.programmedDeg(), row.programmedHalfWidthDeg())
                            : "not known",
                    ""
                };
            }

            @Override
            public String[] none(OvertravelPattern.None row) {
                return new String[] {
                    "none", "none", "up to " + percent(row.largestUnseenRate()) + " with one may have gone unseen"
                };
            }

            @Override
            public String[] irregular(OvertravelPattern.Irregular row) {
                return new String[] {
                    plusMinus(row.achieved().mean(), row.achieved().halfWidth()),
                    "irregular",
                    "in " + row.with() + " of " + (row.with() + row.without())
                            + row.follows().map(follows -> ": " + follows).orElse("")
                };
            }

            @Override
            public String[] gap(OvertravelPattern.Gap row) {
                return new String[] {"GAP", "GAP", row.reason()};
            }
        });
        line(
                "  %7s %4d %16s %16s %10s %9s %9s  %s",
                step.name(),
                step.learned(),
                overtravel[0],
                overtravel[1],
                ms(step.get(Measure.HOLD)),
                ms(step.get(Measure.TRAVEL_TIME)),
                mean(step.get(Measure.RINGING)),
                overtravel[2]);
    }

    private void common() {
        StoppingBias bias = learned.stopping();
        line(
                "Stopping bias: %s",
                bias.known()
                        ? "the shaft stops " + plusMinus(bias.biasDeg(), bias.halfWidthDeg())
                                + " deg short of where the firmware aims (" + bias.from() + ")"
                        : bias.from());
        bias.reversalDeg()
                .ifPresent(reversal -> line(
                        "Reversal: shifts inboard land %.1f deg inboard of the position, shifts outboard as much outboard",
                        reversal));
        dwell(learned.hold());
        dwell(learned.restHold());
        long rang = learned.steps().stream().filter(s -> !s.rang().isEmpty()).count();
        if (rang > 0) {
            line(
                    "Ringing beyond %s deg in %d of %d rows: %s",
                    Decimal.text(learned.bandDeg() / 2),
                    rang,
                    learned.steps().size(),
                    learned.steps().stream()
                            .filter(s -> !s.rang().isEmpty())
                            .map(s -> s.name() + " (" + s.rang().size() + ")")
                            .reduce((a, b) -> a + ", " + b)
                            .orElse(""));
        }
        if (learned.units().size() == 1) {
            line("One unit: says nothing of others.");
        }
        line("");
    }

    private void dwell(Dwell dwell) {
        Optional<Estimated.Estimate> overall = dwell.overall().estimate();
        if (overall.isEmpty()) {
            return;
        }
        String alike = switch (dwell.common()) {
            case COMMON -> "all rows alike";
            case DIFFERENT -> "not alike: " + String.join(", ", dwell.apart());
            case NOT_DECIDED -> "whether all rows are alike is not decided";
        };
        line(
                "Dwell after arrival within %s deg: %s ms, %s (within %.0f ms)",
                Decimal.text(dwell.withinDeg()),
                plusMinus(overall.get().mean() * 1000, overall.get().halfWidth() * 1000),
                alike,
                dwell.toleranceS() * 1000);
    }

    private void open() {
        if (learned.undecided().isEmpty()) {
            line("Nothing is left undecided.");
            return;
        }
        line("Not decided:");
        for (Undecided question : learned.undecided()) {
            line(
                    "  %s: %s%s",
                    question.what(),
                    question.why(),
                    question.moreShifts() > 1
                            ? "; " + question.moreShifts() + " more shifts"
                                    + (question.what().startsWith("overtravel ") ? " of each such row" : "")
                                    + " would decide"
                            : "");
        }
    }

    private static String mean(Estimated estimated) {
        return estimated
                .estimate()
                .map(e -> String.format(Locale.ROOT, "%.1f", e.mean()))
                .orElse("-");
    }

    private static String ms(Estimated estimated) {
        return estimated
                .estimate()
                .map(e -> String.format(Locale.ROOT, "%.0f ms", e.mean() * 1000))
                .orElse("-");
    }

    private static String plusMinus(double value, double half) {
        return Double.isInfinite(half)
                ? String.format(Locale.ROOT, "%.1f ± ?", value)
                : String.format(Locale.ROOT, "%.1f ± %.1f", value, half);
    }

    private static String deg(double value) {
        return Double.isNaN(value) || Double.isInfinite(value) ? "?" : String.format(Locale.ROOT, "%.1f", value);
    }

    private static String percent(double share) {
        return Decimal.text(Math.round(share * 1000) / 10.0) + " %";
    }
}
