package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;

/** What a procedure is said to take is what it takes on a rig, within 10 %. */
class CourseOnARigTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @ParameterizedTest
    @ValueSource(
            strings = {
                "[ { sweep: { from: 1, to: last, and-back: true, times: 3, rest: 350 ms } } ]",
                "[ { sweep: { from: 1, to: last, and-back: true, times: 2 } }, { rest: 2 min } ]",
                "[ { random-walk: { shifts: 60, seed: 7, rest: 200 ms } } ]",
                "[ { visit: { sprockets: [5, 9, 4], times: 4, rest: 1 s } } ]",
                "[ { sweep: { from: 1, to: last } }, { supply: off }, { rest: 1 min }, { supply: 7.4 V }, { home: {} },"
                        + " { sweep: { from: 1, to: last, and-back: true, times: 2 } } ]"
            })
    void the_estimate_is_within_10_percent_of_a_simulated_run(String steps) {
        Procedure procedure = ProcedureReader.read(TextFile.of(
                "x.yaml",
                "procedure: x\nversion: 1\nsteps: [ { supply: 8.2 V }, { home: {} }, { repeat:" + " { times: 1, steps: "
                        + steps + " } } ]\n"));
        var plan = Plans.of(procedure, TARN);

        try (var link = new SimulatedLink(TARN, SimOptions.parse("seed=7"))) {
            assertThat(RigRunner.run(link, plan, header -> new MemoryWriter(), RunMonitor.SILENT, () -> false))
                    .isEqualTo(new RunEnd.Completed());

            double tookS = link.now() / 1e6;
            assertThat(Script.summary(procedure, TARN).estimatedS()).isCloseTo(tookS, withinPercentage(10));
        }
    }
}
