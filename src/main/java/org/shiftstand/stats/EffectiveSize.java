package org.shiftstand.stats;

import java.util.List;

/**
 * How many independent values a series is worth where values follow each other.
 *
 * <p>Two estimates of the autocorrelation time, of which the larger counts. {@link Persistence} takes a first-order process,
 * which serves short series well; but a slow wandering beneath independent scatter hides from it, since neighbours then
 * differ by the scatter mostly. So the initial monotone sequence as well (Geyer, Statistical Science 7, 473–483, 1992): the
 * autocorrelations, summed by pairs while the pairs are positive and do not rise; it takes no form of process. Each series
 * about its own straight line, since a steady drift has its own statistic; what the line takes away is given back to first
 * order, by its own matrix. What turns about once in the whole series cannot be told from drift and is not counted.
 *
 * <p>Only what is significant counts, so that independent values keep their number in 95 of 100 series or more: the first
 * autocorrelation, or the mean of the first ten, above {@value #SIGNIFICANT} standard errors (√(1/N), √(1/10N)).
 *
 * @param time autocorrelation time, 1 or more: n values tell of a mean as much as n/time independent ones
 */
public record EffectiveSize(double time) {
    /** One-sided 2.5 % point of the normal distribution: there are two tests. */
    private static final double SIGNIFICANT = 1.959964;

    private static final int SHORTEST = 5;
    private static final int FIRST_LAGS = 10;
    private static final int MOST_LAGS = 1000;
    private static final int ROUNDS = 6;

    /** Of several series of the same kind together: few values each would not tell. Those below 5 values say nothing. */
    public static EffectiveSize of(List<double[]> series) {
        List<AboutLine> lines = series.stream()
                .filter(values -> values.length >= SHORTEST)
                .map(AboutLine::new)
                .filter(AboutLine::scatters)
                .toList();
        if (lines.isEmpty() || !follows(lines)) {
            return new EffectiveSize(1);
        }
        return new EffectiveSize(Math.max(summed(lines), Persistence.of(series).ofSums()));
    }

    public static EffectiveSize of(double... values) {
        return of(List.of(values));
    }

    /** Effective over actual number of values, above 0 to 1. */
    public double share() {
        return 1 / time;
    }

    private static boolean follows(List<AboutLine> lines) {
        int n = lines.stream().mapToInt(AboutLine::n).sum();
        int lags = Math.max(1, Math.min(FIRST_LAGS, longest(lines) / 4));
        double sum = 0;
        for (int lag = 1; lag <= lags; lag++) {
            sum += correlation(lines, lag, 1);
        }
        return correlation(lines, 1, 1) > SIGNIFICANT / Math.sqrt(n)
                || sum / lags > SIGNIFICANT / Math.sqrt((double) n * lags);
    }

    /** Geyer's sum; what the lines took away depends on the sum itself, so in rounds. */
    private static double summed(List<AboutLine> lines) {
        double most = longest(lines) / 4.0;
        double time = 1;
        for (int round = 0; round < ROUNDS; round++) {
            time = Math.max(1, Math.min(most, summed(lines, time)));
        }
        return time;
    }

    private static double summed(List<AboutLine> lines, double time) {
        int lags = Math.min(MOST_LAGS, longest(lines) / 3);
        double sum = -1;
        double least = Double.POSITIVE_INFINITY;
        for (int lag = 0; lag + 1 <= lags; lag += 2) {
            double even = lag == 0 ? 1 : correlation(lines, lag, time);
            least = Math.min(least, even + correlation(lines, lag + 1, time));
            if (least <= 0) {
                break;
            }
            sum += 2 * least;
        }
        return sum;
    }

    /**
     * Autocorrelation of all series together, each by its length.
     *
     * @param time by which the line takes away more than from independent values
     */
    private static double correlation(List<AboutLine> lines, int lag, double time) {
        double sum = 0;
        double products = 0;
        for (AboutLine line : lines) {
            if (line.n() >= lag + 3) {
                sum += Math.max(0, line.n() - 2 * time) * line.ratio(lag) + time * line.taken(lag);
                products += line.n() - lag;
            }
        }
        return products == 0 ? 0 : sum / products;
    }

    private static int longest(List<AboutLine> lines) {
        return lines.stream().mapToInt(AboutLine::n).max().orElse(0);
    }
}
