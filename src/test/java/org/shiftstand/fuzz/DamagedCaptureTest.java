package org.shiftstand.fuzz;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.ShiftTable;

/** Damage to one place of a capture never changes what is measured elsewhere: the same numbers, or none, with a reason. */
@Timeout(value = 3600)
class DamagedCaptureTest {
    @TempDir
    private Path folder;

    @ParameterizedTest
    @CsvSource({"bench-a,true,30", "bench-a,false,15", "bench-b,true,30", "bench-c,true,20", "bench-d,true,15"})
    void damage_stays_where_it_is(String name, boolean known, int usual) {
        Bench bench = Bench.of(name, 2);
        Optional<Profile> profile = known ? Optional.of(bench.profile()) : Optional.empty();
        ShiftTable sound = table(bench, bench.rows(), profile);

        Fuzz.rounds("damage to " + name + (known ? "" : " without profile"), usual, random -> {
            List<String[]> rows = bench.copy();
            Damage damage = Damage.inflict(bench, rows, random);
            try {
                List<String> wrong = Untouched.compare(
                        bench.timeS(damage.from() - 1),
                        bench.timeS(damage.to()),
                        damage.kind().equals("clock jumps"),
                        sound,
                        table(bench, rows, profile));
                if (!wrong.isEmpty()) {
                    throw new AssertionError(damage.kind() + " from "
                            + String.format(
                                    Locale.ROOT,
                                    "%.3f s to %.3f s",
                                    bench.timeS(damage.from()),
                                    bench.timeS(damage.to()))
                            + ": " + wrong.size() + " "
                            + wrong.stream().limit(3).toList());
                }
                return "measured";
            } catch (BadInput e) {
                return "refused";
            }
        });
    }

    private ShiftTable table(Bench bench, List<String[]> rows, Optional<Profile> profile) {
        try (SampleSource source = CsvCapture.open(bench.write(rows, folder), CsvOptions.usual())) {
            return Measuring.measure(source, profile, JudgeOptions.defaults()).table();
        }
    }
}
