package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.shiftstand.sim.SimOptions;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help;
import picocli.CommandLine.IFactory;
import picocli.CommandLine.IHelpSectionRenderer;
import picocli.CommandLine.InitializationException;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.UsageMessageSpec;

/**
 * The commands and how each is used, whole or as far as given arguments need it: reading that from all of them takes longer
 * than most of what is asked. For quick starts there is no lambda here of a type of picocli's: a class-data archive would
 * hold neither (see {@code classdata.sh}).
 */
final class CommandTree {
    private static final List<String> HELP = List.of("-h", "--help", "help");

    private final IFactory factory;
    private final PrintWriter out;
    private final PrintWriter err;

    /**
     * @param factory makes commands and what they name
     * @param out results, and help
     * @param err everything else
     */
    CommandTree(IFactory factory, PrintWriter out, PrintWriter err) {
        this.factory = factory;
        this.out = out;
        this.err = err;
    }

    /** All commands with all that they take. */
    CommandLine whole() {
        CommandLine line = root();
        for (Class<?> command : Shiftstand.COMMANDS) {
            add(command, line);
        }
        return finished(line);
    }

    /**
     * As {@link #whole()} for these arguments: the commands that they name, or for the list of commands what it says of each.
     */
    CommandLine forArguments(String... args) {
        List<String> words = List.of(args);
        for (String word : words) {
            if (word.startsWith("@")) { // a file with arguments, which may name any command
                return whole();
            }
        }
        CommandLine line = root();
        for (Class<?> command : Shiftstand.COMMANDS) {
            if (words.contains(name(command))) {
                add(command, line);
            }
        }
        if (line.getSubcommands().isEmpty() && !Collections.disjoint(words, HELP)) {
            for (Class<?> command : Shiftstand.COMMANDS) {
                line.addSubcommand(inBrief(command.getAnnotation(Command.class)));
            }
        }
        return finished(line);
    }

    /** What its annotation names it, without reading that: {@code judge} of {@code JudgeCommand}. */
    static String name(Class<?> command) {
        return command.getSimpleName().replace("Command", "").toLowerCase(Locale.ROOT);
    }

    private CommandLine root() {
        CommandLine line = new CommandLine(new Shiftstand(), factory);
        line.getCommandSpec()
                .versionProvider(new Version())
                .addOption(OptionSpec.builder("-V", "--version")
                        .versionHelp(true)
                        .description("Show the version.")
                        .build());
        addHelp(line);
        return line;
    }

    private void add(Class<?> command, CommandLine line) {
        CommandLine below = new CommandLine(made(command), factory);
        addHelpBelow(below);
        line.addSubcommand(below);
    }

    private Object made(Class<?> command) {
        try {
            return factory.create(command);
        } catch (Exception e) {
            throw new InitializationException("cannot make " + command.getName(), e);
        }
    }

    private CommandSpec inBrief(Command said) {
        CommandSpec brief = CommandSpec.wrapWithoutInspection(said, factory).name(said.name());
        brief.usageMessage().description(said.description());
        return brief;
    }

    /** What holds for every command, set when all are there. */
    private CommandLine finished(CommandLine line) {
        line.setOut(out);
        line.setErr(err);
        line.setUsageHelpWidth(100);
        line.setUsageHelpAutoWidth(false);
        line.setColorScheme(Help.defaultColorScheme(Help.Ansi.OFF));
        Map<String, IHelpSectionRenderer> sections = new HashMap<>(line.getHelpSectionMap());
        sections.put(UsageMessageSpec.SECTION_KEY_FOOTER, new FooterWithKeys());
        line.setHelpSectionMap(sections);
        line.setExecutionExceptionHandler(new Failures());
        line.setParameterExceptionHandler(new Misuse(this));
        return line;
    }

    private static void addHelpBelow(CommandLine line) {
        addHelp(line);
        for (CommandLine below : line.getSubcommands().values()) {
            addHelpBelow(below);
        }
    }

    /** Every command has the same help option, last in its list. */
    private static void addHelp(CommandLine line) {
        line.getCommandSpec()
                .addOption(OptionSpec.builder("-h", "--help")
                        .usageHelp(true)
                        .description("Show this help.")
                        .build());
        setApart(line.getCommandSpec());
    }

    /** An empty line between what a command does and the lists of what it takes. */
    private static void setApart(CommandSpec command) {
        UsageMessageSpec help = command.usageMessage();
        if (!command.positionalParameters().isEmpty()) {
            help.parameterListHeading("%n");
        } else if (help.optionListHeading().isEmpty()) {
            help.optionListHeading("%n");
        }
        help.commandListHeading("%nCommands:%n");
    }

    /** Help of {@code rig simulate} ends with every key of a simulated rig, from where they are read. */
    private static final class FooterWithKeys implements IHelpSectionRenderer {
        @Override
        public String render(Help help) {
            return help.footer() + (help.commandSpec().name().equals("simulate") ? SimOptions.help() : "");
        }
    }
}
