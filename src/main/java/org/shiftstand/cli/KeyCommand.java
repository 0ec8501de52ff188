package org.shiftstand.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Keys that archives are signed with. */
@Command(
        name = "key",
        description = "Makes and shows the keys that archives are signed with.",
        synopsisSubcommandLabel = "COMMAND",
        subcommands = {KeyNewCommand.class, KeyShowCommand.class})
final class KeyCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Override
    public Integer call() {
        command.commandLine().usage(command.commandLine().getOut());
        return ExitCode.DONE;
    }
}
