package org.shiftstand.procedure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.procedure.Procedure.OnLinkLoss;
import org.shiftstand.procedure.Procedure.Origin;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads procedures: every problem of a file at once. */
public final class ProcedureReader {
    private static final double DEFAULT_RATE_HZ = 512;
    private static final double LOWEST_RATE_HZ = 50;
    private static final double HIGHEST_RATE_HZ = 100_000;

    /** A port that the system finds anew needs about as much; common practice, no published source. */
    private static final double LEAST_WAIT_S = 1;

    private static final double LONGEST_WAIT_S = 3600;

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
        root.only("procedure", "version", "title", "sample-rate", "steps", "stop-when", "on-link-loss");
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
        StopWhen stopWhen =
                root.find("stop-when").map(node -> new StopReader().read(node)).orElse(StopWhen.NOTHING);
        OnLinkLoss onLinkLoss =
                root.find("on-link-loss").flatMap(ProcedureReader::onLinkLoss).orElseGet(OnLinkLoss.Stop::new);
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
                onLinkLoss,
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

    private static Optional<OnLinkLoss> onLinkLoss(Node node) {
        if (node instanceof Table table) {
            table.only("reconnect");
            Optional<Node> within = table.need("reconnect", "how long to wait for the port, such as '30 s'");
            return within.flatMap(n -> n.quantity(Dimension.TIME)).flatMap(q -> reconnect(within.get(), q));
        }
        return node.text("'stop', or '{ reconnect: 30 s }'").flatMap(word -> {
            if (!word.equals("stop")) {
                node.problem("on-link-loss is '" + word + "'; expected 'stop', or '{ reconnect: 30 s }'");
                return Optional.empty();
            }
            return Optional.of(new OnLinkLoss.Stop());
        });
    }

    private static Optional<OnLinkLoss> reconnect(Node node, Quantity within) {
        if (within.base() < LEAST_WAIT_S || within.base() > LONGEST_WAIT_S) {
            node.problem("reconnect is " + within + "; expected 1 s to 1 h");
            return Optional.empty();
        }
        return Optional.of(new OnLinkLoss.Reconnect(within.base()));
    }
}
