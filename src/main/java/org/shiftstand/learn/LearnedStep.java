package org.shiftstand.learn;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

/**
 * One row: a shift from one sprocket to another. A row that was not seen is there as well, with a gap.
 *
 * @param learned shifts learned from
 * @param heldBack shifts of it kept for proving
 * @param outcomes of all shifts learned from, in the order of the enum
 * @param overtravel what was learned of it
 * @param measures landing (degrees from the programmed position of sprocket 1), ringing, return-ringing, hold, rest-hold,
 *     travel-time, settle-time, creep, wake-up-error, peak-current, charge, energy
 * @param rang which shifts, of those not held back, rang by more than half the settle band, as {@code source#shift}
 */
public record LearnedStep(
        int from,
        int to,
        int learned,
        int heldBack,
        Map<Outcome, Integer> outcomes,
        OvertravelPattern overtravel,
        Map<Measure, Estimated> measures,
        List<String> rang) {
    public LearnedStep {
        outcomes = Collections.unmodifiableMap(
                new EnumMap<>(outcomes.isEmpty() ? new EnumMap<>(Outcome.class) : outcomes));
        measures = Collections.unmodifiableMap(
                new EnumMap<>(measures.isEmpty() ? new EnumMap<>(Measure.class) : measures));
        rang = List.copyOf(rang);
    }

    public Direction direction() {
        return Direction.of(to - from);
    }

    /** A measure; what is not among {@link #measures} says so. */
    public Estimated get(Measure measure) {
        Estimated found = measures.get(measure);
        return found == null ? new Estimated.NotEstimated("not learned") : found;
    }

    /** {@code 3→4}. */
    public String name() {
        return from + "→" + to;
    }
}
