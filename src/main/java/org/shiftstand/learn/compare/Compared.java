package org.shiftstand.learn.compare;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Statistic;

/**
 * One group of one measure, before and after. Numbers are in {@link #unit}.
 *
 * @param clause id of the clause that has the margin; empty where nothing is judged
 * @param because the author's reason; empty where none
 * @param measure as specs write it
 * @param of what is held side by side
 * @param key such as {@code sprocket → 4, direction → inboard}
 * @param words the same for sentences
 * @param unit of the means and their difference; of spreads that of their sds, whose ratio has none; of shares per cent
 * @param base what there is before
 * @param candidate what there is after
 * @param difference candidate − base; of spreads the ratio candidate / base
 * @param low limit of it, one-sided at the confidence of the clause
 * @param high likewise
 * @param margin largest difference that is allowed; of spreads the largest ratio, either way
 * @param pEquivalent of a true difference outside the margin, at most
 * @param pDifference of no difference, by itself
 * @param pHolm the same, held together with all others that are judged (of rows without a margin: with all such)
 * @param effective effective over actual number of shifts; 1 where they do not follow each other
 * @param power chance that this many shifts show equivalence where nothing changed
 * @param moreShifts so many more a side show it with 90 % chance where nothing changed; empty where decided, or where no number would
 * @param change the verdict
 * @param reason a sentence
 */
public record Compared(
        Optional<String> clause,
        String because,
        String measure,
        Optional<Measure> measured,
        Statistic.Likeness of,
        Map<String, String> key,
        String words,
        Unit unit,
        Side base,
        Side candidate,
        OptionalDouble difference,
        OptionalDouble low,
        OptionalDouble high,
        OptionalDouble margin,
        OptionalDouble pEquivalent,
        OptionalDouble pDifference,
        OptionalDouble pHolm,
        OptionalDouble effective,
        OptionalDouble power,
        OptionalInt moreShifts,
        Change change,
        String reason) {
    /**
     * One side of a group.
     *
     * @param n values, or shifts that are known to count or not
     * @param value mean, standard deviation or share; empty where there is none
     * @param runs values of each run in time order, for drawings; empty of shares
     */
    public record Side(int n, OptionalDouble value, List<Values> runs) {
        public Side {
            runs = List.copyOf(runs);
        }
    }

    /** Values of one run; a final class since it carries an array. */
    public static final class Values {
        private final double[] values;

        Values(double[] values) {
            this.values = values;
        }

        public double[] values() {
            return values.clone();
        }
    }

    /** Whether a difference is shown to be there, though it is shown to lie inside the margin. */
    public boolean notTheSame(double alpha) {
        return change == Change.EQUIVALENT && pHolm.isPresent() && pHolm.getAsDouble() <= alpha;
    }

    /** Whether the difference is a ratio. */
    public boolean ratio() {
        return of == Statistic.Likeness.SPREAD;
    }
}
