package org.shiftstand.bench;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.quantity.Dimension;

/**
 * An uncertainty that a rig description declares.
 *
 * @param what the sort of thing, such as {@code backlash}
 * @param of the readings that it makes uncertain, whose measures follow from them; empty where {@code measures} are named
 * @param measures keys of the measures that it makes uncertain as they are; empty where {@code of} is given
 * @param standard standard uncertainty in the base unit; a share where the nature is {@link Nature#SCALE}; above 0
 * @param freedom degrees of freedom, above 0; infinite where none are stated
 * @param from where the figure comes from, in words
 */
public record Declared(
        String what,
        Optional<Input> of,
        List<String> measures,
        double standard,
        Nature nature,
        double freedom,
        String from) {
    /** What it can be; the words are for tables, none is treated in its own way. */
    static final List<String> SORTS = List.of(
            "backlash", "calibration", "converter", "drift", "mounting", "reference", "temperature", "timing", "other");

    public Declared {
        measures = List.copyOf(measures);
    }

    /** A quantity that the rig reads. */
    public enum Input {
        ANGLE("angle", Dimension.ANGLE),
        TIME("time", Dimension.TIME),
        CURRENT("current", Dimension.CURRENT),
        SUPPLY("supply", Dimension.VOLTAGE);

        private final String word;
        private final Dimension dimension;

        Input(String word, Dimension dimension) {
            this.word = word;
            this.dimension = dimension;
        }

        /** As files write it. */
        public String word() {
            return word;
        }

        Dimension dimension() {
            return dimension;
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Input::word).toList();
        }

        static Optional<Input> of(String word) {
            return Arrays.stream(values()).filter(i -> i.word.equals(word)).findFirst();
        }
    }
}
