package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine;

/**
 * The help of every command, compared whole with what was last read in full. {@code -Dgolden.rewrite=true} writes the files
 * anew; the commit then says why they changed.
 */
class HelpTest {
    private static final Path FOLDER = Path.of("src", "test", "resources", "help");

    /** Every command there is, found in the tree and not listed here: {@code ""}, {@code check}, {@code rig probe} … */
    static List<String> commands() {
        List<String> found = new ArrayList<>();
        try (LazyContext context = new LazyContext()) {
            PrintWriter nowhere = new PrintWriter(new StringWriter());
            collect(new CommandTree(context, nowhere, nowhere).whole(), "", found);
        }
        return found;
    }

    private static void collect(CommandLine line, String words, List<String> found) {
        found.add(words);
        line.getSubcommands().forEach((word, below) -> collect(below, (words + " " + word).strip(), found));
    }

    @ParameterizedTest(name = "shiftstand {0}")
    @MethodSource("commands")
    void says_what_it_said_when_it_was_last_read(String words) throws IOException {
        String now = help(words);
        Path file = file(words);
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.createDirectories(FOLDER);
            Files.writeString(file, now, StandardCharsets.UTF_8);
        }

        assertThat(file)
                .as("the help of a new command is to be read, then kept: -Dgolden.rewrite=true")
                .exists();
        assertThat(now).isEqualTo(Files.readString(file, StandardCharsets.UTF_8));
    }

    @ParameterizedTest(name = "shiftstand {0}")
    @MethodSource("commands")
    void fits_a_terminal_of_100_columns(String words) {
        assertThat(help(words).lines()).allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(100));
    }

    @Test
    void no_file_is_left_of_a_command_that_is_gone() throws IOException {
        List<Path> expected = commands().stream().map(HelpTest::file).toList();

        try (Stream<Path> kept = Files.list(FOLDER)) {
            assertThat(kept).containsExactlyInAnyOrderElementsOf(expected);
        }
    }

    private static String help(String words) {
        List<String> arguments = new ArrayList<>(words.isEmpty() ? List.of() : List.of(words.split(" ")));
        arguments.add("--help");
        Cli.Result result = Commands.run(arguments.toArray(String[]::new));
        assertThat(result.exitCode()).as(result.err()).isZero();
        return result.out().replace(System.lineSeparator(), "\n");
    }

    private static Path file(String words) {
        return FOLDER.resolve((words.isEmpty() ? "shiftstand" : words.replace(' ', '-')) + ".txt");
    }
}
