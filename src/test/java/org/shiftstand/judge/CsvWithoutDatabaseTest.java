package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.CsvOptions;

/** Start-up counts: judging a capture pays for no database, schema, template or framework class. */
class CsvWithoutDatabaseTest {
    @TempDir
    private Path folder;

    @Test
    void judging_a_csv_loads_only_what_it_needs() throws IOException, InterruptedException {
        Path loaded = folder.resolve("loaded.txt");

        Process process = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xlog:class+load:file=" + loaded,
                        "-cp",
                        System.getProperty("java.class.path"),
                        Alone.class.getName())
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve("said.txt").toFile())
                .start();

        assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue())
                .as(Files.readString(folder.resolve("said.txt")))
                .isZero();
        assertThat(Files.readString(loaded))
                .contains("org.shiftstand.judge.Judge ")
                .doesNotContain("org.sqlite")
                .doesNotContain("org.shiftstand.record.RunRecord")
                .doesNotContain("com.networknt")
                .doesNotContain("tools.jackson")
                .doesNotContain("org.thymeleaf")
                .doesNotContain("org.springframework");
    }

    /** The program of the other process. */
    static final class Alone {
        private Alone() {}

        public static void main(String[] args) {
            Path capture = Path.of("src/test/resources/captures/bench-a.csv.gz");
            try (JudgeInput input = JudgeInput.open(capture, CsvOptions.usual())) {
                JudgeCase assembled =
                        input.assemble(Named.spec("specs/passive-capture.spec.yaml"), JudgeOptions.defaults());
                Judge.judge(input.source(), assembled.spec(), assembled.profile(), assembled.options());
            }
        }
    }
}
