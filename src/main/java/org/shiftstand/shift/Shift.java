package org.shiftstand.shift;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;

/**
 * One request and everything until the shaft rests again, measured.
 *
 * @param number 1-based, in time order
 * @param cycle cycle of the script, or counted from departures from the outermost sprocket; 0 for a shift that was broken off
 *     with the run: no clause is about it
 * @param from sprocket it left, 1…N
 * @param to sprocket asked for, or landed on where no target is known; {@code from} for a shift that does not move
 * @param direction of the request
 * @param displaced whether it did not start on its {@code from}
 * @param sprocketsUnsure whether {@code from} and {@code to} were only counted, in a stretch behind or before damaged samples whose
 *     place among the sprockets could not be told: it belongs to no group by sprockets
 * @param step label of the procedure step, where known
 * @param supplyV supply set by the procedure, where known
 * @param measures every measure there is; each {@link Measure} has an entry
 * @param notes further remarks, such as other rests seen; without the reasons of what is not measured
 */
public record Shift(
        int number,
        int cycle,
        int from,
        int to,
        Direction direction,
        Outcome outcome,
        Evidence evidence,
        boolean displaced,
        boolean sprocketsUnsure,
        Optional<String> step,
        OptionalDouble supplyV,
        Map<Measure, Measured> measures,
        List<String> notes) {
    /** Why such a shift counts as not measured where sprockets matter. */
    public static final String SPROCKETS_UNSURE = "turn lost: which sprockets it went between is not known";

    public Shift {
        if (measures.size() != Measure.values().length) {
            throw new IllegalArgumentException("every measure needs an entry: entries=" + measures.size());
        }
        measures = PackedMeasures.of(measures);
        notes = List.copyOf(notes);
    }

    /** Whether its values may stand beside those of other shifts between its sprockets: it started there, and they are known. */
    public boolean inPlace() {
        return !displaced && !sprocketsUnsure;
    }

    /** One measure: a number, the reason why there is none, or not applicable. */
    public Measured get(Measure measure) {
        return java.util.Objects.requireNonNull(measures.get(measure));
    }
}
