package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** Only commands that are named are read in full; nobody may notice, but by the clock. */
class CommandTreeTest {
    private final StringWriter said = new StringWriter();
    private final CommandTree tree = new CommandTree(new LazyContext(), new PrintWriter(said), new PrintWriter(said));

    @Test
    void help_lists_the_same_commands_whether_they_were_read_in_full_or_not() {
        assertThat(tree.forArguments("--help").getUsageMessage())
                .isEqualTo(tree.whole().getUsageMessage());
    }

    @Test
    void a_command_that_is_named_takes_what_it_takes_in_the_whole_tree() {
        tree.forArguments("rig", "simulate", "--help").execute("rig", "simulate", "--help");
        String named = said.toString();
        tree.whole().execute("rig", "simulate", "--help");

        assertThat(said.toString()).isEqualTo(named + named).contains("--pty");
    }

    @Test
    void no_other_command_is_read_than_the_one_that_is_named() {
        assertThat(tree.forArguments("judge", "x.csv").getSubcommands()).containsOnlyKeys("judge");
        assertThat(tree.forArguments("--version").getSubcommands()).isEmpty();
    }

    @Test
    void a_command_is_known_by_the_name_that_its_annotation_has() {
        assertThat(Shiftstand.COMMANDS)
                .allSatisfy(command -> assertThat(CommandTree.name(command))
                        .isEqualTo(
                                command.getAnnotation(CommandLine.Command.class).name()));
    }

    @Test
    void what_was_typed_wrongly_is_told_from_the_whole_tree() {
        int code = tree.forArguments("simulat").execute("simulat");

        assertThat(code).isEqualTo(ExitCode.BAD_INPUT);
        assertThat(said.toString()).contains("Did you mean 'shiftstand rig simulate'?");
    }

    @Test
    void a_file_of_arguments_may_name_any_command(@TempDir Path folder) throws IOException {
        Path file = Files.writeString(folder.resolve("words"), "judge\n--help\n");

        int code = tree.forArguments("@" + file).execute("@" + file);

        assertThat(code).isZero();
        assertThat(said.toString()).contains("Usage: shiftstand judge");
    }
}
