package org.shiftstand.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The index over many runs. */
@Command(
        name = "history",
        description = {
            "Lists runs, and tells how units did over time.",
            "",
            "Every check adds its run. The history is an index: 'history rebuild' makes it again from archives and run "
                    + "folders. One bench keeps it in a file; several share a PostgreSQL server."
        },
        synopsisSubcommandLabel = "COMMAND",
        subcommands = {
            HistoryListCommand.class,
            HistoryShowCommand.class,
            HistoryTrendCommand.class,
            HistoryExportCommand.class,
            HistoryRebuildCommand.class,
            HistoryForgetCommand.class
        })
final class HistoryCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Override
    public Integer call() {
        command.commandLine().usage(command.commandLine().getOut());
        return ExitCode.DONE;
    }
}
