package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Verdict;

/** A judgement on a terminal: the verdict and its reason first, then a line a clause. */
final class Summary {
    private Summary() {}

    static void print(Judgement j, PrintWriter out) {
        out.println(j.unit().map(unit -> unit + ": ").orElse("") + word(j.verdict()) + ". " + j.reason());
        int breaks = j.table().resumptions().size();
        if (breaks > 0) {
            out.println("The run was not made in one piece: it was broken off "
                    + (breaks == 1 ? "once" : breaks + " times") + " and went on; see the notes.");
        }
        out.println();
        for (ClauseResult clause : j.clauses()) {
            out.println(String.format(
                    Locale.ROOT,
                    "  %-10s  %-28s %14s   %s",
                    word(clause.verdict()),
                    clause.clause().id(),
                    value(clause.value(), clause.unit()),
                    bound(clause.clause().bound(), clause.unit())));
            if (clause.verdict() != Verdict.PASS) {
                out.println("              " + clause.reason());
            }
        }
        out.println();
        String outcomes = j.counts().entrySet().stream()
                .map(count -> count.getValue() + " " + count.getKey())
                .collect(Collectors.joining(", "));
        out.println("Shifts: " + j.table().shifts().size() + (outcomes.isEmpty() ? "" : " (" + outcomes + ")")
                + ". Spec: " + j.spec().name() + " version " + j.spec().version() + ", rule "
                + j.spec().rule()
                + ", claim " + j.spec().claim() + ".");
        j.notices().forEach(notice -> out.println("Note: " + notice));
    }

    /** A verdict as people read it. */
    static String word(Verdict verdict) {
        return switch (verdict) {
            case PASS -> "PASS";
            case FAIL -> "FAIL";
            case NO_VERDICT -> "NO VERDICT";
        };
    }

    private static String value(OptionalDouble value, Unit unit) {
        return value.isEmpty() ? "not measured" : number(value.getAsDouble()) + " " + unit.symbol();
    }

    private static String bound(Bound bound, Unit unit) {
        String low = bound.atLeast().isEmpty() ? "" : number(bound.atLeast().getAsDouble() / unit.inBase());
        String high = bound.atMost().isEmpty() ? "" : number(bound.atMost().getAsDouble() / unit.inBase());
        String symbol = " " + unit.symbol();
        if (low.isEmpty()) {
            return ("at most " + high + symbol).strip();
        }
        return (high.isEmpty() ? "at least " + low + symbol : "between " + low + " and " + high + symbol).strip();
    }

    /** Four significant digits, no exponent for what people measure here. */
    static String number(double value) {
        if (value == Math.rint(value) && Math.abs(value) < 1e7) {
            return String.format(Locale.ROOT, "%.0f", value);
        }
        double size = Math.abs(value);
        int decimals = size >= 1000 ? 0 : size >= 100 ? 1 : size >= 10 ? 2 : 3;
        return String.format(Locale.ROOT, "%." + decimals + "f", value);
    }
}
