package org.shiftstand.errors;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.cli.Cli;
import org.shiftstand.cli.Commands;

/**
 * What people get wrong most, really provoked through the command line, and what they are told: the whole text is kept in
 * {@code src/test/resources/errors/provoked.txt}, to be read as by a tired technician. {@code -Dgolden.rewrite=true} writes it.
 */
@Timeout(120)
class ProvokedErrorsTest {
    private static final Path KEPT = Path.of("src/test/resources/errors/provoked.txt");
    private static final String CAPTURE = "src/test/resources/captures/bench-a.csv.gz";

    @TempDir
    private Path folder;

    private final StringBuilder told = new StringBuilder();
    private final List<String> wrong = new ArrayList<>();

    private Path file(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    /** Types a command; {@code @name} is a file of the test's folder. */
    private void type(String line) {
        String[] words = line.split(" ");
        for (int i = 0; i < words.length; i++) {
            words[i] = words[i].startsWith("@")
                    ? folder.resolve(words[i].substring(1)).toString()
                    : words[i];
        }
        Cli.Result result = Commands.run(words);
        String err = result.err().replace(folder + "/", "").replace(folder.toString(), ".");
        told.append("$ shiftstand ").append(line.replace("@", "")).append('\n');
        told.append(err.strip()).append("\nexit ").append(result.exitCode()).append("\n\n");
        if (result.exitCode() != 2 && result.exitCode() != 4
                || !result.out().isEmpty()
                || err.isBlank()
                || err.replace("\n  ! ", "\n").matches("(?s).*(!|Exception|\\tat |org\\.shiftstand|\\u001b).*")) {
            wrong.add(line + "\n" + result.out() + err);
        }
    }

    private void files() throws IOException {
        file("empty.csv", "");
        file("header.csv", "time_s,hall_sine,hall_cos\n0,1,2\n");
        file("text.csv", "time_s,hall_sin,hall_cos\n0,1,2\n0.1,x,3\n0.2,1,2\n");
        file("comma.csv", "time_s;hall_sin;hall_cos\n0,0;1;2\n");
        file("back.csv", "time_s,hall_sin,hall_cos\n0,1,2\n0.2,1,3\n0.1,1,2\n0.3,1,2\n");
        file("still.csv", "time_s,hall_sin,hall_cos\n0,1,2\n0.1,1,2\n0.2,1,2\n");
        file("some.run", "no record");
        file("tab.spec.yaml", "spec: x\n\tversion: 1\n");
        file("wrong.spec.yaml", """
                spec: tarn
                version: 1
                clauses:
                  - id: ringing
                    measure: ringin
                    statistic: maximun
                    at-most: 20
                  - id: hold
                    measure: hold
                    statistik: every
                    at-least: 600 deg
                """);
        file(
                "none.spec.yaml",
                "spec: tarn\nversion: 1\nprofile: gone.profile.yaml\nclauses:\n"
                        + "  - { id: a, measure: ringing, statistic: maximum, at-most: 20 deg }\n");
        file("bad.profile.yaml", "profile: x\nversion: 1\nsprockets: 3\npositions: [0 deg, 700 deg]\n");
        file(
                "bad.procedure.yaml",
                "procedure: x\nversion: 1\nsample-rate: 512 Hz\nsteps:\n  - sweep: { from: 1, to: last }\n");
        file("bad.rig.yaml", "rig: x\ndrive: request\nguards: { current: 9 A }\n");
        file("mine.html", "mine");
        Files.createDirectories(folder.resolve("report"));
        file("report/report.html", "mine");
        file("plain", "");
    }

    @Test
    void each_is_told_what_was_wrong_and_what_to_do() throws IOException {
        files();
        String passive = " --spec passive-capture";
        String check = "check --procedure quick-look --spec tarn-drive-end-of-line --unit TD-0107 --out @out --rig ";

        type("judgge x");
        type("rig lits");
        type("histroy list");
        type("lint x");
        type("frobnicate");
        type("judge x --speck y");
        type("judge x --spec");
        type("--spec x judge");
        type("--spec x judge y");
        type("measure");
        type("measure x --band 2,5");
        type("demo --seed seven");
        type("history list --verdict psas");
        type("history list --from yesterday");
        type("measure x --sense revrsed");
        type("cassette tarn-drive --overtravel keptt --spacing evn");
        type("cassette tarn-drive --sprockets 1");
        type("init --sprockets many --name Mine @new");
        type("judge @none.csv" + passive);
        type("judge @empty.csv" + passive);
        type("judge @header.csv" + passive);
        type("judge @text.csv" + passive);
        type("judge @comma.csv" + passive);
        type("judge @back.csv" + passive);
        type("judge @still.csv" + passive);
        type("judge @some.run");
        type("judge @report" + passive);
        type("judge " + CAPTURE);
        type("judge " + CAPTURE + " --spec tarn-drve-end-of-line");
        type("judge " + CAPTURE + " --spec tarn-drive");
        type("judge " + CAPTURE + passive + " --report @report");
        type("judge " + CAPTURE + passive + " --unit ../up");
        type("measure " + CAPTURE + " --out @plain/shifts.csv");
        type("measure " + CAPTURE + " --column hall_sn=CH1");
        type("measure " + CAPTURE + " --profile @bad.profile.yaml");
        type("spec lint @tab.spec.yaml");
        type("spec lint @wrong.spec.yaml");
        type("spec lint @none.spec.yaml");
        type("spec lint tarn-drive-end-of-line --procedure @bad.procedure.yaml");
        type("spec lint tarn-drive-end-of-line --procedure end-of-lin");
        type("check --rig sim");
        type(check + "usb:3");
        type(check + "sim:sead=7");
        type(check + "sim:silent=true");
        type(check + "sim:protocol=9");
        type(check + "sim --rig-description @bad.rig.yaml");
        type(check + "sim --attended --unattended");
        type(check + "serial:/dev/null");
        type(check + "serial:/dev/tty-not-there --attended");
        type("check --resume @some.run --attended");
        type("rig study --import study-10x3x3 --repeats-spread rigs");
        type("compare a.run b.run --margin landing");
        type("import --dry-run @plain");
        type("archive @report --out @bag");
        type("verify @plain");
        type("key show @plain");
        type("history rebuild @gone");
        type("export --parquet @plain " + CAPTURE);

        if (Boolean.getBoolean("golden.rewrite")) {
            Files.writeString(KEPT, told.toString());
        }
        assertThat(wrong)
                .as("exit 2 or 4, nothing on standard output, no machinery")
                .isEmpty();
        assertThat(told.toString()).isEqualTo(Files.readString(KEPT));
    }
}
