package org.shiftstand.learn.compare;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Statistic;
import org.shiftstand.stats.ExactShares;

/**
 * A row before its verdict, which needs all rows: what was tested, or why nothing could be.
 *
 * @param margin base unit; empty where nothing is judged
 * @param judged whether a verdict is due; of how often an overtravel came also without a margin
 * @param tested empty where there is nothing to test
 * @param hindered why there is no verdict of equivalence whatever the test says
 * @param shares hits and trials, of a share
 */
record Draft(
        Clause clause,
        Statistic.Likeness of,
        Map<String, String> key,
        String words,
        OptionalDouble margin,
        boolean judged,
        Compared.Side base,
        Compared.Side candidate,
        Optional<Tested> tested,
        Optional<String> hindered,
        Optional<ExactShares> shares) {
    double pDifference() {
        return tested.map(Tested::pDifference).orElse(1.0);
    }

    static Compared.Side side(List<Series> runs, OptionalDouble value) {
        return new Compared.Side(
                runs.stream().mapToInt(Series::n).sum(),
                value,
                runs.stream()
                        .map(run -> new Compared.Values(run.cells().stream()
                                .flatMapToDouble(java.util.Arrays::stream)
                                .toArray()))
                        .toList());
    }
}
