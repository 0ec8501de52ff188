package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Scalar;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads specs: every problem of a file at once, and nothing is taken for something simpler. */
public final class SpecReader {
    private static final double DEFAULT_BAND_DEG = 20;
    /** A band of a full turn could not tell one rest from the next on any drive. */
    private static final double WIDEST_BAND_DEG = 360;

    private final Problems problems;
    private final Table root;
    private final TextFile file;

    private SpecReader(TextFile file) {
        this.file = file;
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a spec");
    }

    /**
     * Finds a spec as the user named it and reads it.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Spec find(String typed) {
        return read(Bundled.find(typed, Bundled.Kind.SPEC));
    }

    /**
     * Reads a spec.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Spec read(TextFile file) {
        return new SpecReader(file).spec();
    }

    /**
     * The file of the profile that a spec names, beside it or packed; empty where it names none.
     *
     * @throws BadInput where there is no such file
     */
    public static Optional<TextFile> profileOf(TextFile file, Spec spec) {
        return spec.profile().map(named -> Bundled.beside(file, named, Bundled.Kind.PROFILE));
    }

    private Spec spec() {
        root.only("spec", "version", "title", "profile", "settle-band", "stall-current", "decision", "clauses");
        Optional<String> name = root.need("spec", "the spec's name, such as 'tarn-drive-end-of-line'")
                .flatMap(Node::identifier);
        Optional<Integer> version = root.need("version", "a whole number, raised whenever the text changes")
                .flatMap(node -> node.whole(1, 1_000_000));
        Optional<String> title = root.find("title").flatMap(node -> node.text("a title in words"));
        Optional<String> profile = root.find("profile").flatMap(node -> node.text("the path of a profile"));
        double band = root.find("settle-band")
                .flatMap(SpecReader::band)
                .map(Quantity::base)
                .orElse(DEFAULT_BAND_DEG);
        Optional<Quantity> stall = root.find("stall-current").flatMap(node -> node.positive(Dimension.CURRENT));
        Decision decision = root.find("decision")
                .flatMap(node -> node.table("{ rule: simple, claim: observed }"))
                .map(SpecReader::decision)
                .orElse(Decision.USUAL);
        List<Clause> clauses = clauses(decision);
        problems.check();
        return new Spec(
                name.orElseThrow(),
                version.orElseThrow(),
                title.orElse(name.orElseThrow()),
                profile,
                band,
                stall.map(q -> OptionalDouble.of(q.base())).orElse(OptionalDouble.empty()),
                decision,
                clauses,
                file.sha256());
    }

    private static Optional<Quantity> band(Node node) {
        return node.positive(Dimension.ANGLE).filter(band -> {
            boolean good = band.base() < WIDEST_BAND_DEG;
            if (!good) {
                node.problem("settle-band is " + band + "; expected less than 360 deg");
            }
            return good;
        });
    }

    private static Decision decision(Table table) {
        table.only(DecisionReader.KEYS.toArray(String[]::new));
        return DecisionReader.read(table, Decision.USUAL);
    }

    private List<Clause> clauses(Decision decision) {
        List<Node> items = root.need(
                        "clauses", "a list of clauses, each with an id, a measure, a statistic and a bound")
                .map(node -> node.items("a list of clauses"))
                .orElse(List.of());
        Map<String, Integer> lines = new HashMap<>();
        List<Clause> clauses = new ArrayList<>();
        for (Node item : items) {
            Optional<Table> table = item.table("a clause: id, measure, statistic and a bound");
            table.flatMap(t -> t.find("id")).ifPresent(id -> refuseDouble(id, lines));
            table.flatMap(t -> new ClauseReader(t, decision).clause()).ifPresent(clauses::add);
        }
        return clauses;
    }

    private static void refuseDouble(Node id, Map<String, Integer> lines) {
        if (id instanceof Scalar scalar) {
            Integer before = lines.putIfAbsent(scalar.value(), id.place().line());
            if (before != null) {
                id.problem("clause id '" + scalar.value() + "' is used before in line " + before
                        + "; expected each id once");
            }
        }
    }
}
