package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The same words and numbers whatever language, time zone and terminal the computer is set to; no colour anywhere. */
@Timeout(120)
class PlainEnglishTest {
    private static final String CAPTURE = "src/test/resources/captures/bench-a.csv.gz";

    private static List<String> outputs() {
        return List.of(
                        Commands.run("--help"),
                        Commands.run(),
                        Commands.run("rig", "simulate", "--help"),
                        Commands.run("cassette", "tarn-drive", "--json"),
                        Commands.run("cassette", "tarn-drive"),
                        Commands.run("measure", CAPTURE),
                        Commands.run("spec", "lint", "tarn-drive-end-of-line", "--procedure", "end-of-line"),
                        Commands.run("rig", "study", "--import", "study-10x3x3"),
                        Commands.run("rig", "LIST"),
                        Commands.run("judge", CAPTURE, "--spec", "TITLE-IN-CAPITALS"))
                .stream()
                .map(result -> result.out() + result.err())
                .toList();
    }

    @Test
    void a_language_with_other_letters_digits_and_decimal_marks_changes_nothing() {
        Locale usual = Locale.getDefault();
        try {
            Locale.setDefault(Locale.ROOT);
            List<String> plain = outputs();
            // Turkish lower-cases I to a dotless i, German has decimal commas, Arabic of Egypt digits of its own
            for (String tag : List.of("tr-TR", "de-DE", "ar-EG")) {
                Locale.setDefault(Locale.forLanguageTag(tag));
                assertThat(outputs()).as(tag).isEqualTo(plain);
            }
        } finally {
            Locale.setDefault(usual);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"ar", "tr"})
    void a_program_started_in_another_language_and_time_zone_says_the_same(String language) {
        Cli plain = Cli.in(Path.of("").toAbsolutePath()).java("-XX:TieredStopAtLevel=1");
        Cli other = plain.java("-Duser.language=" + language, "-Duser.region=EG", "-Dshiftstand.terminal=true")
                .environment("LC_ALL", language + "_EG.UTF-8")
                .environment("TZ", "Asia/Kathmandu")
                .environment("TERM", "xterm-256color");
        String[] judging = {"judge", CAPTURE, "--spec", "passive-capture", "--no-progress"};

        Cli.Result here = plain.run(judging);
        Cli.Result there = other.run(judging);

        assertThat(there.out()).isEqualTo(here.out()).isNotBlank();
        assertThat(there.err()).isEqualTo(here.err());
        assertThat(there.out() + there.err())
                .as("no escape code, on a terminal either")
                .doesNotContain("\u001b");
    }
}
