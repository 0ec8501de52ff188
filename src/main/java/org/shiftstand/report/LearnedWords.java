package org.shiftstand.report;

import java.util.List;
import java.util.stream.Collectors;
import org.shiftstand.learn.Dwell;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.StoppingBias;
import org.shiftstand.learn.Variation;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/** What was learned, in words and numbers for readers. */
final class LearnedWords {
    /** Why overtravel as achieved is not what the firmware was told. */
    static final String MODEL =
            "Model: a landing is position + direction \u00d7 reversal \u2212 approach \u00d7 bias, where direction"
                    + " is that of the shift and approach that of its last motion, each +1 inboard and \u22121 outboard. So overtravel"
                    + " as achieved is the programmed one minus twice the bias: the shaft stops short on the way out and on the way"
                    + " back.";

    private LearnedWords() {}

    /** Milliseconds for seconds. */
    static Unit unit(Measure measure) {
        return measure.unit() == Unit.S ? Unit.MS : measure.unit();
    }

    static double shown(Measure measure, double base) {
        return unit(measure).fromBase(base);
    }

    /** {@code 274.3 ± 1.2}, {@code 274.3 ± ?} where the half-width is not known. */
    static String plusMinus(double value, double half, Unit unit) {
        return number(value, unit) + " \u00b1" + Figures.NO_BREAK + half(half, unit);
    }

    /** Both are in the measure's base unit; {@link Figures#NONE} where there is no number. */
    static String plusMinus(Estimated estimated, Measure measure) {
        return estimated
                .estimate()
                .map(e -> plusMinus(shown(measure, e.mean()), shown(measure, e.halfWidth()), unit(measure)))
                .orElse(Figures.NONE);
    }

    static String number(double value, Unit unit) {
        return Figures.bare(value, Math.min(2, Figures.decimals(unit)));
    }

    /** Of single shifts, degrees; a single one has none. */
    static String sd(Estimated.Estimate of) {
        return of.n() > 1 ? number(of.sd(), Unit.DEG) : Figures.NONE;
    }

    /** A half-width that rounds to nothing is not nothing. */
    private static String half(double half, Unit unit) {
        if (!Double.isFinite(half)) {
            return "?";
        }
        int decimals = Math.min(2, Figures.decimals(unit));
        double finest = Math.pow(10, -decimals);
        return half > 0 && half < finest / 2 ? "<" + Figures.bare(finest, decimals) : Figures.bare(half, decimals);
    }

    static String percent(double share) {
        return Figures.bare(share * 100, 1).replaceFirst("\\.0$", "") + Figures.NO_BREAK + "%";
    }

    /** {@code ± at 95 % confidence}. */
    static String confidence(Learned learned) {
        return "\u00b1 at " + percent(learned.options().confidence()) + " confidence";
    }

    /** How far it holds for others; empty from three units on. */
    static String units(Learned learned) {
        int units = learned.units().size();
        if (units >= Variation.LEAST_UNITS) {
            return "";
        }
        return units == 1
                ? "One unit: says nothing of others."
                : units + " units: says nothing of others; at least " + Variation.LEAST_UNITS + " are needed.";
    }

    static String stopping(Learned learned) {
        StoppingBias bias = learned.stopping();
        return bias.known()
                ? "The shaft stops " + plusMinus(bias.biasDeg(), bias.halfWidthDeg(), Unit.DEG)
                        + " deg short of where the firmware aims (" + confidence(learned) + "), known "
                        + bias.from() + ". Programmed values have it taken back."
                : "How far short of its aim the shaft stops is not known: " + bias.from()
                        + ". Positions and overtravel are then those achieved, and stand for the programmed ones.";
    }

    static String reversal(double deg) {
        return deg == 0
                ? "No reversal: shifts inboard and outboard land alike."
                : "Reversal: shifts inboard land " + Figures.of(Math.abs(deg), Unit.DEG)
                        + (deg > 0 ? " inboard" : " outboard")
                        + " of the position, shifts outboard as much to the other side.";
    }

    /** {@code after arrival within 20 deg}: the band is a part of what a dwell is. */
    static String after(Dwell dwell) {
        return "after arrival within " + Figures.asWritten(dwell.withinDeg(), Unit.DEG);
    }

    static String dwell(Dwell dwell, Learned learned) {
        String head = "Dwell " + after(dwell) + ": ";
        return dwell.overall().match(new Estimated.Cases<String>() {
            @Override
            public String estimate(Estimated.Estimate all) {
                return head + plusMinus(all.mean() * 1000, all.halfWidth() * 1000, Unit.MS) + " ms ("
                        + confidence(learned) + "), " + alike(dwell) + ".";
            }

            @Override
            public String notEstimated(String reason) {
                return head + "no number, " + reason + ".";
            }
        });
    }

    private static String alike(Dwell dwell) {
        String within = " (within " + Figures.of(dwell.toleranceS() * 1000, Unit.MS) + " of each other)";
        return switch (dwell.common()) {
            case COMMON -> "all rows alike" + within;
            case DIFFERENT -> "rows are not alike" + within + ", apart: " + String.join(", ", dwell.apart());
            case NOT_DECIDED -> "whether all rows are alike" + within + " is not decided";
        };
    }

    /** {@code a.csv#12, a.csv#14}, of one source {@code #12, #14}: of the first few. */
    static String rang(LearnedStep step, boolean oneSource, int most) {
        List<String> rang = step.rang();
        String shown = rang.stream()
                .limit(most)
                .map(name -> oneSource ? name.substring(Math.max(0, name.lastIndexOf('#'))) : name)
                .collect(Collectors.joining(", "));
        return rang.size() > most ? shown + " and " + (rang.size() - most) + " more" : shown;
    }
}
