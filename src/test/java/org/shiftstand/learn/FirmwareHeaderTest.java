package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

class FirmwareHeaderTest {
    private static final String UNKNOWN = String.valueOf(Integer.MIN_VALUE);

    private static MadeLearned withGaps() {
        return MadeLearned.four()
                .row(3, 4, MadeLearned.gap("no shift from 3 to 4 was seen"))
                .row(4, 3, MadeLearned.irregular(200));
    }

    static Stream<MadeLearned> drives() {
        return Stream.of(
                MadeLearned.four(),
                withGaps(),
                MadeLearned.four().source("*/ int evil; /*??/\\").options(LearnOptions.of("7-speed.drive")),
                MadeLearned.four()
                        .hold(new Dwell(
                                12.5, MadeLearned.estimate(0.7, 0.01), Dwell.Common.DIFFERENT, 0.01, List.of("1→2"))));
    }

    private static String header(MadeLearned made, FixedPoint fixed) {
        return FirmwareHeader.of(made.learned(), fixed).whole().orElseThrow();
    }

    private static Profile profile(MadeLearned made) {
        return ProfileReader.read(TextFile.of(
                "made.profile.yaml", ProfileText.of(made.learned()).whole().orElseThrow()));
    }

    /** What must stand in the header for an angle of the profile. */
    private static String expected(double deg, int unitsPerTurn) {
        return Double.isNaN(deg) ? UNKNOWN : String.valueOf((long) Math.rint(deg * unitsPerTurn / 360));
    }

    private static List<String> expected(Profile profile, int unitsPerTurn) {
        List<String> numbers = new ArrayList<>();
        profile.positionsDeg().forEach(deg -> numbers.add(expected(deg, unitsPerTurn)));
        profile.overtravelInboardDeg().forEach(deg -> numbers.add(expected(deg, unitsPerTurn)));
        profile.overtravelOutboardDeg().forEach(deg -> numbers.add(expected(deg, unitsPerTurn)));
        numbers.add(String.valueOf((long) Math.rint(profile.holdS().orElseThrow() * 1000)));
        return numbers;
    }

    /** Read from the text, without a compiler: comments taken out, entries of each array in their order. */
    private static List<String> parsed(String header) {
        String code = header.replaceAll("(?s)/\\*.*?\\*/", "");
        List<String> numbers = new ArrayList<>();
        Matcher array =
                Pattern.compile("TABLE int32_t \\w+\\[\\w+] = \\{([^}]*)}").matcher(code);
        while (array.find()) {
            for (String entry : array.group(1).split(",")) {
                if (!entry.isBlank()) {
                    numbers.add(entry.strip().endsWith("_UNKNOWN") ? UNKNOWN : entry.strip());
                }
            }
        }
        Matcher dwell = Pattern.compile("_DWELL_AFTER_ARRIVAL_WITHIN_[0-9_]+_DEG_MS ([0-9]+)u")
                .matcher(code);
        assertThat(dwell.find()).isTrue();
        numbers.add(dwell.group(1));
        return numbers;
    }

    @ParameterizedTest
    @MethodSource("drives")
    void the_table_is_that_of_the_profile(MadeLearned made) {
        assertThat(parsed(header(made, FixedPoint.CENTIDEGREES))).isEqualTo(expected(profile(made), 36_000));
        assertThat(parsed(header(made, FixedPoint.parse("counts:4096")))).isEqualTo(expected(profile(made), 4096));
    }

    @Nested
    class Compiled {
        @TempDir
        private Path folder;

        @ParameterizedTest
        @MethodSource("org.shiftstand.learn.FirmwareHeaderTest#drives")
        void the_header_gives_no_warning_and_a_program_prints_the_table(MadeLearned made) throws Exception {
            String compiler = compiler();
            String name = FirmwareHeader.fileName(made.learned().options().name());
            String lower = FirmwareHeader.identifier(made.learned().options().name());
            Files.writeString(folder.resolve(name), header(made, FixedPoint.CENTIDEGREES));
            Files.writeString(folder.resolve("print.c"), program(made, name, lower));

            run(compiler, "-Wall", "-Wextra", "-Wpedantic", "-Werror", "-std=c99", "-o", "print", "print.c");

            assertThat(run(folder.resolve("print").toString()).lines())
                    .containsExactlyElementsOf(expected(profile(made), 36_000));
            run(compiler, "-Wall", "-Werror", "-std=c99", "-fsyntax-only", name);
        }

