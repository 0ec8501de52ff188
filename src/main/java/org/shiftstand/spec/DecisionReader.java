package org.shiftstand.spec;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads rule, claim, confidence and wanted risk: of a whole spec, or of one clause on top of it. */
final class DecisionReader {
    static final List<String> KEYS = List.of("rule", "claim", "confidence", "false-accept");
    private static final List<String> RULES =
            Arrays.stream(Decision.Rule.values()).map(Decision.Rule::word).toList();
    private static final List<String> CLAIMS =
            Arrays.stream(Decision.Claim.values()).map(Decision.Claim::word).toList();

    private DecisionReader() {}

    /** What the table says, and where it says nothing what holds for the rest. */
    static Decision read(Table table, Decision rest) {
        Decision.Rule rule = table.find("rule")
                .flatMap(node -> node.oneOf("decision rule", RULES))
                .flatMap(Decision::rule)
                .orElse(rest.rule());
        Decision.Claim claim = table.find("claim")
                .flatMap(node -> node.oneOf("claim", CLAIMS))
                .flatMap(Decision::claim)
                .orElse(rest.claim());
        double confidence =
                table.find("confidence").flatMap(DecisionReader::confidence).orElse(rest.confidence());
        Optional<Node> risk = table.find("false-accept");
        if (rule == Decision.Rule.SIMPLE) {
            risk.ifPresent(node -> node.problem("false-accept sets a guard band, and rule 'simple' has none; expected"
                    + " 'rule: guarded' beside it"));
        }
        OptionalDouble falseAccept = risk.isPresent()
                ? risk.flatMap(DecisionReader::risk).map(OptionalDouble::of).orElse(OptionalDouble.empty())
                : rest.falseAccept();
        return new Decision(
                rule, claim, confidence, rule == Decision.Rule.SIMPLE ? OptionalDouble.empty() : falseAccept);
    }

    static Optional<Double> confidence(Node node) {
        Optional<Double> read = between(node, "confidence", 1, "100 %");
        return read.filter(c -> {
            if (c < 0.5) {
                node.problem("confidence is below 50 %: it would claim more than was seen; expected the likes of 95 %");
            }
            return c >= 0.5;
        });
    }

    private static Optional<Double> risk(Node node) {
        return between(node, "false-accept", 0.5, "50 %, which no guard band at all has");
    }

    /** A ratio above 0 and below a limit; else noted. */
    static Optional<Double> between(Node node, String what, double below, String limit) {
        Optional<Quantity> share = node.quantity(Dimension.RATIO);
        share.filter(q -> !(q.base() > 0 && q.base() < below))
                .ifPresent(q -> node.problem(what + " is " + q + "; expected more than 0 % and less than " + limit));
        return share.map(Quantity::base).filter(q -> q > 0 && q < below);
    }
}
