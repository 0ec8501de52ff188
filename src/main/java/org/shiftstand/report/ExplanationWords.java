package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.shiftstand.planning.Assumptions;
import org.shiftstand.planning.Chance;
import org.shiftstand.planning.Explanation;
import org.shiftstand.planning.SoundUnit;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Statistic;

/** Sentences of an explained spec. */
final class ExplanationWords {
    private ExplanationWords() {}

    /** {@code The standard deviation of landing, per sprocket and direction, must be at most 18 deg.} */
    static String demand(Clause clause) {
        String subject = Words.subject(clause);
        int only = subject.indexOf("; only ");
        String what = only < 0 ? subject : subject.substring(0, only);
        return Words.capital(what.startsWith("every ") ? what : "the " + what)
                + (what.contains(", per ") ? ", must be " : " must be ")
                + Words.bound(clause.bound(), shown(clause))
                + (only < 0 ? "" : " (" + subject.substring(only + 2) + ")") + ".";
    }

    /** The author's unit; of counts shifts, which a bare number means there. */
    static Unit shown(Clause clause) {
        return clause.statistic().kind() == Statistic.Kind.COUNT
                ? Unit.SHIFTS
                : clause.bound().unit();
    }

    /** {@code 1 of 200 (0.1 to 2.8 %)}: counted, with the 95 % score interval. */
    static String chance(Chance chance) {
        return chance.hits() + " of " + chance.trials() + " (" + Figures.bare(100 * chance.low(), 1) + " to "
                + Figures.bare(100 * chance.high(), 1) + Figures.NO_BREAK + "%)";
    }

    static String percent(double share) {
        return Figures.asWritten(Math.rint(share * 1000) / 10) + Figures.NO_BREAK + "%";
    }

    /** What the chances rest on. */
    static List<String> assumptions(Explanation explained) {
        Assumptions given = explained.assumptions();
        List<String> sentences = new ArrayList<>();
        sentences.add("Simulated, not measured: " + given.repetitions() + " units of each quality, "
                + Figures.count(explained.plannedCycles(), "cycle") + " each, judged as a real one is; seed "
                + given.seed() + ". In brackets the 95" + Figures.NO_BREAK + "% interval of the simulation.");
        sentences.add("A sound unit does what its profile says and scatters normally; standard deviations: "
                + String.join(", ", scatters(explained)) + ". That of landings, and of the wake-up error, is common"
                + " practice, no published source; all others are assumed.");
        sentences.add((given.everywhere()
                        ? "A bad unit is bad in every group alike"
                        : "A bad unit is bad in one group, the one nearest to its bound")
                + ": its mean stands one standard deviation beyond what would turn an ideal unit's verdict, or it"
                + " scatters one and a half times as wide, or 5" + Figures.NO_BREAK
                + "% or more of its shifts go wrong.");
        List<String> guarded = explained.guarded();
        if (!guarded.isEmpty()) {
            sentences.add(
                    "Guard bands are not in these chances: they come from the uncertainty of a run. With them fewer bad"
                            + " units pass than told here, and fewer sound ones, in "
                            + (guarded.size() == explained.clauses().size()
                                    ? "every clause"
                                    : String.join(", ", guarded))
                            + ".");
        }
        return sentences;
    }

    private static List<String> scatters(Explanation explained) {
        SoundUnit unit = explained.assumptions().unit();
        Set<Measure> judged = new TreeSet<>();
        explained.spec().clauses().stream()
                .map(Clause::measure)
                .flatMap(Optional::stream)
                .forEach(judged::add);
        return judged.stream()
                .map(measure -> Words.spaced(measure.key()) + " " + Figures.asWritten(unit.sd(measure), measure.unit()))
                .toList();
    }
}
