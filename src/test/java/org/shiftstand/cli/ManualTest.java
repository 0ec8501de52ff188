package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.Bundled;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/** Man pages and completions, held to the tree of commands and to the programs that read them. */
class ManualTest {
    private static final List<String> SPECS = Bundled.plainNames(Bundled.Kind.SPEC);

    @TempDir
    static Path folder;

    /** Every command: its words, to its place in the tree. */
    private static final Map<String, CommandLine> COMMANDS = new LinkedHashMap<>();

    @BeforeAll
    static void write() throws IOException {
        ManualFiles.write(folder, "2026-11-25");
        PrintWriter nowhere = new PrintWriter(new StringWriter());
        collect("shiftstand", new CommandTree(new LazyContext(), nowhere, nowhere).whole());
        Files.createDirectories(folder.resolve("here/learned"));
        Files.createFile(folder.resolve("here/capture one.csv"));
    }

    private static void collect(String words, CommandLine line) {
        COMMANDS.put(words, line);
        line.getSubcommands().forEach((word, below) -> collect(words + " " + word, below));
    }

    @Nested
    class Man_pages {
        @Test
        void there_is_one_for_each_command() throws IOException {
            try (Stream<Path> pages = Files.list(folder.resolve("man1"))) {
                assertThat(pages.map(page -> page.getFileName().toString()))
                        .containsExactlyInAnyOrderElementsOf(COMMANDS.keySet().stream()
                                .map(words -> words.replace(' ', '-') + ".1")
                                .toList());
            }
        }

        @Test
        void hold_every_option_with_what_the_help_says_of_it() {
            COMMANDS.forEach((words, line) -> {
                String page = read(words);
                for (OptionSpec option : line.getCommandSpec().options()) {
                    assertThat(page).as(words).contains(option.names());
                    assertThat(page).as(words + " " + option.longestName()).contains(oneLine(option.description()));
                }
            });
        }

        @Test
        void hold_the_examples_of_the_help() {
            assertThat(read("shiftstand rig simulate"))
                    .contains("shiftstand rig simulate --pty seed=7,fault=overtravel-short,pair=3-4,rate=0.2")
                    .contains("landing-sd usual spread of landings (deg; default 10.5)");
            assertThat(read("shiftstand key new")).contains("\"EXAMPLES\"").contains("shiftstand key new r-fell");
        }

        @Test
        void tell_the_cautions_in_full_once_and_point_to_them_everywhere() {
            assertThat(read("shiftstand")).contains("never lithium cells.");
            assertThat(COMMANDS.keySet().stream().filter(words -> words.contains(" ")))
                    .allSatisfy(words -> assertThat(read(words)).contains("read the cautions in shiftstand(1)"));
        }

        @Test
        void are_read_without_a_warning_by_groff() throws IOException {
            assumeTrue(installed("groff"), "no groff");

            assertThat(run(Stream.concat(Stream.of("groff", "-man", "-ww", "-Tutf8", "-z"), pages())))
                    .isEmpty();
        }

        @Test
        void are_read_without_a_warning_by_mandoc() throws IOException {
            assumeTrue(installed("mandoc"), "no mandoc");

            assertThat(run(Stream.concat(Stream.of("mandoc", "-T", "lint", "-W", "warning"), pages())))
                    .isEmpty();
        }

        private Stream<String> pages() {
            return COMMANDS.keySet().stream()
                    .map(words -> folder.resolve("man1/" + words.replace(' ', '-') + ".1")
                            .toString());
        }
    }

    @Nested
    class Bash {
        @Test
        void offers_each_command_its_commands_and_its_options() throws IOException {
            List<String> lines = new ArrayList<>();
            List<String> expected = new ArrayList<>();
            COMMANDS.forEach((words, line) -> {
                if (!line.getSubcommands().isEmpty()) {
                    lines.add(words + " ");
                    expected.add(String.join(" ", line.getSubcommands().keySet()));
                }
                lines.add(words + " -");
                expected.add(line.getCommandSpec().options().stream()
                        .flatMap(option -> Arrays.stream(option.names()))
                        .reduce((one, other) -> one + " " + other)
                        .orElse(""));
            });

            assertThat(bash(lines)).isEqualTo(expected);
        }

        @Test
        void offers_words_packed_names_files_and_folders() throws IOException {
            assertThat(bash(List.of(
                            "shiftstand judge x --sense ",
                            "shiftstand judge x --spec tarn",
                            "shiftstand judge x --spec=tarn",
                            "shiftstand spec lint tarn",
                            "shiftstand judge cap",
                            "shiftstand check --out l",
                            "shiftstand check --out cap")))
                    .containsExactly(
                            "forward reversed",
                            "tarn-drive-end-of-line tarn-drive-firmware-change",
                            "tarn-drive-end-of-line tarn-drive-firmware-change",
                            "tarn-drive-end-of-line tarn-drive-firmware-change",
                            "capture one.csv",
                            "learned",
                            "");
        }

