package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.shiftstand.document.Nearest;
import picocli.CommandLine;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.MaxValuesExceededException;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/**
 * A command line that cannot be understood: one line with the command, what is wrong, the nearest valid word, and where the
 * help is; exit 2.
 */
final class Misuse implements IParameterExceptionHandler {
    private final CommandTree tree;

    /** Looks for the nearest word in the whole tree of commands, where the one at hand may be short of what was not named. */
    Misuse(CommandTree tree) {
        this.tree = tree;
    }

    @Override
    public int handleParseException(ParameterException e, String[] args) {
        return tell(inWholeTree(e, args));
    }

    private ParameterException inWholeTree(ParameterException e, String... args) {
        try {
            tree.whole().parseArgs(args);
            return e;
        } catch (ParameterException there) {
            return there;
        }
    }

    private static int tell(ParameterException e) {
        ParameterException first = beforeItsName(e).orElse(e);
        CommandLine line = first.getCommandLine();
        String command = line.getCommandSpec().qualifiedName();
        line.getErr().println(PlainText.of(command + ": " + what(first) + " Help: " + command + " --help"));
        return ExitCode.BAD_INPUT;
    }

    /** What nobody knew in front of the command's name is told first: what follows may only be missing for that. */
    private static Optional<ParameterException> beforeItsName(ParameterException e) {
        for (CommandLine above = e.getCommandLine().getParent(); above != null; above = above.getParent()) {
            List<String> unmatched = above.getUnmatchedArguments();
            if (!unmatched.isEmpty()) {
                return Optional.of(new UnmatchedArgumentException(above, unmatched));
            }
        }
        return Optional.empty();
    }

    private static String what(ParameterException e) {
        CommandSpec command = e.getCommandLine().getCommandSpec();
        if (e instanceof UnmatchedArgumentException unmatched) {
            return unknown(command, unmatched);
        }
        if (e instanceof MissingParameterException missing) {
            return missing(missing.getMissing(), String.valueOf(missing.getMessage()));
        }
        if (e instanceof OverwrittenOptionException twice) {
            return name(twice.getOverwritten()) + " is given twice; expected once.";
        }
        ArgSpec of = e.getArgSpec();
        String typed = e.getValue();
        if (of != null && typed != null && !(e instanceof MaxValuesExceededException)) {
            return isOf(of, boolean.class, Boolean.class)
                    ? name(of) + " takes no value; expected it alone, without " + typed + "."
                    : name(of) + " " + typed + ": expected " + kind(of) + "." + hint(of, typed);
        }
        return sentence(String.valueOf(e.getMessage()));
    }

    private static String unknown(CommandSpec command, UnmatchedArgumentException e) {
        String typed = e.getUnmatched().get(0);
        if (typed.startsWith("-") && typed.length() > 1) {
            String word = typed.contains("=") ? typed.substring(0, typed.indexOf('=')) : typed;
            return "there is no option " + word + "."
                    + Nearest.to(word, optionNames(command))
                            .map(near -> " Did you mean " + near + "?")
                            .orElseGet(() -> below(command, word));
        }
        if (!command.subcommands().isEmpty()) {
            return "there is no command '" + typed + "'." + command(command, typed);
        }
        return "'" + typed + "' is one argument too many; expected "
                + (command.positionalParameters().isEmpty()
                        ? "options only."
                        : parameters(command) + " and options. A name with spaces needs quotes.");
    }

    /** An option that a command below has: it was typed before the command's name. */
    private static String below(CommandSpec command, String word) {
        boolean known = command.subcommands().values().stream()
                .anyMatch(sub -> optionNames(sub.getCommandSpec()).contains(word));
        return known ? " Options of a command stand after its name." : "";
    }

    /** The nearest command: of this level, else of any level by its last word; where none is near, all of this level. */
    private static String command(CommandSpec command, String typed) {
        List<CommandSpec> all = new ArrayList<>();
        command.subcommands().values().forEach(sub -> all.add(sub.getCommandSpec()));
        Optional<CommandSpec> near = nearest(typed, all);
        if (near.isEmpty()) {
            List<CommandSpec> anywhere = new ArrayList<>();
            command.root().subcommands().values().forEach(sub -> anywhere.add(sub.getCommandSpec()));
            command.root()
                    .subcommands()
                    .values()
                    .forEach(sub ->
                            sub.getSubcommands().values().forEach(deeper -> anywhere.add(deeper.getCommandSpec())));
            near = nearest(typed, anywhere);
        }
        return near.map(found -> " Did you mean '" + found.qualifiedName() + "'?")
                .orElseGet(() -> " Expected one of "
                        + all.stream().map(CommandSpec::name).collect(Collectors.joining(", ")) + ".");
    }

    private static Optional<CommandSpec> nearest(String typed, List<CommandSpec> commands) {
        return Nearest.to(typed, commands.stream().map(CommandSpec::name).toList())
                .flatMap(name -> commands.stream()
                        .filter(command -> command.name().equals(name))
                        .findFirst());
    }

    private static String missing(List<ArgSpec> missing, String otherwise) {
        if (missing.isEmpty()) {
            return sentence(otherwise);
        }
        if (otherwise.contains("parameter for option") && missing.get(0) instanceof OptionSpec option) {
            return option.longestName() + " needs a value: " + about(option);
        }
        if (otherwise.startsWith("Expected parameter")) {
            return sentence(otherwise);
        }
        return missing.stream()
                .map(arg -> name(arg) + " is missing: " + about(arg))
                .distinct()
                .collect(Collectors.joining(" "));
    }

    /** What help says of it, as a sentence. */
    private static String about(ArgSpec arg) {
        String said = String.join(" ", arg.renderedDescription()).strip();
        return said.isEmpty() ? kind(arg) + "." : said;
    }

    private static String name(ArgSpec arg) {
        return arg instanceof OptionSpec option ? option.longestName() : arg.paramLabel();
    }

    private static String parameters(CommandSpec command) {
        return command.positionalParameters().stream().map(ArgSpec::paramLabel).collect(Collectors.joining(" "));
    }

    private static List<String> optionNames(CommandSpec command) {
        return command.options().stream()
                .flatMap(option -> List.of(option.names()).stream())
                .toList();
    }

    /** What a value must look like, told from the type that it is read into. */
    private static String kind(ArgSpec arg) {
        if (isOf(arg, int.class, Integer.class, long.class, Long.class)) {
            return "a whole number";
        }
        if (isOf(arg, double.class, Double.class)) {
            return "a number with a decimal point, such as 12.5";
        }
        return isOf(arg, Path.class) ? "the name of a file or folder" : "a value";
    }

    private static boolean isOf(ArgSpec arg, Class<?>... types) {
        Class<?> type = arg.auxiliaryTypes().length > 0 ? arg.auxiliaryTypes()[0] : arg.type();
        return List.of(types).contains(type);
    }

    /** A decimal comma is the usual slip. */
    private static String hint(ArgSpec arg, String typed) {
        return isOf(arg, double.class, Double.class) && typed.matches("-?[0-9]+,[0-9]+")
                ? " Did you mean " + typed.replace(',', '.') + "?"
                : "";
    }

    private static String sentence(String text) {
        return text.endsWith(".") ? text : text + ".";
    }
}
