package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Resumption;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;

/** Where a run or its judging departed from what procedure and spec ask: what the program itself can see. */
final class Deviations {
    private Deviations() {}

    /** A sentence each, without a full stop; empty where there were none. */
    static List<String> of(Judgement judgement) {
        List<String> found = new ArrayList<>();
        judgement.runEnd().ifPresent(why -> found.add("the run ended early: " + why));
        judgement.table().resumptions().stream().map(Resumption::sentence).forEach(found::add);
        settings(judgement, found);
        found.addAll(judgement.circumstances().departures());
        evidence(judgement, found);
        judgement.clauses().forEach(clause -> unmeasured(clause, found));
        return found;
    }

    private static void settings(Judgement judgement, List<String> found) {
        double band = judgement.table().bandDeg();
        if (band != judgement.spec().bandDeg()) {
            found.add("the settle band was set to " + Figures.asWritten(band, Unit.DEG) + "; the spec asks for "
                    + Figures.asWritten(judgement.spec().bandDeg(), Unit.DEG));
        }
        if (judgement.table().senseFrom().equals("option")) {
            found.add("the sense of rotation was set by hand: "
                    + judgement.table().sense());
        }
    }

    private static void evidence(Judgement judgement, List<String> found) {
        for (Evidence evidence : Evidence.values()) {
            long seen = judgement.table().shifts().stream()
                    .filter(s -> s.evidence() == evidence && !judgement.table().brokenOff(s))
                    .count();
            if (evidence != Evidence.COMPLETE && seen > 0) {
                found.add("the evidence is not complete in " + Figures.count(seen, "shift") + " ("
                        + Words.spaced(evidence.word()) + ")");
            }
        }
    }

    private static void unmeasured(ClauseResult result, List<String> found) {
        long notMeasured =
                result.groups().stream().mapToLong(GroupResult::notMeasured).sum();
        long notMade = result.groups().stream().mapToLong(GroupResult::notMade).sum();
        if (notMeasured > 0) {
            found.add("clause " + result.clause().id() + ": " + Figures.count(notMeasured, "shift") + " not measured");
        }
        if (notMade > 0) {
            found.add("clause " + result.clause().id() + ": " + Figures.count(notMade, "shift")
                    + " of the procedure not made");
        }
    }
}
