package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** A shift made up for a test: landed, complete, and measured only where the test says so. Invented data. */
public final class MadeShift {
    private final Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
    private final List<String> notes = new ArrayList<>();
    private final int from;
    private final int to;
    private int cycle = 1;
    private Direction direction;
    private Outcome outcome = Outcome.LANDED;
    private Evidence evidence = Evidence.COMPLETE;
    private boolean displaced;
    private boolean sprocketsUnsure;
    private Optional<String> step = Optional.empty();
    private OptionalDouble supplyV = OptionalDouble.empty();

    private MadeShift(int from, int to) {
        this.from = from;
        this.to = to;
        this.direction = Direction.of(to - from);
        for (Measure measure : Measure.values()) {
            measures.put(measure, new Measured.NotApplicable());
        }
    }

    public static MadeShift shift(int from, int to) {
        return new MadeShift(from, to);
    }

    public MadeShift with(Measure measure, double value) {
        measures.put(measure, new Measured.Value(value));
        return this;
    }

    public MadeShift without(Measure measure, String reason) {
        measures.put(measure, new Measured.NotMeasured(reason));
        return this;
    }

    public MadeShift cycle(int cycle) {
        this.cycle = cycle;
        return this;
    }

    public MadeShift direction(Direction direction) {
        this.direction = direction;
        return this;
    }

    public MadeShift outcome(Outcome outcome) {
        this.outcome = outcome;
        return this;
    }

    public MadeShift unknown(Evidence evidence) {
        this.outcome = Outcome.UNKNOWN;
        this.evidence = evidence;
        return this;
    }

    public MadeShift displaced() {
        this.displaced = true;
        return this;
    }

    public MadeShift sprocketsUnsure() {
        this.sprocketsUnsure = true;
        return this;
    }

    public MadeShift step(String step) {
        this.step = Optional.of(step);
        return this;
    }

    public MadeShift supply(double volts) {
        this.supplyV = OptionalDouble.of(volts);
        return this;
    }

    public MadeShift note(String note) {
        notes.add(note);
        return this;
    }

    public Shift number(int number) {
        return new Shift(
                number,
                cycle,
                from,
                to,
                direction,
                outcome,
                evidence,
                displaced,
                sprocketsUnsure,
                step,
                supplyV,
                measures,
                notes);
    }

    /** A table of ten sprockets, numbered in this order, aligned to a profile. */
    public static ShiftTable table(List<MadeShift> shifts) {
        return table(shifts, OptionalInt.empty());
    }

    public static ShiftTable table(List<MadeShift> shifts, OptionalInt turnLostFrom) {
        List<Shift> numbered = new ArrayList<>();
        for (MadeShift shift : shifts) {
            numbered.add(shift.number(numbered.size() + 1));
        }
        return new ShiftTable(
                numbered,
                10,
                20,
                "forward",
                "profile",
                "aligned to profile tarn-drive",
                OptionalDouble.of(12.5),
                false,
                turnLostFrom,
                List.of());
    }
}
