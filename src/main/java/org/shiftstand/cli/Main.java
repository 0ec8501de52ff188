package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.sim.SimOptions;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * Entry point of the {@code shiftstand} command.
 *
 * <p>Knows the command line first and Spring only on demand: {@code --help} starts no context.
 */
public final class Main {
    private Main() {}

    public static void main(String[] args) {
        int code;
        ParentWatch.startWhereAskedFor();
        try (LazyContext context = new LazyContext()) {
            code = run(context, args);
        }
        System.exit(code);
    }

    private static int run(LazyContext context, String[] args) {
        Optional<Screen> screen =
                Progress.onTerminal() ? Optional.of(new Screen(System.out, System.err)) : Optional.empty();
        screen.ifPresent(both -> {
            System.setOut(both.out());
            System.setErr(both.err());
        });
        PrintWriter out = new PrintWriter(System.out, false, StandardCharsets.UTF_8);
        PrintWriter err = new PrintWriter(System.err, true, StandardCharsets.UTF_8);
        CommandLine line = commandLine(context, out, err);
        screen.ifPresent(line::setExecutionStrategy);
        int code = execute(line, err, args);
        out.flush();
        err.flush();
        return code;
    }

    /** Never throws: a thread that dies of an error ends the process with 1, which means that a unit failed. */
    static int execute(CommandLine line, PrintWriter err, String... args) {
        try {
            return line.execute(helpFirst(args));
        } catch (RuntimeException | Error e) {
            return Failures.defect(e, err);
        }
    }

    /** {@code help judge} is what some type for {@code judge --help}. */
    private static String[] helpFirst(String... args) {
        if (args.length == 0 || !args[0].equals("help")) {
            return args;
        }
        String[] moved = Arrays.copyOfRange(args, 1, args.length + 1);
        moved[args.length - 1] = "--help";
        return moved;
    }

    /** The whole command tree; tests use it with writers of their own. */
    static CommandLine commandLine(CommandLine.IFactory factory, PrintWriter out, PrintWriter err) {
        CommandLine line = new CommandLine(new Shiftstand(), factory);
        line.setOut(out);
        line.setErr(err);
        line.setUsageHelpWidth(100);
        line.setUsageHelpAutoWidth(false);
        line.setColorScheme(CommandLine.Help.defaultColorScheme(CommandLine.Help.Ansi.OFF));
        line.getCommandSpec()
                .addOption(OptionSpec.builder("-V", "--version")
                        .versionHelp(true)
                        .description("Show the version.")
                        .build());
        addHelp(line);
        line.setHelpSectionMap(withKeys(line.getHelpSectionMap()));
        line.setExecutionExceptionHandler(new Failures());
        line.setParameterExceptionHandler(new Misuse());
        return line;
    }

    /** Every command has the same help option, last in its list. */
    private static void addHelp(CommandLine line) {
        line.getCommandSpec()
                .addOption(OptionSpec.builder("-h", "--help")
                        .usageHelp(true)
                        .description("Show this help.")
                        .build());
        setApart(line.getCommandSpec());
        line.getSubcommands().values().forEach(Main::addHelp);
    }

    /** An empty line between what a command does and the lists of what it takes. */
    private static void setApart(CommandSpec command) {
        CommandLine.Model.UsageMessageSpec help = command.usageMessage();
        if (!command.positionalParameters().isEmpty()) {
            help.parameterListHeading("%n");
        } else if (help.optionListHeading().isEmpty()) {
            help.optionListHeading("%n");
        }
        help.commandListHeading("%nCommands:%n");
    }

    /** Help of {@code rig simulate} ends with every key of a simulated rig, from where they are read. */
    private static Map<String, CommandLine.IHelpSectionRenderer> withKeys(
            Map<String, CommandLine.IHelpSectionRenderer> usual) {
        Map<String, CommandLine.IHelpSectionRenderer> sections = new HashMap<>(usual);
        sections.put(
                CommandLine.Model.UsageMessageSpec.SECTION_KEY_FOOTER,
                help -> help.footer() + (help.commandSpec().name().equals("simulate") ? SimOptions.help() : ""));
        return sections;
    }
}
