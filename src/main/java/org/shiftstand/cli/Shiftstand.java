package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The top command: says what to do next, from what there is in this folder. */
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
        footer = {
            "",
            "Examples:",
            "  shiftstand demo                                        three simulated drives, nothing attached",
            "  shiftstand judge capture.csv --spec passive-capture    a verdict on a capture you have",
            "",
            "'shiftstand' alone says what to do next in this folder. A bundled name is that of a file packed with",
            "the program, such as the spec passive-capture, the profile tarn-drive, the procedure end-of-line.",
            "",
            "Output has no colour, whatever NO_COLOR says; --no-progress leaves out the progress line of a",
            "terminal. Times are UTC as ISO 8601 has them, numbers have a decimal point, in every language.",
            "",
            "Exit codes: 0 pass or done, 1 fail, 2 bad usage or input, 3 no verdict, 4 rig, link, guard or",
            "emergency stop, 130 and 143 stopped by the user after the supply was cut, 70 a defect.",
            "",
            "A powered drive pinches fingers, runs against hard stops, and is fed from lithium cells: read",
            "the cautions in the README before the first real rig."
        })
final class Shiftstand implements Callable<Integer> {
    /** Its commands, as help lists them. Not in the annotation: reading all of them is most of a start ({@link Main}). */
    static final List<Class<?>> COMMANDS = List.of(
            DemoCommand.class,
            InitCommand.class,
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
            SpecCommand.class);

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        Path reports = HistorySettings.reports();
        NextSteps.of(Workspace.in(Path.of("")), reports, RunsSoFar.below(reports)).stream()
                .map(PlainText::of)
                .forEach(out::println);
        return ExitCode.DONE;
    }
}
