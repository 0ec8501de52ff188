package org.shiftstand.judge;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Dates;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problem;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;

/** Reads particulars files: every problem of a file at once. Every key may be left out. */
public final class ParticularsReader {
    /** A paragraph; a report has no room for more in one place. */
    private static final int MOST_CHARACTERS = 2000;

    private static final int MOST_ITEMS = 50;

    private final Problems problems;
    private final Table root;
    private final String sha256;

    private ParticularsReader(TextFile file) {
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a particulars file");
        this.sha256 = file.sha256();
    }

    /**
     * Finds a particulars file as the user named it.
     *
     * @throws BadInput where there is none
     */
    public static TextFile find(String typed) {
        return Bundled.find(typed, Bundled.Kind.PARTICULARS);
    }

    /**
     * Reads a particulars file.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Particulars read(TextFile file) {
        return new ParticularsReader(file).particulars();
    }

    /**
     * Reads the particulars of a unit.
     *
     * @param unit which; empty where the run does not say it
     * @throws BadInput with everything that is wrong, or where the file is of another unit
     */
    public static Particulars read(TextFile file, Optional<String> unit) {
        Particulars read = read(file);
        if (unit.isPresent() && read.unit().isPresent() && !read.unit().equals(unit)) {
            throw new BadInput(new Problem(
                    file.name(),
                    0,
                    0,
                    "is about unit " + read.unit().get() + ", and the unit is " + unit.get()
                            + "; expected the particulars of the same unit. Name its own file with --particulars, or"
                            + " leave 'unit' out where the lines hold for any unit"));
        }
        return read;
    }

    private Particulars particulars() {
        root.only(
                "laboratory",
                "place",
                "customer",
                "item",
                "method",
                "worked",
                "sampling-plan",
                "environment",
                "deviations",
                "external-results",
                "authorised-by");
        Optional<Table> laboratory = part("laboratory", "{ name: …, address: … }", "name", "address");
        Optional<Table> customer = part("customer", "{ name: …, contact: … }", "name", "contact");
        Optional<Table> item = part(
                "item",
                "{ description: …, condition: …, received: 2026-11-24 }",
                "unit",
                "description",
                "condition",
                "received",
                "sampled");
        Particulars read = new Particulars(
                text(laboratory, "name"),
                text(laboratory, "address"),
                text(Optional.of(root), "place"),
                text(customer, "name"),
                text(customer, "contact"),
                item.flatMap(t -> t.find("unit")).flatMap(Node::identifier),
                text(item, "description"),
                text(item, "condition"),
                item.flatMap(t -> t.find("received")).flatMap(Dates::day),
                item.flatMap(t -> t.find("sampled")).flatMap(Dates::day),
                text(Optional.of(root), "method"),
                days("worked"),
                text(Optional.of(root), "sampling-plan"),
                text(Optional.of(root), "environment"),
                texts("deviations"),
                texts("external-results"),
                text(Optional.of(root), "authorised-by"),
                Optional.of(sha256));
        problems.check();
        return read;
    }

    private Optional<Table> part(String key, String expected, String... known) {
        Optional<Table> table = root.find(key).flatMap(node -> node.table(expected));
        table.ifPresent(t -> t.only(known));
        return table;
    }

    private static Optional<String> text(Optional<Table> table, String key) {
        return table.flatMap(t -> t.find(key)).flatMap(ParticularsReader::text);
    }

    private static Optional<String> text(Node node) {
        return node.text("words; leave the key out where nothing is to be stated")
                .filter(text -> {
                    int length = text.codePointCount(0, text.length());
                    if (length > MOST_CHARACTERS) {
                        node.problem(
                                node.name() + " has " + length + " characters; expected at most " + MOST_CHARACTERS);
                    }
                    return length <= MOST_CHARACTERS;
                })
                .map(String::strip);
    }

    private List<String> texts(String key) {
        List<String> read = new ArrayList<>();
        several(key).forEach(node -> text(node).ifPresent(read::add));
        return read;
    }

    private List<LocalDate> days(String key) {
        List<LocalDate> read = new ArrayList<>();
        several(key).forEach(node -> Dates.day(node).ifPresent(read::add));
        return read;
    }

    private List<Node> several(String key) {
        Optional<Node> node = root.find(key);
        List<Node> nodes = node.map(Node::oneOrMany).orElse(List.of());
        if (nodes.size() > MOST_ITEMS) {
            node.orElseThrow().problem(key + " has " + nodes.size() + " items; expected at most " + MOST_ITEMS);
            return List.of();
        }
        return nodes;
    }
}
