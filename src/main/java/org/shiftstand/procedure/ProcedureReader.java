package org.shiftstand.procedure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Lasting;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.procedure.Procedure.Origin;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads procedures: every problem of a file at once. */
public final class ProcedureReader {
    private static final double DEFAULT_RATE_HZ = 512;
    private static final double LOWEST_RATE_HZ = 50;
    private static final double HIGHEST_RATE_HZ = 100_000;

    /** Words of outcomes that can end a run; a landing does not, and what is not known cannot. */
    private static final List<String> ENDING =
            List.of("interrupted", "not-settled", "reversed", "missed", "stalled", "short", "double");

    private final Problems problems;
    private final Table root;
    private final TextFile file;

    private ProcedureReader(TextFile file) {
        this.file = file;
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a procedure");
    }

    /**
     * Finds a procedure as the user named it and reads it.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Procedure find(String typed) {
        return read(Bundled.find(typed, Bundled.Kind.PROCEDURE));
    }

    /**
     * Reads a procedure.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Procedure read(TextFile file) {
        return new ProcedureReader(file).procedure();
    }

    private Procedure procedure() {
        root.only("procedure", "version", "title", "sample-rate", "steps", "stop-when");
        Optional<String> name = root.need("procedure", "the procedure's name, such as 'end-of-line'")
                .flatMap(Node::identifier);
        Optional<Integer> version = root.need("version", "a whole number, raised whenever the text changes")
                .flatMap(node -> node.whole(1, 1_000_000));
        root.find("title").ifPresent(node -> node.text("a title in words"));
        double rate = root.find("sample-rate")
                .flatMap(ProcedureReader::rate)
                .map(Quantity::base)
                .orElse(DEFAULT_RATE_HZ);
        var lines = new ArrayList<Integer>();
        List<Step> steps = root.need("steps", "a list of steps: " + String.join(", ", StepReader.KINDS))
                .map(node -> new StepReader(lines).steps(node))
                .orElse(List.of());
        StopWhen stopWhen = root.find("stop-when")
                .flatMap(node -> node.table("{ outcome: […], current-above: 9 A for 20 ms }"))
                .map(ProcedureReader::stopWhen)
                .orElse(new StopWhen(List.of(), OptionalDouble.empty(), OptionalDouble.empty()));
        if (problems.none()) {
            Readiness.check(steps, lines, problems);
        }
        problems.check();
        return new Procedure(
                name.orElseThrow(),
                version.orElseThrow(),
                rate,
                steps,
                stopWhen,
                file.sha256(),
                new Origin(file.name(), lines));
    }

    private static Optional<Quantity> rate(Node node) {
        return node.quantity(Dimension.FREQUENCY).filter(q -> {
            boolean good = q.base() >= LOWEST_RATE_HZ && q.base() <= HIGHEST_RATE_HZ;
            if (!good) {
                node.problem("sample-rate is " + q + "; expected 50 Hz to 100 kHz");
            }
            return good;
        });
    }

    private static StopWhen stopWhen(Table table) {
        table.only("outcome", "current-above");
        var outcomes = new ArrayList<String>();
        table.find("outcome")
                .ifPresent(node -> node.oneOrMany()
                        .forEach(item -> item.oneOf("outcome", ENDING).ifPresent(outcomes::add)));
        Optional<Lasting> current = table.find("current-above").flatMap(Lasting::currentFor);
        return new StopWhen(
                List.copyOf(outcomes),
                current.map(c -> OptionalDouble.of(c.size().base())).orElse(OptionalDouble.empty()),
                current.map(c -> OptionalDouble.of(c.duration().base())).orElse(OptionalDouble.empty()));
    }
}
