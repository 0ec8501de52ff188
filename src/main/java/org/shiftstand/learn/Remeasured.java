package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/**
 * A source that was learned from, measured again by the learned profile: aligned to it, so that landing errors exist.
 *
 * @param table its cycles are those that were learned by, so that the shifts held back are the same
 */
public record Remeasured(String name, String unit, ShiftTable table) {
    /**
     * Measures again.
     *
     * @param source read again; stays open
     * @param first how it was measured to be learned from
     * @param learned what became of it
     * @param profile the learned one
     * @param options as for the first measuring
     */
    public static Remeasured of(
            SampleSource source, LearningInput first, LearnedSource learned, Profile profile, JudgeOptions options) {
        ShiftTable before = first.measured().table();
        ShiftTable after = Measuring.measure(
                        source,
                        Optional.of(profile),
                        options.withSense(before.sense()).withFirstSprocket(learned.firstSprocket()))
                .table();
        return new Remeasured(learned.name(), learned.unit(), withCyclesOf(before, after));
    }

    /** With a profile cycles could be counted from another sprocket, and what was learned from would be held back. */
    private static ShiftTable withCyclesOf(ShiftTable before, ShiftTable after) {
        if (before.shifts().size() != after.shifts().size()) {
            return after;
        }
        List<Shift> shifts = new ArrayList<>();
        for (int i = 0; i < after.shifts().size(); i++) {
            shifts.add(cycle(after.shifts().get(i), before.shifts().get(i).cycle()));
        }
        return after.withShifts(shifts);
    }

    private static Shift cycle(Shift s, int cycle) {
        return new Shift(
                s.number(),
                cycle,
                s.from(),
                s.to(),
                s.direction(),
                s.outcome(),
                s.evidence(),
                s.displaced(),
                s.sprocketsUnsure(),
                s.step(),
                s.supplyV(),
                s.measures(),
                s.notes());
    }

    /** Good shifts that may be learned from. */
    List<Shift> learning() {
        return table.shifts().stream()
                .filter(s -> s.cycle() > 0 && !SeenShift.heldBack(s) && s.inPlace())
                .filter(s -> s.outcome() == Outcome.LANDED && s.from() != s.to())
                .toList();
    }

    /** The table of the shifts that are kept for proving alone, good or not. */
    ShiftTable heldBack() {
        return table.withShifts(
                table.shifts().stream().filter(SeenShift::heldBack).toList());
    }
}
