package org.shiftstand.report;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/**
 * The shift table as CSV: one row a shift, angles in degrees of output shaft, decimal point, empty where there is no
 * number.
 *
 * <p>Quoting as in RFC 4180; lines end with LF, not CRLF: every reader takes it, and the last column stays clean in line
 * tools. Text never starts a formula: a leading {@code =}, {@code +}, {@code -}, {@code @}, tab or CR gets an apostrophe
 * before it. Angles have four decimals, times six, all others four. Columns are only ever added, after the last.
 */
public final class ShiftCsv {
    private static final List<Measure> FIRST = List.of(
            Measure.REQUEST,
            Measure.MOTION_START,
            Measure.START,
            Measure.PLATEAU,
            Measure.LANDING,
            Measure.OVERTRAVEL,
            Measure.RINGING,
            Measure.HOLD,
            Measure.TRAVEL_TIME,
            Measure.SETTLED,
            Measure.SETTLE_TIME,
            Measure.EXTREME,
            Measure.CLEARANCE,
            Measure.CREEP,
            Measure.WAKE_UP_ERROR,
            Measure.PEAK_CURRENT,
            Measure.CHARGE);

    private ShiftCsv() {}

    /** Column names, in order. */
    public static List<String> columns() {
        List<String> names = new ArrayList<>(List.of("shift", "cycle", "from", "to", "direction", "outcome"));
        FIRST.forEach(measure -> names.add(measure.column()));
        names.add("notes");
        names.add(Measure.RETURN_RINGING.column());
        names.add(Measure.REST_HOLD.column());
        names.add("evidence");
        names.add(Measure.ENERGY.column());
        names.add(Measure.LANDING_ERROR.column());
        names.addAll(List.of("displaced", "step", "supply_v"));
        return names;
    }

    /** Writes header and rows. */
    public static void write(ShiftTable table, Appendable out) throws IOException {
        CsvCells.row(columns(), out);
        for (Shift shift : table.shifts()) {
            CsvCells.row(cells(shift), out);
        }
    }

    private static List<String> cells(Shift shift) {
        List<String> cells = new ArrayList<>();
        cells.add(String.valueOf(shift.number()));
        cells.add(String.valueOf(shift.cycle()));
        cells.add(String.valueOf(shift.from()));
        cells.add(String.valueOf(shift.to()));
        cells.add(shift.direction().word());
        cells.add(outcome(shift));
        FIRST.forEach(measure -> cells.add(number(shift, measure)));
        cells.add(CsvCells.text(notes(shift)));
        cells.add(number(shift, Measure.RETURN_RINGING));
        cells.add(number(shift, Measure.REST_HOLD));
        cells.add(shift.evidence().word());
        cells.add(number(shift, Measure.ENERGY));
        cells.add(number(shift, Measure.LANDING_ERROR));
        cells.add(shift.displaced() ? "yes" : "no");
        cells.add(CsvCells.text(shift.step().orElse("")));
        cells.add(fixed(shift.supplyV(), 3));
        return cells;
    }

    /** What the unit did; where that is not known, what is wrong with the evidence. */
    public static String outcome(Shift shift) {
        return shift.outcome() == Outcome.UNKNOWN
                ? shift.evidence().word()
                : shift.outcome().word();
    }

    /** Why a measure that should have a number has none; empty where it has one or none is due. */
    public static Optional<String> whyNot(Shift shift, Measure measure) {
        return shift.get(measure) instanceof Measured.NotMeasured missing
                ? Optional.of(missing.reason())
                : Optional.empty();
    }

    /** {@code column: reason} for each measure that should have a number and has none, then further remarks. */
    public static String notes(Shift shift) {
        List<String> notes = new ArrayList<>();
        for (Measure measure : Measure.values()) {
            whyNot(shift, measure).ifPresent(reason -> notes.add(measure.column() + ": " + reason));
        }
        notes.addAll(shift.notes());
        return String.join("; ", notes);
    }

    private static String number(Shift shift, Measure measure) {
        return fixed(shift.get(measure).number(), measure.unit() == Unit.S ? 6 : 4);
    }

    private static String fixed(OptionalDouble value, int decimals) {
        return value.isEmpty() ? "" : FixedDecimals.text(value.getAsDouble(), decimals);
    }
}
