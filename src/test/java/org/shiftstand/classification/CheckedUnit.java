package org.shiftstand.classification;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judgement;
import org.shiftstand.judge.Named;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.RigRunner;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.rig.RunPlan;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedPlace;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;
import org.shiftstand.spec.Verdict;

/**
 * One unit, checked as {@code shiftstand check} does: driven by the end-of-line procedure over the simulated rig into a
 * record, and judged from that record by the end-of-line spec, all as shipped.
 *
 * @param rig the simulated rig's options: {@code --rig sim:} and this text repeat the unit
 * @param end why the run ended early; empty where the script was done
 * @param failed ids of the clauses that fail
 * @param undecided ids of the clauses without verdict
 */
record CheckedUnit(
        String rig,
        Truth truth,
        String end,
        Verdict verdict,
        String reason,
        List<String> failed,
        List<String> undecided) {
    private static final TextFile PROCEDURE_TEXT = Bundled.find("acceptance/end-of-line.yaml", Bundled.Kind.PROCEDURE);
    private static final TextFile SPEC_TEXT = Bundled.find("specs/tarn-drive-end-of-line.spec.yaml", Bundled.Kind.SPEC);
    private static final TextFile PROFILE_TEXT = Bundled.find("specs/tarn-drive.profile.yaml", Bundled.Kind.PROFILE);

    static final Procedure PROCEDURE = ProcedureReader.read(PROCEDURE_TEXT);
    static final Spec SPEC = SpecReader.read(SPEC_TEXT);
    static final Profile PROFILE = ProfileReader.read(PROFILE_TEXT);

    CheckedUnit {
        failed = List.copyOf(failed);
        undecided = List.copyOf(undecided);
    }

    /** @param folder is there and holds no record yet; is left as it was found */
    static CheckedUnit check(String rig, Path folder) throws IOException {
        Path record = folder.resolve("unit.run");
        SimulatedPlace place = new SimulatedPlace(PROFILE, SimOptions.parse(rig));
        RunEnd end = RigRunner.run(
                place,
                plan(),
                Optional.empty(),
                header -> SqliteRunWriter.create(record, header),
                RunMonitor.SILENT,
                GoAhead.NOBODY,
                () -> false);
        Truth truth = TruthJudge.judge(SPEC, PROFILE, place.truth().shifts());
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            JudgeCase judgeCase = input.assemble(Named.nothing(), JudgeOptions.defaults());
            Judgement judgement = Judge.judge(
                            input.source(), judgeCase.spec(), judgeCase.profile(), judgeCase.options())
                    .judgement();
            return new CheckedUnit(
                    rig,
                    truth,
                    end.reason(),
                    judgement.verdict(),
                    judgement.reason(),
                    clauses(judgement, Verdict.FAIL),
                    clauses(judgement, Verdict.NO_VERDICT));
        } finally {
            Files.deleteIfExists(record);
        }
    }

    private static List<String> clauses(Judgement judgement, Verdict verdict) {
        return judgement.clauses().stream()
                .filter(clause -> clause.verdict() == verdict)
                .map(ClauseResult::clause)
                .map(clause -> clause.id())
                .toList();
    }

    private static RunPlan plan() {
        return new RunPlan(
                "TD-0400",
                Script.layOut(PROCEDURE, PROFILE),
                PROCEDURE,
                Optional.of(PROFILE),
                RunPlan.SIMULATED_GUARDS,
                SPEC.stallCurrentA(),
                OptionalDouble.empty(),
                Map.of(),
                Map.of("procedure", PROCEDURE_TEXT.text(), "spec", SPEC_TEXT.text(), "profile", PROFILE_TEXT.text()),
                Map.of(
                        "procedure", "end-of-line.yaml",
                        "spec", "tarn-drive-end-of-line.spec.yaml",
                        "profile", "tarn-drive.profile.yaml"),
                true);
    }

    /** For messages: what to run again and what came out. */
    String words() {
        return "sim:" + rig + " is " + truth.state() + " (" + truth.worst() + "), verdict " + verdict + ": " + reason;
    }
}
