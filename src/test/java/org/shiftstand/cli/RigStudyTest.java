package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;

class RigStudyTest {
    @TempDir
    Path folder;

    /** AIAG Measurement Systems Analysis, worked example: 26.68 % and 5 by ranges, 27.86 % and 4 by ANOVA. */
    @Test
    void the_packed_study_gives_what_was_published() {
        Cli.Result result = Commands.run("rig", "study", "--import", "study-10x3x3.csv");

        assertThat(result.exitCode()).isEqualTo(0);
        assertThat(result.out())
                .contains("10 units, 3 mounts, 3 repeats")
                .containsPattern("gauge, all of these .* 27\\.86 % .* 26\\.68 %")
                .contains("pooled with the repeats")
                .contains("Distinct categories        4 by ANOVA, 5 by ranges");
    }

    @Test
    void a_clause_is_told_whether_the_rig_can_judge_it() throws Exception {
        Cli.Result result = Commands.run(
                "rig",
                "study",
                "--import",
                landings(0.02),
                "--measure",
                "overtravel",
                "--spec",
                "tarn-drive-end-of-line");

        assertThat(result.exitCode()).as(result.err()).isEqualTo(0);
        assertThat(result.out())
                .contains("can up to 10 %, marginal up to 30 % (common practice)")
                .contains(" %, can");
    }

    @Test
    void a_kept_study_is_read_with_the_description() throws Exception {
        Path kept = folder.resolve("kept.rig.yaml");

        Cli.Result result = Commands.run(
                "rig",
                "study",
                "--import",
                landings(0.5),
                "--measure",
                "landing-error",
                "--shifts",
                "9",
                "--rig-description",
                "bench-two",
                "--keep",
                kept.toString());

        assertThat(result.exitCode()).as(result.err()).isEqualTo(0);
        RigDescription rig = RigDescriptionReader.find(kept.toString());
        assertThat(rig.name()).isEqualTo("bench-two");
        assertThat(rig.studies()).hasSize(1);
        assertThat(rig.studies().get(0).measure()).isEqualTo("landing-error");
        assertThat(rig.studies().get(0).repeatability()).isBetween(0.3, 0.8);
        assertThat(rig.studies().get(0).repeatabilityOfOneShift())
                .isEqualTo(3 * rig.studies().get(0).repeatability());
    }

    @Test
    void nothing_is_overwritten() throws Exception {
        Path kept = Files.writeString(folder.resolve("kept.rig.yaml"), "mine");

        Cli.Result result = Commands.run(
                "rig",
                "study",
                "--import",
                landings(0.5),
                "--measure",
                "landing-error",
                "--rig-description",
                "bench-two",
                "--keep",
                kept.toString());

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(kept).hasContent("mine");
    }

    @Test
    void everything_wrong_in_a_table_is_told_by_its_line() throws Exception {
        Path file = Files.writeString(
                folder.resolve("x.csv"), "unit,mount,repeat,value\n1,A,1,2.5\n1,A,1,2.5\n1,A,2,two\n");

        Cli.Result result = Commands.run("rig", "study", "--import", file.toString());

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err())
                .contains(file + ":3: gives unit 1, mount A, repeat 1 a second time; expected each once")
                .contains(file + ":4: value is 'two'; expected a number such as 12.5");
    }

    /** Six units 5 deg apart, three mounts 1.5 times the spread of the repeats apart; seed 11. */
    private String landings(double repeatDeg) throws Exception {
        var random = new SplittableRandom(11);
        double[] mounts = random.doubles(3)
                .map(x -> 1.5 * repeatDeg * random.nextGaussian())
                .toArray();
        StringBuilder text = new StringBuilder("unit,mount,repeat,value\n");
        for (int unit = 0; unit < 6; unit++) {
            for (int mount = 0; mount < 3; mount++) {
                for (int repeat = 0; repeat < 4; repeat++) {
                    text.append(String.format(
                            Locale.ROOT,
                            "TD-%d,%d,%d,%.6f%n",
                            unit,
                            mount,
                            repeat,
                            5 * unit + mounts[mount] + repeatDeg * random.nextGaussian()));
                }
            }
        }
        return Files.writeString(folder.resolve("landings.csv"), text.toString())
                .toString();
    }
}
