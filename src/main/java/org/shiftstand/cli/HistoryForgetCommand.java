package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import org.shiftstand.history.DisclosedNames;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Takes a person's name away. */
@Command(
        name = "forget",
        sortOptions = false,
        description = {
            "Takes a person's name out of the history, and out of the bags and run folders that are named. Records and "
                    + "signatures hold a salted digest of the name, so they stay as they are and go on holding; without the "
                    + "salt, which is deleted with the name, nobody can tell whose it was.",
            "",
            "An older record may hold its operator in plain, and keeps it."
        },
        footer = {"", "Example:", "  shiftstand history forget --operator 'R. Fell' archive reports"})
final class HistoryForgetCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(arity = "0..*", paramLabel = "DIR", description = "Folders with bags and runs; all below them.")
    private List<Path> folders = List.of();

    @Option(
            names = "--operator",
            required = true,
            paramLabel = "NAME",
            description = "The name as it was written, or its digest (sha256:…).")
    private String operator;

    @Mixin
    private HistoryAt at = new HistoryAt();

    @Override
    public Integer call() throws IOException {
        PrintWriter out = command.commandLine().getOut();
        PrintWriter err = command.commandLine().getErr();
        return at.use(err, history -> {
            TreeSet<String> digests = new TreeSet<>();
            for (Map.Entry<String, String> name : history.names().entrySet()) {
                if (name.getValue().equals(operator) || name.getKey().equals(operator)) {
                    digests.add(name.getKey());
                }
            }
            DisclosedNames.Removed removed = DisclosedNames.remove(folders, operator);
            digests.addAll(removed.digests());
            int gone = history.forget(new ArrayList<>(digests));
            HistorySettings.queue().forget(new ArrayList<>(digests));
            removed.wrong().forEach(err::println);
            out.println("Forgotten: " + digests.size() + (digests.size() == 1 ? " digest" : " digests")
                    + " of this name; " + gone + " in the history and " + removed.files() + " files were deleted.");
            if (digests.isEmpty()) {
                out.println("Nothing was known by this name here.");
            }
            return removed.wrong().isEmpty() ? ExitCode.DONE : ExitCode.FAIL;
        });
    }
}
