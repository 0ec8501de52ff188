package org.shiftstand.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The top command: says what there is. */
@Command(
        name = "shiftstand",
        description = {
            "Drives a powered rear-derailleur drive on a bench rig through sweeps of the whole cassette, "
                    + "measures every shift, judges the unit against a written acceptance spec, and leaves a "
                    + "report. The same measuring works on a capture of any unit."
        },
        optionListHeading = "%nOptions:%n",
        descriptionHeading = "%n",
        synopsisSubcommandLabel = "COMMAND",
        versionProvider = Version.class,
        subcommands = {
            DemoCommand.class,
            CheckCommand.class,
            JudgeCommand.class,
            MeasureCommand.class,
            ArchiveCommand.class,
            SignCommand.class,
            VerifyCommand.class,
            KeyCommand.class,
            HistoryCommand.class,
            ImportCommand.class,
            CharacteriseCommand.class,
            CompareCommand.class,
            CassetteCommand.class,
            ExportCommand.class,
            RigCommand.class,
            SpecCommand.class
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand demo                                        three simulated drives, nothing attached",
            "  shiftstand judge capture.csv --spec passive-capture    a verdict on a capture you have",
            "",
            "Exit codes: 0 pass or done, 1 fail, 2 bad usage or input, 3 no verdict, 4 rig, link, guard or",
            "emergency stop, 130 and 143 stopped by the user after the supply was cut, 70 a defect.",
            "",
            "A powered drive pinches fingers, runs against hard stops, and is fed from lithium cells: read",
            "the cautions in the README before the first real rig."
        })
final class Shiftstand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() {
        CommandLine line = spec.commandLine();
        line.usage(line.getOut());
        return ExitCode.DONE;
    }
}
