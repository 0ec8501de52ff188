package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;

class LimitsSearchTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @Test
    void look() {
        var link = new SimulatedLink(TARN, SimOptions.parse("seed=7,drive=direct"));
        double stood = link.rig().unit().angleDeg();
        LimitsEnd end = LimitsSearch.run(
                link,
                new LimitsPlan(
                        "TD-0107", TARN, 1, Optional.empty(), 0.6, 7.4, Optional.empty(), LocalDate.of(2026, 1, 1)),
                new RunMonitor() {
                    @Override
                    public void notice(String t) {
                        System.err.println(link.now() / 1e6 + " " + t + " "
                                + link.rig().unit().angleDeg());
                    }
                },
                () -> false);
        System.err.println(stood + " " + link.now() / 1e6 + " " + end);
        end.found().ifPresent(f -> System.err.println(f.limits().toYaml()));
        assertThat(end.end()).isEqualTo(new RunEnd.Completed());
    }
}