        /** What one bash offers for the last word of each line, by the function that it would call. */
        private List<String> bash(List<String> lines) throws IOException {
            assumeTrue(installed("bash"), "no bash");
            StringBuilder script = new StringBuilder("source '" + folder.resolve("bash/shiftstand") + "'\n");
            script.append("compopt() { :; }\n"); // only while a line is typed is there something to set
            for (String line : lines) {
                String words = line.replace("=", " = ");
                script.append("COMP_WORDS=(")
                        .append(words)
                        .append(words.endsWith(" ") ? "''" : "")
                        .append(")\n");
                script.append("COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _shiftstand; echo \"${COMPREPLY[*]}\"\n");
            }
            return List.of(run(Stream.of("bash", "--norc", "-c", script.toString()))
                            .split("\n", -1))
                    .subList(0, lines.size());
        }
    }

    @Nested
    class Zsh {
        @Test
        void offers_commands_options_words_and_packed_names() throws IOException {
            assertThat(zsh("shiftstand ")).isEqualTo(below("shiftstand"));
            assertThat(zsh("shiftstand rig ")).isEqualTo(below("shiftstand rig"));
            assertThat(zsh("shiftstand rig simulate --")).containsAll(names("shiftstand rig simulate"));
            assertThat(zsh("shiftstand judge x --sense ")).containsExactly("forward", "reversed");
            assertThat(zsh("shiftstand check --spec ")).containsAll(SPECS).contains("capture one.csv");
        }

        private List<String> zsh(String line) throws IOException {
            assumeTrue(installed("zsh"), "no zsh");
            String script = Path.of("src/test/resources/manual/complete.zsh")
                    .toAbsolutePath()
                    .toString();
            return run(Stream.of("zsh", "-f", script, folder.resolve("zsh").toString(), line))
                    .lines()
                    .toList();
        }
    }

    @Nested
    class Fish {
        @Test
        void offers_commands_options_words_and_packed_names() throws IOException {
            assertThat(fish("shiftstand ")).containsExactlyInAnyOrderElementsOf(below("shiftstand"));
            assertThat(fish("shiftstand rig ")).containsExactlyInAnyOrderElementsOf(below("shiftstand rig"));
            assertThat(fish("shiftstand rig simulate --"))
                    .containsExactlyInAnyOrderElementsOf(names("shiftstand rig simulate"));
            assertThat(fish("shiftstand judge x --sense ")).containsExactly("forward", "reversed");
            assertThat(fish("shiftstand check --spec ")).containsAll(SPECS).contains("capture one.csv");
        }

        private List<String> fish(String line) throws IOException {
            assumeTrue(installed("fish"), "no fish");
            String script = "source '" + folder.resolve("fish/shiftstand.fish") + "'; complete -C '" + line + "'";
            return run(Stream.of("fish", "--no-config", "-c", script))
                    .lines()
                    .map(offer -> offer.replaceFirst("\t.*", ""))
                    .toList();
        }
    }

    private static CommandLine command(String words) {
        return Objects.requireNonNull(COMMANDS.get(words), words);
    }

    private static List<String> below(String words) {
        return List.copyOf(command(words).getSubcommands().keySet());
    }

    /** The long names of its options. */
    private static List<String> names(String words) {
        return command(words).getCommandSpec().options().stream()
                .map(OptionSpec::longestName)
                .toList();
    }

    /** A page as a reader would have it, on one line. */
    private static String read(String words) {
        try {
            String page = Files.readString(folder.resolve("man1/" + words.replace(' ', '-') + ".1"));
            return oneLine(page.replaceAll("\\\\f[BIR]|\\\\&", "")
                    .replace("\\-", "-")
                    .replace("\\(aq", "'")
                    .replace("\\(dq", "\"")
                    .replace("\\[u2026]", "…"));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static String oneLine(String... text) {
        return String.join(" ", text).replaceAll("\\s+", " ").strip();
    }

    private static boolean installed(String program) {
        return Arrays.stream(System.getenv("PATH").split(File.pathSeparator))
                .anyMatch(place -> Files.isExecutable(Path.of(place, program)));
    }

    /** What a program prints on both streams; it runs in a folder with a file and a folder. */
    private static String run(Stream<String> command) throws IOException {
        Path printed = Files.createTempFile(folder, "printed", ".txt");
        ProcessBuilder builder = new ProcessBuilder(command.toList())
                .directory(folder.resolve("here").toFile())
                .redirectErrorStream(true)
                .redirectOutput(printed.toFile());
        builder.environment().put("HOME", folder.toString());
        builder.environment().put("TERM", "dumb");
        builder.environment().put("LC_ALL", "C.UTF-8");
        Process process = builder.start();
        process.getOutputStream().close();
        try {
            assertThat(process.waitFor(60, TimeUnit.SECONDS)).as("ends").isTrue();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            process.destroyForcibly();
        }
        return Files.readString(printed, StandardCharsets.UTF_8);
    }
}
