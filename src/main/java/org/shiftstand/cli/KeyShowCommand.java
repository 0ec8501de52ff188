package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.shiftstand.archive.sign.PublicId;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows what a public key is known by. */
@Command(
        name = "show",
        description = "Prints the fingerprint of a public key, to be compared with what its owner says it is.",
        footer = {"", "Example:", "  shiftstand key show r-fell.pub.pem"})
final class KeyShowCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(paramLabel = "FILE", description = "Public key (.pub.pem).")
    private Path file;

    @Override
    public Integer call() {
        command.commandLine().getOut().println(PublicId.read(file).fingerprint());
        return ExitCode.DONE;
    }
}
