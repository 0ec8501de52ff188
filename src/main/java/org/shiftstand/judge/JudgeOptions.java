package org.shiftstand.judge;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.angle.Correction;
import org.shiftstand.shift.ShiftOptions;
import org.shiftstand.spec.PlannedShift;

/**
 * How a source is measured and judged, where it and the spec do not say. Immutable; built by {@code with…} from
 * {@link #defaults()}.
 *
 * @param shifts band, sense, first sprocket, stall current, mechanical limits of this very unit
 * @param bandSet whether the settle band was set by hand and goes before the spec's
 * @param calibration stored correction of the Hall pair; empty fits one from the source
 * @param plan what the script asked for; empty takes what a profile's cassette or the shifts seen let expect
 * @param unit id of the unit
 * @param identity further facts of the run in reading order
 * @param runEnd why the run ended early, where it did
 * @param limitsFrom where this unit's own mechanical limits come from, a sentence; empty where there are none
 * @param bench what is known of the bench, for uncertainty budgets
 * @param turnsPerCycle turns of the shaft in one electrical turn of the Hall pair; empty takes what the rig's
 *     description says, else 1
 */
public record JudgeOptions(
        ShiftOptions shifts,
        boolean bandSet,
        Optional<Correction> calibration,
        Optional<List<PlannedShift>> plan,
        Optional<String> unit,
        Map<String, String> identity,
        Optional<String> runEnd,
        Optional<String> limitsFrom,
        BenchFacts bench,
        OptionalDouble turnsPerCycle) {
    public JudgeOptions {
        plan = plan.map(List::copyOf);
        identity = Collections.unmodifiableMap(new LinkedHashMap<>(identity)); // keeps the reading order
    }

    /** Everything from the source, the spec and the profile. */
    public static JudgeOptions defaults() {
        return new JudgeOptions(
                ShiftOptions.defaults(),
                false,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Map.of(),
                Optional.empty(),
                Optional.empty(),
                BenchFacts.NONE,
                OptionalDouble.empty());
    }

    /** {@code forward} or {@code reversed}. */
    public JudgeOptions withSense(String word) {
        return with(shifts.withSense(word), bandSet);
    }

    /** Number of the outermost sprocket that the source shows. */
    public JudgeOptions withFirstSprocket(int number) {
        return with(shifts.withFirstSprocket(number), bandSet);
    }

    /** Settle band, degrees; goes before the spec's. */
    public JudgeOptions withBandDeg(double band) {
        return with(shifts.withBandDeg(band), true);
    }

    /** Current above which a shift that stops short has stalled, ampere. */
    public JudgeOptions withStallCurrentA(double ampere) {
        return with(shifts.withStallCurrentA(ampere), bandSet);
    }

    /**
     * Mechanical limits measured on this very unit, in the profile's frame; they go before the profile's.
     *
     * @param from where they come from, a sentence for the report
     */
    public JudgeOptions withLimits(OptionalDouble outboardDeg, OptionalDouble inboardDeg, String from) {
        return new JudgeOptions(
                shifts.withLimits(outboardDeg, inboardDeg),
                bandSet,
                calibration,
                plan,
                unit,
                identity,
                runEnd,
                Optional.of(from),
                bench,
                turnsPerCycle);
    }

    public JudgeOptions withCalibration(Correction stored) {
        return new JudgeOptions(
                shifts, bandSet, Optional.of(stored), plan, unit, identity, runEnd, limitsFrom, bench, turnsPerCycle);
    }

    public JudgeOptions withPlan(List<PlannedShift> planned) {
        return new JudgeOptions(
                shifts,
                bandSet,
                calibration,
                Optional.of(planned),
                unit,
                identity,
                runEnd,
                limitsFrom,
                bench,
                turnsPerCycle);
    }

    public JudgeOptions withUnit(String id) {
        return new JudgeOptions(
                shifts,
                bandSet,
                calibration,
                plan,
                Optional.of(id),
                identity,
                runEnd,
                limitsFrom,
                bench,
                turnsPerCycle);
    }

    public JudgeOptions withIdentity(Map<String, String> facts) {
        return new JudgeOptions(
                shifts, bandSet, calibration, plan, unit, facts, runEnd, limitsFrom, bench, turnsPerCycle);
    }

    /** The run ended before its script was done, for this reason. */
    public JudgeOptions withRunEnd(String reason) {
        return new JudgeOptions(
                shifts,
                bandSet,
                calibration,
                plan,
                unit,
                identity,
                Optional.of(reason),
                limitsFrom,
                bench,
                turnsPerCycle);
    }

    /** What is known of the bench, for uncertainty budgets. */
    public JudgeOptions withBench(BenchFacts facts) {
        return new JudgeOptions(
                shifts, bandSet, calibration, plan, unit, identity, runEnd, limitsFrom, facts, turnsPerCycle);
    }

    /** Of a magnet whose field goes round so often in one turn of the shaft, 1 or more; goes before the rig's description. */
    public JudgeOptions withPeriodsPerTurn(int periods) {
        if (periods < 1) {
            throw new IllegalArgumentException("a magnet has one period a turn or more: periods=" + periods);
        }
        return new JudgeOptions(
                shifts,
                bandSet,
                calibration,
                plan,
                unit,
                identity,
                runEnd,
                limitsFrom,
                bench,
                OptionalDouble.of(1.0 / periods));
    }

    private JudgeOptions with(ShiftOptions options, boolean band) {
        return new JudgeOptions(
                options, band, calibration, plan, unit, identity, runEnd, limitsFrom, bench, turnsPerCycle);
    }
}
