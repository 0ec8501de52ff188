package org.shiftstand.cli.manual;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.shiftstand.report.Cautions;
import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;
import picocli.CommandLine.Model.UsageMessageSpec;

/** The man page of one command, in section 1: what its help says, and where to read on. */
final class ManPage {
    private final Entry entry;
    private final Entry root;
    private final Help help;
    private final Roff page = new Roff();

    private ManPage(Entry entry, Entry root) {
        this.entry = entry;
        this.root = root;
        this.help = entry.line().getHelp();
    }

    /**
     * Its text in roff.
     *
     * @param version such as {@code 0.1.0}
     * @param date of this version, ISO 8601
     */
    static String of(Entry entry, Entry root, String version, String date) {
        return new ManPage(entry, root).text(version, date);
    }

    private String text(String version, String date) {
        page.title(
                entry.page().toUpperCase(Locale.ROOT), date, root.word() + " " + version, "Commands of " + root.word());
        page.section("NAME").line(entry.page() + " - " + entry.summary().replaceFirst("\\.$", ""));
        synopsis();
        page.section("DESCRIPTION");
        entry.description().forEach(page::paragraph);
        arguments();
        options();
        commands();
        footer();
        cautions();
        seeAlso();
        return page.toString();
    }

    private void synopsis() {
        String whole = help.synopsis(0).strip().replaceAll("\\s+", " ");
        String after =
                whole.startsWith(entry.title()) ? whole.substring(entry.title().length()) : " " + whole;
        page.section("SYNOPSIS").marked(Roff.bold(entry.title())).line(after.strip());
    }

    private void arguments() {
        if (!entry.arguments().isEmpty()) {
            page.section("ARGUMENTS");
        }
        for (PositionalParamSpec argument : entry.arguments()) {
            page.term(Roff.italic(label(argument).strip()), said(argument));
        }
    }

    private void options() {
        page.section("OPTIONS");
        for (OptionSpec option : entry.options()) {
            String names =
                    java.util.Arrays.stream(option.names()).map(Roff::bold).collect(Collectors.joining(", "));
            String label = Entry.takesValue(option) ? Roff.italic(label(option)) : "";
            page.term(names + label, said(option));
        }
    }

    /** With separator and repetition, as the help has it: {@code =WORD[,WORD...]}. */
    private String label(ArgSpec argument) {
        return help.parameterLabelRenderer()
                .renderParameterLabel(argument, Ansi.OFF, List.of())
                .toString();
    }

    private static String said(ArgSpec argument) {
        Taken taken = Taken.by(argument);
        String names = taken.files() == Taken.Files.ANY && !taken.words().isEmpty()
                ? " Packed with the program: " + String.join(", ", taken.words()) + "."
                : "";
        return (argument.required() && argument instanceof OptionSpec ? "Required. " : "")
                + Entry.said(argument)
                + names;
    }

    private void commands() {
        if (!entry.below().isEmpty()) {
            page.section("COMMANDS");
        }
        for (Entry child : entry.below()) {
            page.term(reference(child.page()), child.summary());
        }
    }

    /** What the help ends with: examples, and what else there is to know. */
    private void footer() {
        CommandLine.IHelpSectionRenderer last =
                entry.line().getHelpSectionMap().get(UsageMessageSpec.SECTION_KEY_FOOTER);
        String text = last == null ? "" : last.render(help);
        List<Block> blocks = Block.of(text);
        for (Block block : blocks) {
            if (block.kind() == Block.Kind.EXAMPLES) {
                page.section("EXAMPLES").example(block.lines());
            }
        }
        boolean first = true;
        for (Block block : blocks) {
            if (block.kind() != Block.Kind.EXAMPLES && first) {
                page.section("NOTES");
                first = false;
            }
            if (block.kind() == Block.Kind.TEXT) {
                page.paragraph(String.join(" ", block.lines()));
            } else if (block.kind() == Block.Kind.TABLE) {
                page.example(block.lines());
            }
        }
    }

    /** In full once, pointed to everywhere. */
    private void cautions() {
        page.section("CAUTIONS");
        if (entry.equals(root)) {
            Cautions.read().forEach(page::paragraph);
        } else {
            page.paragraph(
                    "A powered drive pinches fingers, runs against hard stops, and is fed from lithium cells: read"
                            + " the cautions in " + root.page() + "(1) before the first real rig.");
        }
    }

    private void seeAlso() {
        List<String> pages = new ArrayList<>();
        for (int words = 1; words < entry.words().size(); words++) {
            pages.add(reference(String.join("-", entry.words().subList(0, words))));
        }
        entry.below().forEach(child -> pages.add(reference(child.page())));
        if (!pages.isEmpty()) {
            page.section("SEE ALSO").marked(String.join(",\n", pages));
        }
    }

    private static String reference(String name) {
        return Roff.bold(name) + "(1)";
    }
}
