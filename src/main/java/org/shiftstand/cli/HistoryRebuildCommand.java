package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.history.FoundResults;
import org.shiftstand.history.History;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Makes the history again. */
@Command(
        name = "rebuild",
        sortOptions = false,
        description = {
            "Adds every run that is found in folders and all below them: in bags, and in run folders with a result.json. A "
                    + "run that is there already is not added twice.",
            "",
            "Of a bag the result is held against its manifests; 'shiftstand verify' checks the rest. What cannot be used is "
                    + "named, and the exit code is then 1."
        },
        footer = {"", "Example:", "  shiftstand history rebuild archive reports --anew"})
final class HistoryRebuildCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(arity = "1..*", paramLabel = "DIR", description = "Folders with bags or runs.")
    private List<Path> folders = List.of();

    @Option(
            names = "--anew",
            description =
                    "Empty the history first, in one step with the rest. Names that are to be forgotten stay forgotten.")
    private boolean anew;

    @Mixin
    private HistoryAt at = new HistoryAt();

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        List<Problem> missing = folders.stream()
                .filter(folder -> !Files.isDirectory(folder))
                .map(folder -> new Problem(folder.toString(), 0, 0, "no such folder; check its name"))
                .toList();
        if (!missing.isEmpty()) {
            throw new BadInput(missing);
        }
        PrintWriter out = command.commandLine().getOut();
        PrintWriter err = command.commandLine().getErr();
        return at.use(err, history -> {
            List<FoundResults> read = new ArrayList<>();
            History.Source source = to -> read.add(FoundResults.in(folders, to));
            History.Taken taken = anew ? history.anew(source) : history.addAll(source);
            FoundResults found = read.get(0);
            found.wrong().forEach(err::println);
            out.println(found.count() + " results found: " + taken.added() + " added, " + taken.held()
                    + " there already"
                    + (found.wrong().isEmpty() ? "" : ", and " + found.wrong().size() + " not usable")
                    + ".");
            if (!taken.otherwise().isEmpty()) {
                out.println(
                        taken.otherwise().size()
                                + " runs were there already with another result, such as of another version; the first one stays.");
            }
            return found.wrong().isEmpty() ? ExitCode.DONE : ExitCode.FAIL;
        });
    }
}
