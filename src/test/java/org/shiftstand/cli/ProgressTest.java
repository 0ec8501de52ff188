package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;

/** Where progress lines are shown, and where not. */
class ProgressTest {
    private final StringWriter text = new StringWriter();
    private final PrintWriter err = new PrintWriter(text, true);

    @BeforeEach
    void onATerminal() {
        System.setProperty("shiftstand.terminal", "true");
    }

    @AfterEach
    void back() {
        System.clearProperty("shiftstand.terminal");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "check",
                "demo",
                "judge",
                "measure",
                "archive",
                "characterise",
                "compare",
                "import",
                "export",
                "verify",
                "cassette",
                "history rebuild",
                "rig study",
                "rig probe",
                "rig limits",
                "spec explain"
            })
    void every_command_that_may_take_long_can_be_told_to_be_quiet(String command) {
        try (LazyContext context = new LazyContext()) {
            CommandLine line = new CommandTree(context, err, err).whole();
            for (String word : command.split(" ")) {
                line = Objects.requireNonNull(line.getSubcommands().get(word));
            }
            assertThat(line.getCommandSpec().optionsMap()).containsKey("--no-progress");
        }
    }

    @Test
    void a_silent_line_stays_silent_on_a_terminal() {
        Progress.silent(err).show("half way");

        assertThat(text.toString()).isEmpty();
    }

    @Test
    void a_terminal_that_cannot_go_back_gets_no_line() {
        assertThat(Progress.canGoBack("dumb")).isFalse();
        assertThat(Progress.canGoBack("xterm-256color")).isTrue();
        assertThat(Progress.canGoBack(null)).isTrue();
    }

    @Test
    void a_line_goes_back_by_a_carriage_return_alone() {
        Progress line = new Progress(err);
        line.show("half way");
        line.clear();

        assertThat(text.toString()).contains("\rhalf way\r").doesNotContain("\u001b", "\n");
    }

    @Test
    void time_that_goes_by_is_shown_and_taken_away_at_the_end() throws InterruptedException {
        try (WorkingLine working = new WorkingLine(new Progress(err), "judge capture.csv", Duration.ofMillis(5))) {
            for (int i = 0; i < 400 && !text.toString().contains("judge capture.csv: 0 s …"); i++) {
                Thread.sleep(5);
            }
        }

        assertThat(text.toString()).contains("\rjudge capture.csv: 0 s …").endsWith(" \r");
    }

    @Test
    void what_is_printed_through_a_screen_arrives_whole() {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        Screen screen = new Screen(new PrintStream(out, true, StandardCharsets.UTF_8), System.err);

        screen.out().println("Überall → 5 µm");

        assertThat(out.toString(StandardCharsets.UTF_8).lines().toList()).isEqualTo(List.of("Überall → 5 µm"));
    }
}
