package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;

class ProbeTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @Test
    void look() {
        var link = new SimulatedLink(TARN, SimOptions.parse("seed=7,estop-at=9"));
        ProbeEnd end = Probe.run(
                link,
                new ProbePlan("TD-0107", Optional.empty(), TARN.holdS(), true, "test"),
                new ProbeMonitor() {
                    @Override
                    public void phase(String t) {
                        System.err.println(link.now() / 1e6 + " " + t);
                    }

                    @Override
                    public void ask(String t) {
                        System.err.println(link.now() / 1e6 + " " + t);
                    }
                },
                () -> false);
        System.err.println(link.now() / 1e6 + " " + end.end());
        System.err.println(end.report().orElseThrow().toYaml());
        link.supplyLog().forEach(System.err::println);
        System.err.println(link.truth()
                .toJson()
                .lines()
                .filter(l -> l.contains("interrupted"))
                .toList());
        assertThat(end.end()).isEqualTo(new RunEnd.Completed());
    }
}
