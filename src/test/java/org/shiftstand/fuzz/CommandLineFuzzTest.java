package org.shiftstand.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.cli.Cli;
import org.shiftstand.cli.Commands;

/** Command lines that nobody meant: an answer in words and an exit code that is said, never a stack trace. */
@Timeout(3600)
class CommandLineFuzzTest {
    @TempDir
    private Path folder;

    private List<List<String>> sound = List.of();
    private List<String> words = List.of();

    @BeforeEach
    void files() throws IOException {
        Bench bench = Bench.of("bench-a", 1);
        Path capture =
                Files.write(folder.resolve("a.csv"), bench.csv(bench.rows().subList(0, 3000)));
        Path procedure = Files.writeString(folder.resolve("few.yaml"), """
                procedure: few
                version: 1
                sample-rate: 512 Hz
                steps:
                  - supply: 8.2 V
                  - visit: { sprockets: [1, 2, 1], times: 1, rest: 100 ms }
                """);
        String out = folder.resolve("out").toString();
        sound = List.of(
                List.of("measure", capture.toString(), "--sense", "forward", "--json"),
                List.of("judge", capture.toString(), "--spec", "passive-capture", "--json"),
                List.of("spec", "lint", "tarn-drive-end-of-line", "--procedure", "end-of-line"),
                List.of(
                        "check",
                        "--rig",
                        "sim:seed=7",
                        "--procedure",
                        procedure.toString(),
                        "--spec",
                        "tarn-drive-end-of-line",
                        "--unit",
                        "TD-0107",
                        "--out",
                        out));
        // nothing here that runs for ever, or that writes elsewhere than into the folder
        words = List.of(
                "--spec",
                "--profile",
                "--json",
                "--sense",
                "sideways",
                "--first-sprocket",
                "-1",
                "0",
                "99999999999999999999",
                "NaN",
                "",
                " ",
                "--",
                "-",
                "--help",
                "--version",
                "--rig",
                "sim:",
                "sim:seed=",
                "sim:fault=jam,rate=2",
                "serial:",
                "serial:/dev/null",
                "--unit",
                "..",
                "a/b",
                "=cmd()",
                "--attended",
                "--unattended",
                "--auto-restart",
                "--confirm",
                "fused-supply,nothing",
                "--resume",
                "--limits",
                capture.toString(),
                procedure.toString(),
                folder.toString(),
                folder.resolve("none").toString(),
                "--column",
                "hall_sin=CH1",
                "=",
                "--settle-band",
                "20 deg",
                "20",
                "\u0000",
                "\u202E",
                "\uD83D\uDE00",
                "x".repeat(5000));
    }

    @Test
    void changed_words() {
        Fuzz.rounds("command lines", 60, random -> {
            List<String> line = changed(sound.get(random.nextInt(sound.size())), random);
            Cli.Result result = Commands.run(line.toArray(String[]::new));
            String said = line + " gave " + result.exitCode() + ": " + result.err();
            assertThat(result.exitCode()).as(said).isIn(0, 1, 2, 3, 4);
            assertThat(result.err() + result.out()).as(said).doesNotContain("\tat ", "Exception");
            if (result.exitCode() == 2 || result.exitCode() == 4) {
                assertThat(result.err() + result.out()).as(said).isNotBlank();
            }
            return "exit code " + result.exitCode();
        });
    }

    private List<String> changed(List<String> line, Random random) {
        List<String> changed = new ArrayList<>(line);
        int n = 1 + random.nextInt(3);
        for (int i = 0; i < n; i++) {
            int at = random.nextInt(changed.size());
            String word = words.get(random.nextInt(words.size()));
            switch (random.nextInt(6)) {
                case 0 -> changed.remove(at);
                case 1 -> changed.add(at, changed.get(at));
                case 2 -> changed.add(at, word);
                case 3 -> changed.set(at, word);
                case 4 -> {
                    int other = random.nextInt(changed.size());
                    String kept = changed.get(at);
                    changed.set(at, changed.get(other));
                    changed.set(other, kept);
                }
                default -> {
                    if (!changed.get(at).contains("/")) { // a changed path would be somewhere else
                        byte[] bytes = changed.get(at).getBytes(StandardCharsets.UTF_8);
                        changed.set(at, new String(Bytes.mutated(bytes, random, words), StandardCharsets.UTF_8));
                    }
                }
            }
            if (changed.isEmpty()) {
                changed.add(word);
            }
        }
        return staysHere(changed) ? changed : line;
    }

    /** Whatever is written goes into the folder of this test. */
    private boolean staysHere(List<String> line) {
        int out = line.indexOf("--out");
        boolean there = out >= 0
                && out + 1 < line.size()
                && line.get(out + 1).equals(folder.resolve("out").toString());
        return (there || !line.contains("check"))
                && line.stream().allMatch(word -> !word.startsWith("/") || word.startsWith(folder.toString()));
    }
}
