package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** The words of a decision that this version has, and those that it knows but refuses. */
final class Decision {
    private static final List<String> RULES = List.of("simple");
    private static final List<String> LATER_RULES = List.of("guarded");
    private static final List<String> CLAIMS = List.of("observed");
    private static final List<String> LATER_CLAIMS = List.of("process");

    private Decision() {}

    static void check(Table decision) {
        decision.only("rule", "claim", "confidence");
        decision.find("rule").ifPresent(Decision::rule);
        decision.find("claim").ifPresent(Decision::claim);
        decision.find("confidence").ifPresent(Decision::confidence);
    }

    static void rule(Node node) {
        known(node, "decision rule", RULES, LATER_RULES);
    }

    static void claim(Node node) {
        known(node, "claim", CLAIMS, LATER_CLAIMS);
    }

    private static void confidence(Node node) {
        Optional<Quantity> confidence = node.quantity(Dimension.RATIO);
        confidence
                .filter(q -> !(q.base() > 0 && q.base() < 1))
                .ifPresent(q -> node.problem("confidence is " + q + "; expected more than 0 % and less than 100 %"));
    }

    /** The word, where this version has it; a later one is told apart from a misspelt one. */
    static Optional<String> known(Node node, String what, List<String> words, List<String> later) {
        String expected = "expected " + (words.size() == 1 ? "" : "one of ") + String.join(", ", words);
        Optional<String> word = node.text(expected.substring("expected ".length()));
        if (word.isEmpty() || words.contains(word.get())) {
            return word;
        }
        if (later.contains(word.get())) {
            node.problem(
                    what + " '" + word.get() + "' is a known word, but this version does not have it; " + expected);
        } else {
            var all = new ArrayList<>(words);
            all.addAll(later);
            node.problem(
                    "unknown " + what + " '" + word.get() + "'; " + expected + "." + Nearest.hint(word.get(), all));
        }
        return Optional.empty();
    }
}