        private static String program(MadeLearned made, String header, String lower) {
            String upper = lower.toUpperCase(java.util.Locale.ROOT);
            String within = made.learned().hold().withinDeg() == 20 ? "20" : "12_5";
            return """
                    #include <inttypes.h>
                    #include <stdio.h>
                    #include "%1$s"
                    static void print(const int32_t *table, int n) {
                        int i;
                        for (i = 0; i < n; i++) printf("%%" PRId32 "\\n", table[i]);
                    }
                    int main(void) {
                        print(%2$s_position_centideg, %3$s_SPROCKETS);
                        print(%2$s_overtravel_inboard_centideg, %3$s_ROWS);
                        print(%2$s_overtravel_outboard_centideg, %3$s_ROWS);
                        printf("%%u\\n", %3$s_DWELL_AFTER_ARRIVAL_WITHIN_%4$s_DEG_MS);
                        return 0;
                    }
                    """.formatted(header, lower, upper, within);
        }

        private static String compiler() {
            for (String candidate : List.of("gcc", "cc", "clang")) {
                for (String place : System.getenv().getOrDefault("PATH", "").split(":")) {
                    if (Files.isExecutable(Path.of(place, candidate))) {
                        return candidate;
                    }
                }
            }
            assumeTrue(false, "no C compiler (gcc, cc, clang) in the PATH: the header was only parsed, not compiled");
            return "";
        }

        private String run(String... command) throws IOException, InterruptedException {
            Process process = new ProcessBuilder(command)
                    .directory(folder.toFile())
                    .redirectErrorStream(true)
                    .start();
            String out = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            assertThat(process.waitFor(30, TimeUnit.SECONDS)).isTrue();
            assertThat(process.exitValue()).as(out).isZero();
            return out;
        }
    }

    @Test
    void gaps_are_named_and_counted() {
        assertThat(header(withGaps(), FixedPoint.CENTIDEGREES))
                .contains("#define MADE_UNKNOWN INT32_MIN\n#define MADE_UNKNOWN_COUNT 2\n")
                .contains("    MADE_UNKNOWN, /* 3->4: gap: no shift from 3 to 4 was seen */\n")
                .contains("#pragma message(\"made_learned.h: 2 places of the table are MADE_UNKNOWN;");
        assertThat(header(MadeLearned.four(), FixedPoint.CENTIDEGREES)).doesNotContain("#pragma");
    }

    @Test
    void dwell_is_named_after_what_it_is_counted_from_and_never_hold() {
        assertThat(header(MadeLearned.four(), FixedPoint.CENTIDEGREES))
                .contains("#define MADE_DWELL_AFTER_ARRIVAL_WITHIN_20_DEG_MS 700u\n")
                .contains("#define MADE_DWELL_AFTER_ARRIVAL_WITHIN_10_DEG_MS 680u\n")
                .doesNotContainIgnoringCase("hold");
    }

    @ParameterizedTest
    @CsvSource({"tarn-drive, tarn_drive", "7-speed, drive_7_speed", "_Bool, bool", "a--b__c.d, a_b_c_d", "-, drive"})
    void identifiers_are_never_reserved(String name, String identifier) {
        assertThat(FirmwareHeader.identifier(name)).isEqualTo(identifier);
    }

    @Nested
    class Fixed_point {
        @ParameterizedTest
        @ValueSource(
                strings = {"", "deg", "counts", "counts:1", "counts:0", "counts:99999999", "counts:-4", "centideg "})
        void another_unit_is_refused_with_what_is_expected(String text) {
            assertThatThrownBy(() -> FixedPoint.parse(text))
                    .hasMessageStartingWith(
                            "'" + text + "' is no angle unit of a firmware; expected centideg, or counts:N");
        }

        @Test
        void what_does_not_fit_is_told_and_nothing_is_written() {
            var far = MadeLearned.drive(0, 700, 60_000_000);

            assertThat(FirmwareHeader.of(far.learned(), FixedPoint.CENTIDEGREES))
                    .isEqualTo(
                            new Written.Withheld(List.of("position of sprocket 3, 60000000 deg, does not fit 32 bits in"
                                    + " hundredths of a degree of the gearbox output shaft")));
            assertThat(FirmwareHeader.of(
                                    MadeLearned.four()
                                            .hold(MadeLearned.dwell(20, 66, Dwell.Common.COMMON))
                                            .learned(),
                                    FixedPoint.CENTIDEGREES)
                            .whole())
                    .isEmpty();
        }
    }
}
