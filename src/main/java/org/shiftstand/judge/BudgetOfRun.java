package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.angle.Correction;
import org.shiftstand.bench.Budget;
import org.shiftstand.bench.Budgets;
import org.shiftstand.bench.Contribution;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.bench.Declared;
import org.shiftstand.bench.Declared.Input;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescription.Calibration;
import org.shiftstand.bench.StudyResult;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.ShiftTable;

/**
 * The uncertainty budgets of a run: what its samples tell of themselves, what the rig description declares, and what gauge
 * studies found.
 *
 * <p>A measure has a budget only where all that rules it is known: none without a rig description; none for currents without
 * a declared or calibrated current; none for times where no shift tells how fast the band's edge is crossed.
 */
public final class BudgetOfRun {
    private final RigDescription rig;
    private final Sensitivity sensitivity;
    private final double farthestDeg;
    private final Map<Measure, List<Contribution>> lines = new EnumMap<>(Measure.class);

    private BudgetOfRun(RigDescription rig, Sensitivity sensitivity, double farthestDeg) {
        this.farthestDeg = farthestDeg;
        this.rig = rig;
        this.sensitivity = sensitivity;
        for (Measure measure : Measure.values()) {
            lines.put(measure, new ArrayList<>());
        }
    }

    /**
     * Puts the budgets together.
     *
     * @param source the samples, of which the interval and the sort of requests count
     * @return empty without a rig description
     */
    public static Optional<Budgets> of(BenchFacts facts, Correction correction, SampleSource source, ShiftTable table) {
        return facts.rig().map(rig -> {
            TypicalShift typical = TypicalShift.of(table);
            Sensitivity sensitivity = new Sensitivity(typical);
            var budget = new BudgetOfRun(rig, sensitivity, typical.farthestDeg());
            new OwnReadings(rig, correction, source, table, typical, sensitivity).forEach(budget::add);
            budget.calibrations();
            budget.declared();
            budget.limits(facts.limitSpreadDeg());
            rig.studies().forEach(budget::study);
            return budget.budgets();
        });
    }

    private void add(Measure measure, Contribution line) {
        if (line.standardUncertainty() > 0) {
            lines.computeIfAbsent(measure, m -> new ArrayList<>()).add(line);
        }
    }

    private void calibrations() {
        for (Calibration c : rig.calibrations()) {
            Optional<Input> of = switch (c.what()) {
                case "angle" -> Optional.of(Input.ANGLE);
                case "time" -> Optional.of(Input.TIME);
                case "current" -> Optional.of(Input.CURRENT);
                case "supply" -> Optional.of(Input.SUPPLY);
                default -> Optional.empty(); // a temperature is no measure of a shift
            };
            // an instant that is off by the same in all shifts would cancel; what a calibration leaves need not be that
            Nature nature = of.equals(Optional.of(Input.TIME)) ? Nature.EACH : Nature.COMMON;
            of.ifPresent(input -> spread(
                    new Contribution(
                            "calibration of " + c.what(),
                            c.uncertainty().base(),
                            nature,
                            Double.POSITIVE_INFINITY,
                            "calibration of " + c.on() + ", rig description"),
                    input));
        }
    }

    private void declared() {
        for (Declared d : rig.uncertainties()) {
            String name = d.what() + d.of().map(i -> " (" + i.word() + ")").orElse("");
            var line = new Contribution(name, d.standard(), d.nature(), d.freedom(), d.from() + ", rig description");
            d.of().ifPresent(input -> spread(line, input));
            for (Measure measure : Measure.values()) {
                if (d.measures().contains(measure.key())) {
                    add(measure, line);
                }
            }
        }
    }

    /** Adds an uncertain reading to every measure that it has a part in. */
    private void spread(Contribution line, Input input) {
        for (Measure measure : Measure.values()) {
            sensitivity
                    .of(input, line.nature(), measure)
                    .ifPresent(factor -> add(measure, ofWholeAngle(line.times(factor), input, measure)));
        }
    }

    /**
     * A landing error and a clearance are small, but the angle that they come from is not: a share of an angle reading is that
     * share of the whole angle, the same for all shifts of a sprocket.
     */
    private Contribution ofWholeAngle(Contribution line, Input input, Measure measure) {
        boolean fromAngle = measure == Measure.LANDING_ERROR || measure == Measure.CLEARANCE;
        return input == Input.ANGLE && line.nature() == Nature.SCALE && fromAngle
                ? new Contribution(
                        line.name(),
                        line.standardUncertainty() * farthestDeg,
                        Nature.COMMON,
                        line.degreesOfFreedom(),
                        line.source() + ", at the farthest landing")
                : line;
    }

    /** Three touches: from their range the sd of one by d2*, of their mean by √3. */
    private void limits(OptionalDouble spreadDeg) {
        if (spreadDeg.isPresent()) {
            add(
                    Measure.CLEARANCE,
                    new Contribution(
                            "mechanical limits",
                            spreadDeg.getAsDouble() / OwnReadings.RANGE_OF_THREE / Math.sqrt(3),
                            Nature.COMMON,
                            2,
                            "spread of the touches, limits file"));
        }
    }

    /** Repeats hold whatever differs from shift to shift: what was derived of that is not counted again. */
    private void study(StudyResult study) {
        for (Measure measure : Measure.values()) {
            if (!measure.key().equals(study.measure())) {
                continue;
            }
            if (study.repeatabilityUsed()) {
                lines.computeIfAbsent(measure, m -> new ArrayList<>())
                        .removeIf(l -> l.nature() == Nature.EACH && l.source().startsWith(OwnReadings.FROM_RUN));
                add(
                        measure,
                        new Contribution(
                                "repeatability",
                                study.repeatabilityOfOneShift(),
                                Nature.EACH,
                                study.repeatabilityFreedom(),
                                study.source()));
            }
            add(
                    measure,
                    new Contribution(
                            "reproducibility",
                            study.reproducibility(),
                            Nature.COMMON,
                            study.reproducibilityFreedom(),
                            study.source()));
        }
    }

    private Budgets budgets() {
        Map<String, Budget> byMeasure = new LinkedHashMap<>();
        for (Measure measure : Measure.values()) {
            List<Contribution> of = lines.getOrDefault(measure, List.of());
            if (measure.judged() && !of.isEmpty() && known(measure)) {
                byMeasure.put(measure.key(), new Budget(measure.key(), of));
            }
        }
        return new Budgets(byMeasure);
    }

    /** Whether what rules a measure is known: resolution alone is no budget of a current. */
    private boolean known(Measure measure) {
        boolean study = rig.studies().stream().anyMatch(s -> s.measure().equals(measure.key()));
        return study
                || switch (measure) {
                    case HOLD, REST_HOLD, TRAVEL_TIME, SETTLE_TIME -> sensitivity.slowness(measure) > 0;
                    case PEAK_CURRENT, CHARGE -> told(Input.CURRENT, measure);
                    case ENERGY -> told(Input.CURRENT, measure) && told(Input.SUPPLY, measure);
                    default -> true;
                };
    }

    private boolean told(Input input, Measure measure) {
        return rig.calibrations().stream().anyMatch(c -> c.what().equals(input.word()))
                || rig.uncertainties().stream()
                        .anyMatch(d -> d.of().equals(Optional.of(input))
                                || d.measures().contains(measure.key()));
    }
}
