package org.shiftstand.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Specs: what is wrong in them, and what they demand. */
@Command(
        name = "spec",
        description = "Checks and explains acceptance specs.",
        subcommands = {SpecLintCommand.class, SpecExplainCommand.class},
        footer = {
            "",
            "Examples:",
            "  shiftstand spec lint my-drive.spec.yaml",
            "  shiftstand spec lint specs/tarn-drive-end-of-line.spec.yaml --procedure end-of-line",
            "  shiftstand spec explain tarn-drive-end-of-line --procedure end-of-line"
        })
final class SpecCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.DONE;
    }
}
