package org.shiftstand.planning;

import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Plan;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Script;
import org.shiftstand.procedure.Step;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/** Specs of one clause and procedures of so many sweeps, for tests. */
final class Laid {
    static final Profile TARN = ProfileReader.find("tarn-drive");

    private Laid() {}

    static Spec spec(String... clauses) {
        StringBuilder text = new StringBuilder("spec: x\nversion: 1\nclauses:\n");
        for (int i = 0; i < clauses.length; i++) {
            text.append("  - { id: c")
                    .append(i + 1)
                    .append(", ")
                    .append(clauses[i])
                    .append(" }\n");
        }
        return SpecReader.read(TextFile.of("x", text.toString()));
    }

    /** Sweeps of the whole cassette and back. */
    static Schedule sweeps(int times) {
        return schedule(new Step.Sweep(1, OptionalInt.empty(), true, times, 0.35));
    }

    static Schedule schedule(Step... steps) {
        List<Step> all = new java.util.ArrayList<>(List.of(new Step.Supply(8.2), new Step.Home()));
        all.addAll(List.of(steps));
        var procedure = new Procedure("p", 1, 512, all, Procedure.StopWhen.NOTHING, "");
        List<Action> actions = Script.layOut(procedure, TARN);
        return Schedule.of(actions, Plan.of(actions), TARN);
    }

    static Assumptions repeated(int repetitions, long seed) {
        return new Assumptions(SoundUnit.USUAL, false, repetitions, seed, OptionalDouble.empty());
    }

    static ClauseExplanation explained(String clause, int cycles, Assumptions given) {
        return Explainer.explain(spec(clause), TARN, sweeps(cycles), true, given)
                .clauses()
                .get(0);
    }
}
