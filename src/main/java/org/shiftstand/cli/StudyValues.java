package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.bench.GaugeValue;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** Takes the values of a gauge study out of a measured run, and writes them as a table. */
final class StudyValues {
    private StudyValues() {}

    /**
     * What one run gave.
     *
     * @param values one a repeat, of those that are whole
     * @param missing why others are not, a sentence each
     */
    record OfRun(List<GaugeValue> values, List<String> missing) {}

    /** The mean over the shifts of each repeat; a repeat with a shift that was not measured gives none. */
    static OfRun of(ShiftTable table, StudyPlan plan, StudyPlan.Mounting mounting) {
        List<GaugeValue> values = new ArrayList<>();
        List<String> missing = new ArrayList<>();
        for (int repeat = 1; repeat <= plan.repeats(); repeat++) {
            int first = (repeat - 1) * plan.sweeps() + 1;
            int last = repeat * plan.sweeps();
            List<Shift> shifts = table.shifts().stream()
                    .filter(s -> s.cycle() >= first && s.cycle() <= last && wanted(s, plan))
                    .toList();
            List<Double> numbers = new ArrayList<>();
            List<String> gaps = new ArrayList<>();
            for (Shift shift : shifts) {
                Measured measured = shift.get(plan.measure());
                measured.number().ifPresent(numbers::add);
                if (shift.outcome() != Outcome.LANDED) { // its figures are of another place
                    gaps.add(
                            "shift " + shift.number() + " is " + shift.outcome().word());
                } else if (measured instanceof Measured.NotMeasured not) {
                    gaps.add("shift " + shift.number() + " is not measured: " + not.reason());
                }
            }
            if (gaps.isEmpty() && !numbers.isEmpty()) {
                values.add(new GaugeValue(
                        mounting.unit(),
                        String.valueOf(mounting.mount()),
                        String.valueOf(repeat),
                        numbers.stream().mapToDouble(Double::doubleValue).sum() / numbers.size(),
                        numbers.size()));
            } else {
                missing.add("unit " + mounting.unit() + ", mount " + mounting.mount() + ", repeat " + repeat + ": "
                        + (gaps.isEmpty()
                                ? "no shift of it has " + plan.measure().key()
                                : gaps.get(0) + (gaps.size() > 1 ? ", and " + (gaps.size() - 1) + " more" : "")));
            }
        }
        return new OfRun(values, missing);
    }

    private static boolean wanted(Shift shift, StudyPlan plan) {
        return plan.pair()
                .map(p -> p.from() == shift.from() && p.to() == shift.to())
                .orElse(true);
    }

    /** As {@code rig study --import} reads it. */
    static String csv(StudyPlan plan, List<GaugeValue> values) {
        var text = new StringBuilder("# Gauge study: " + plan.measure().key() + ", "
                + plan.measure().unit().symbol() + "; each value is the mean of so many shifts\n"
                + "unit,mount,repeat,value,shifts\n");
        for (GaugeValue v : values) {
            text.append(v.unit() + "," + v.mount() + "," + v.repeat() + "," + v.value() + "," + v.shifts() + "\n");
        }
        return text.toString();
    }
}
