package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.shiftstand.document.BadInput;
import org.shiftstand.link.LinkException;
import picocli.CommandLine;
import picocli.CommandLine.IExecutionExceptionHandler;
import picocli.CommandLine.ParseResult;

/** What went wrong while a command ran, told without a stack trace; the exit code says whose move it is. */
final class Failures implements IExecutionExceptionHandler {
    private static final long MIB = 1 << 20;

    @Override
    public int handleExecutionException(Exception e, CommandLine line, ParseResult parsed) {
        PrintWriter err = line.getErr();
        if (e instanceof BadInput bad) {
            bad.problems().forEach(problem -> err.println(PlainText.ofLines(problem.toString())));
            return ExitCode.BAD_INPUT;
        }
        if (e instanceof LinkException link) {
            err.println(link.getMessage());
            return ExitCode.RIG;
        }
        if (e instanceof UncheckedIOException io && io.getCause() != null) {
            err.println("shiftstand: a file could not be read or written (" + Output.cause(io.getCause())
                    + "). Is the disk full, or was it taken away? The supply of a rig is off; a record holds what was"
                    + " written before.");
            return ExitCode.RIG;
        }
        if (e instanceof IOException io) {
            err.println("shiftstand: a file could not be read or written (" + Output.cause(io)
                    + "). Check that the disk has room and that you may write there, then try again.");
            return ExitCode.BAD_INPUT;
        }
        return defect(e, err);
    }

    /** What nobody foresaw: one line and a log's path; for memory that does not suffice, what to do instead. */
    static int defect(Throwable e, PrintWriter err) {
        if (e instanceof OutOfMemoryError) {
            err.println("shiftstand: the memory that Java may use, "
                    + Runtime.getRuntime().maxMemory() / MIB
                    + " MiB, does not suffice: every shift of a table takes some 400 bytes, however long the capture. Give more,"
                    + " such as SHIFTSTAND_JAVA_OPTS=-Xmx2g, or judge parts of the capture.");
            return ExitCode.DEFECT;
        }
        err.println("shiftstand: a defect of this program; details are in " + log(e) + ". Report it with that file.");
        return ExitCode.DEFECT;
    }

    private static String log(Throwable e) {
        StringWriter trace = new StringWriter();
        e.printStackTrace(new PrintWriter(trace));
        try {
            Path file = Files.createTempFile("shiftstand-defect-", ".log");
            Files.writeString(file, "shiftstand " + Version.number() + "\n" + trace);
            return file.toString();
        } catch (IOException unwritable) {
            return "no file, since the temporary folder cannot be written: "
                    + trace.toString().replace('\n', ' ');
        }
    }
}
