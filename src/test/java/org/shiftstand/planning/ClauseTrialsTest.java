package org.shiftstand.planning;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Verdict;

class ClauseTrialsTest {
    private static final Spec SPEC =
            Laid.spec("measure: landing, statistic: standard-deviation, per: [sprocket, direction], at-most: 14 deg");
    private static final Clause CLAUSE = SPEC.clauses().get(0);
    private static final List<PlannedShift> PLAN = Laid.sweeps(24).plan(24);

    /** Judging the sound groups once and the faulty one anew saves work, not verdicts. */
    @Test
    void the_verdict_is_that_of_the_whole_table() {
        var trials = new ClauseTrials(SPEC, CLAUSE, Laid.TARN, SoundUnit.USUAL, PLAN, false);
        Fault fault = new Fault(Worsening.SPREAD, 1, 0.3, trials.none().place(), 24);
        var maker = new ShiftMaker(
                Laid.TARN, SoundUnit.USUAL, 20, EnumSet.of(CLAUSE.measure().orElseThrow()), Outcome.MISSED);
        EnumSet<Verdict> seen = EnumSet.noneOf(Verdict.class);

        for (int i = 0; i < 60; i++) {
            ShiftTable table = maker.make(ClauseTrials.placed(PLAN), Scores.of(5, i), 1, Optional.of(fault));
            Verdict whole = Evaluation.verdict(Evaluation.evaluate(SPEC, table, Optional.of(Laid.TARN), PLAN));
            seen.add(whole);

            assertThat(trials.verdict(fault, 5, i))
                    .as("repetition %d of seed 5", i)
                    .isEqualTo(whole);
        }
        assertThat(seen).as("both verdicts were met").contains(Verdict.PASS, Verdict.FAIL);
    }

    @Test
    void the_same_seed_gives_the_same_verdicts_and_another_gives_others() {
        var trials = new ClauseTrials(SPEC, CLAUSE, Laid.TARN, SoundUnit.USUAL, PLAN, false);
        Fault fault = new Fault(Worsening.SPREAD, 1, 0.3, trials.none().place(), 24);
        var again = new ClauseTrials(SPEC, CLAUSE, Laid.TARN, SoundUnit.USUAL, PLAN, false);

        assertThat(again.tally(fault, 7, 100)).isEqualTo(trials.tally(fault, 7, 100));
        assertThat(new ClauseTrials(SPEC, CLAUSE, Laid.TARN, SoundUnit.USUAL, PLAN, false).tally(fault, 8, 100))
                .isNotEqualTo(trials.tally(fault, 7, 100));
    }
}
