package org.shiftstand.classification;

import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Spec;

/** Where a spec's bounds lie, so that faults can be drawn from just beyond them whatever they are. */
record Demands(Spec spec, Profile profile) {
    /** Inside is up to here, in the base unit of the clause's measure. */
    double atMost(String clause) {
        return bound(clause).atMost().orElseThrow();
    }

    double atLeast(String clause) {
        return bound(clause).atLeast().orElseThrow();
    }

    private Bound bound(String id) {
        return spec.clauses().stream()
                .filter(clause -> clause.id().equals(id))
                .map(Clause::bound)
                .findFirst()
                .orElseThrow();
    }

    /** How much overtravel a nominal shift has above what is demanded, degrees; not above zero where nothing can lack. */
    double overtravelToLose(int from, int to) {
        return profile.overtravelDeg(from, to) - overtravel(from, to).atLeast().orElse(0);
    }

    /** How much overtravel a nominal shift may have more, degrees. */
    double overtravelToGain(int from, int to) {
        return overtravel(from, to).atMost().orElseThrow() - profile.overtravelDeg(from, to);
    }

    /** The bounds of the clause on every single overtravel of this pair. */
    private Bound overtravel(int from, int to) {
        Direction direction = Direction.of(Integer.signum(to - from));
        return spec.clauses().stream()
                .filter(clause -> clause.measureKey().equals("overtravel"))
                .filter(clause -> selects(clause.where(), from, to, direction))
                .map(Clause::bound)
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("no clause on overtravel " + from + "-" + to));
    }

    private static boolean selects(Selection where, int from, int to, Direction direction) {
        return where.direction().map(d -> d == direction).orElse(true)
                && TruthJudge.in(where.from(), from)
                && TruthJudge.in(where.to(), to);
    }
}
