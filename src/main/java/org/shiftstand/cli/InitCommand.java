package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.Problem;
import org.shiftstand.link.SerialPorts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Makes the files that a kind of unit is checked by. */
@Command(
        name = "init",
        sortOptions = false,
        description = {
            "Makes a folder with the files for your own kind of unit, to be filled in.",
            "",
            "Writes a profile, a spec, a procedure and a rig description, with a comment for each line, and NEXT.md, which "
                    + "says what to do with them. The figures are examples, of an invented drive, and say so; the files "
                    + "can be tried on a simulated rig as they are.",
            "",
            "On a terminal it asks for what no option tells; Enter takes the value in brackets. Elsewhere it asks "
                    + "nothing. Writes all files or none, and none over another without --force."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand init my-drive",
            "  shiftstand init --name my-drive --sprockets 12 --port /dev/ttyACM0 stand-two"
        })
final class InitCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(
            arity = "0..1",
            paramLabel = "DIR",
            description = "Folder that they go to; made where it is missing. Default: this one.")
    private Path folder = Path.of("");

    @Option(
            names = "--name",
            paramLabel = "NAME",
            description =
                    "Name of the kind of unit, in small letters. Default: the name of the folder DIR, else my-drive.")
    private @Nullable String name;

    @Option(names = "--sprockets", paramLabel = "N", description = "Sprockets of its cassette, 3 to 16. Default: 10.")
    private @Nullable String sprockets;

    @Option(
            names = "--port",
            paramLabel = "PATH",
            description = "Serial port of the rig. Default: the only USB port there is, else /dev/ttyACM0.")
    private @Nullable String port;

    @Option(names = "--rig-name", paramLabel = "NAME", description = "Name of the rig. Default: bench-one.")
    private @Nullable String rig;

    @Option(names = "--force", description = "Overwrite files of those names.")
    private boolean force;

    @Override
    public Integer call() {
        PrintWriter out = command.commandLine().getOut();
        WorkspaceWish wish = wish();
        Map<String, String> files = WorkspaceFiles.of(wish);
        FilesTogether.write(folder, files, force);
        out.println("Made for " + wish.name() + ", " + wish.sprockets() + " sprockets, with example figures:");
        files.keySet().forEach(file -> out.println("  " + folder.resolve(file)));
        out.println();
        out.println("What to do with them is in " + folder.resolve(WorkspaceFiles.NEXT) + "; first:");
        if (!folder.toString().isEmpty()) {
            out.println("  cd " + NextSteps.quoted(folder.toString()));
        }
        out.println("  shiftstand");
        return ExitCode.DONE;
    }

    private WorkspaceWish wish() {
        PersonsWord person =
                new PersonsWord(command.commandLine().getErr(), System.in, PersonsWord.somebodyThere(), () -> false);
        boolean ask = PersonsWord.somebodyThere();
        return WorkspaceWish.of(
                said(
                        name,
                        ask,
                        person,
                        "Name of the kind of unit",
                        nameOfFolder(),
                        typed -> WorkspaceWish.nameProblem("--name", typed)),
                said(
                        sprockets,
                        ask,
                        person,
                        "Sprockets of its cassette",
                        String.valueOf(WorkspaceWish.USUAL_SPROCKETS),
                        WorkspaceWish::sprocketsProblem),
                said(port, ask, person, "Serial port of the rig", portOfRig(), WorkspaceWish::portProblem),
                said(
                        rig,
                        ask,
                        person,
                        "Name of the rig",
                        WorkspaceWish.USUAL_RIG,
                        typed -> WorkspaceWish.nameProblem("--rig-name", typed)));
    }

    /** The option, else a person's answer that will do, else the usual value. */
    private String said(
            @Nullable String option,
            boolean ask,
            PersonsWord person,
            String question,
            String usual,
            Function<String, Optional<Problem>> problem) {
        if (option != null || !ask) {
            return option == null ? usual : option;
        }
        while (true) {
            String answer = person.answer(question + " [" + usual + "]: ").orElse("");
            String meant = answer.isEmpty() ? usual : answer;
            Optional<Problem> wrong = problem.apply(meant);
            if (wrong.isEmpty()) {
                return meant;
            }
            command.commandLine()
                    .getErr()
                    .println("'" + PlainText.of(meant) + "' " + wrong.get().text() + ".");
        }
    }

    private String nameOfFolder() {
        Path last = folder.getFileName();
        return last != null && WorkspaceWish.isName(last.toString()) ? last.toString() : WorkspaceWish.USUAL_NAME;
    }

    private static String portOfRig() {
        return SerialPorts.onlyUsb().orElse(WorkspaceWish.USUAL_PORT);
    }
}
