package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.shiftstand.stats.ConfidenceLimits;
import org.shiftstand.stats.SuccessRun;

/** Lists what the captures leave undecided, and what would decide it. */
final class OpenQuestions {
    private static final int MOST_TRIED = 10_000;

    private final LearnOptions options;
    private final List<Undecided> found = new ArrayList<>();

    private OpenQuestions(LearnOptions options) {
        this.options = options;
    }

    static List<Undecided> of(
            LearnOptions options,
            SprocketCount count,
            List<LearnedStep> steps,
            StoppingBias stopping,
            Dwell hold,
            int units,
            List<LearnedPosition> positions,
            boolean senseAssumed) {
        OpenQuestions open = new OpenQuestions(options);
        if (senseAssumed) {
            open.found.add(new Undecided(
                    "which way is inboard",
                    "nothing in the captures tells; if the first sprocket is the largest, learn again with --sense reversed",
                    0));
        }
        open.rows(steps);
        open.ends(count);
        if (!stopping.known()) {
            open.found.add(new Undecided("stopping bias", stopping.from(), 0));
        }
        open.dwell(hold);
        positions.stream()
                .filter(p -> p.inboard().estimate().isEmpty()
                        && p.outboard().estimate().isEmpty())
                .forEach(p -> open.found.add(new Undecided(
                        "position of sprocket " + p.sprocket(),
                        Double.isNaN(p.programmedDeg())
                                ? "no shift to learn from lands on it or leaves it"
                                : "it was only left, never landed on: reversal and stopping bias are not taken back",
                        1)));
        if (units < Variation.LEAST_UNITS) {
            open.found.add(new Undecided(
                    "how units differ",
                    units == 1
                            ? "one unit: says nothing of others; " + Variation.LEAST_UNITS + " units at the least"
                            : "two units say little of others; " + Variation.LEAST_UNITS + " units at the least",
                    0));
        }
        return List.copyOf(open.found);
    }

    private void rows(List<LearnedStep> steps) {
        int enough = SuccessRun.trials(1 - options.unseenRate(), options.confidence(), 0);
        Map<Integer, List<String>> few = new TreeMap<>();
        for (LearnedStep step : steps) {
            step.overtravel().match(new OvertravelPattern.Cases<Void>() {
                @Override
                public Void programmed(OvertravelPattern.Programmed row) {
                    return counted(row.achieved().n());
                }

                @Override
                public Void none(OvertravelPattern.None row) {
                    return counted(row.n());
                }

                private Void counted(int n) {
                    if (n < enough) {
                        few.computeIfAbsent(n, k -> new ArrayList<>()).add(step.name());
                    }
                    return null;
                }

                @Override
                public Void irregular(OvertravelPattern.Irregular row) {
                    if (row.follows().isEmpty()) {
                        found.add(irregularRow(step, row));
                    }
                    return null;
                }

                @Override
                public Void gap(OvertravelPattern.Gap row) {
                    found.add(new Undecided("overtravel " + step.name(), row.reason(), enough));
                    return null;
                }
            });
        }
        few.forEach((n, names) -> found.add(new Undecided(
                "overtravel " + (names.size() == steps.size() ? "of every row" : String.join(", ", names)),
                (n == 1 ? "seen once" : "the same in all of " + n + " shifts") + (names.size() == 1 ? "" : " each")
                        + "; up to " + percent(1 - Math.pow(options.alpha(), 1.0 / n))
                        + " of shifts that do otherwise may have gone unseen",
                enough - n)));
    }

    private Undecided irregularRow(LearnedStep step, OvertravelPattern.Irregular row) {
        int n = row.with() + row.without();
        return new Undecided(
                "overtravel " + step.name(),
                "came in " + row.with() + " of " + n + " shifts (" + percent(row.rateLow()) + " to "
                        + percent(row.rateHigh())
                        + " of all): a fault, or programmed for a condition that the captures do not tell; nothing tried"
                        + " explains it",
                moreFor(row.with() / (double) n, n));
    }

    /** Until the interval of the rate is as narrow as twice the rate that may go unseen. */
    private int moreFor(double rate, int n) {
        for (int more = 1; more < MOST_TRIED; more++) {
            int all = n + more;
            ConfidenceLimits.Limits limits =
                    ConfidenceLimits.proportion(Math.round(rate * all), all, 1 - options.alpha() / 2);
            if (limits.high() - limits.low() <= 2 * options.unseenRate()) {
                return more;
            }
        }
        return MOST_TRIED;
    }

    private void ends(SprocketCount count) {
        if (count.confidence() < options.confidence()) {
            found.add(new Undecided(
                    "whether the cassette ends at " + count.seen() + " sprockets",
                    "the sweep turned " + times(count.turnsOutboard()) + " at sprocket 1 and "
                            + times(count.turnsInboard()) + " at sprocket " + count.seen()
                            + "; no request beyond an end was refused",
                    1));
        }
    }

    private static String times(int n) {
        return n == 1 ? "once" : n + " times";
    }

    private void dwell(Dwell hold) {
        if (hold.overall().estimate().isPresent() && hold.common() == Dwell.Common.NOT_DECIDED) {
            found.add(new Undecided(
                    "whether all rows dwell alike",
                    String.format(
                            Locale.ROOT,
                            "some rows' intervals reach beyond %.0f ms from the others'",
                            hold.toleranceS() * 1000),
                    1));
        }
    }

    private static String percent(double share) {
        return String.format(Locale.ROOT, "%.0f %%", share * 100);
    }
}
