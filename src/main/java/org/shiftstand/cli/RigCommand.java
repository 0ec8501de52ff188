package org.shiftstand.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Rigs: which there are, and a simulated one. */
@Command(
        name = "rig",
        description =
                "Lists serial ports, probes a rig, finds a unit's limits, studies the gauge, and runs a simulated rig.",
        subcommands = {
            RigListCommand.class,
            RigProbeCommand.class,
            RigLimitsCommand.class,
            RigStudyCommand.class,
            RigSimulateCommand.class
        },
        footer = {"", "Examples:", "  shiftstand rig list", "  shiftstand rig simulate --pty"})
final class RigCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.DONE;
    }
}
