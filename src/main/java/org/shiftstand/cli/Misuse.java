package org.shiftstand.cli;

import java.io.PrintWriter;
import picocli.CommandLine;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** A command line that cannot be understood: one message, the nearest valid word, where the help is; exit 2. */
final class Misuse implements IParameterExceptionHandler {
    @Override
    public int handleParseException(ParameterException e, String[] args) {
        PrintWriter err = e.getCommandLine().getErr();
        err.println("shiftstand: " + e.getMessage());
        if (!UnmatchedArgumentException.printSuggestions(e, err)) {
            CommandLine line = e.getCommandLine();
            err.println("Usage: " + line.getHelp().synopsis(0).strip());
        }
        err.println("Help: " + e.getCommandLine().getCommandSpec().qualifiedName() + " --help");
        return ExitCode.BAD_INPUT;
    }
}
