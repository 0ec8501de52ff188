package org.shiftstand.classification;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.spec.Verdict;

/**
 * Good units of which much was lost or read wrongly: each was once accused of what only the samples lacked. Lost evidence is
 * no verdict, and never a fail.
 */
class DamagedEvidenceTest {
    @TempDir
    private Path folder;

    @ParameterizedTest
    @ValueSource(
            strings = {
                // the landing lies in what is missing before the next request: taken for interrupted
                "seed=13502,fault=lost-frames,amount=4,pair=6-7",
                // a whole motion of two turns is missing: its two rests looked like one
                "seed=13503,fault=lost-frames,amount=4,rate=0.029",
                // missing on the way back from a plateau
                "seed=51300001,fault=sensor-dropout,amount=36,direction=inboard",
                // asked while nothing could be read: the beginning was forgotten
                "seed=51300002,fault=sensor-dropout,amount=23,direction=outboard",
                // the sensors woke while samples were lost: the plateau was taken for the start
                "seed=1400020,fault=lost-frames,amount=5",
                // a short stretch was laid onto the next sprocket, two turns off
                "seed=1400007,fault=lost-frames,amount=3,direction=outboard,rate=0.281",
                "seed=1400024,fault=lost-frames,amount=2,rate=0.381",
                // guessed ways of damaged shifts decided which way is inboard
                "seed=1400029,fault=lost-frames,amount=5,rate=0.807"
            })
    void is_no_verdict(String rig) throws IOException {
        CheckedUnit unit = CheckedUnit.check(rig, folder);

        assertThat(unit.truth().state()).as(unit.words()).isEqualTo(Truth.State.GOOD);
        assertThat(unit.verdict()).as(unit.words()).isEqualTo(Verdict.NO_VERDICT);
        assertThat(unit.failed()).as(unit.words()).isEmpty();
    }
}
