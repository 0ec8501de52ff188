package org.shiftstand.cli;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;

/** Runs commands inside this Java machine: quicker than a process of their own, the same code from the first argument on. */
public final class Commands {
    private Commands() {}

    /** Exit code, standard output (text and bytes alike) and standard error of one command. */
    public static synchronized Cli.Result run(String... arguments) {
        PrintStream usual = System.out;
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        StringWriter err = new StringWriter();
        PrintStream captured = new PrintStream(bytes, true, StandardCharsets.UTF_8);
        System.setOut(captured);
        try (LazyContext context = new LazyContext()) {
            PrintWriter out = new PrintWriter(captured, false, StandardCharsets.UTF_8);
            int code = new CommandTree(context, out, new PrintWriter(err, true))
                    .forArguments(arguments)
                    .execute(arguments);
            out.flush();
            return new Cli.Result(code, bytes.toString(StandardCharsets.UTF_8), err.toString());
        } finally {
            System.setOut(usual);
        }
    }
}
