package org.shiftstand.learn.compare;

import java.util.List;
import java.util.Optional;

/**
 * A candidate held against a base.
 *
 * @param change equivalent where every judged group is; different where any is; else not decided
 * @param reason the group that decided, in its own words
 * @param sides the runs
 * @param spec name and version of the spec that has the margins; empty where none was named
 * @param confidence of the intervals, each limit one-sided; 1 − it is what the tests of no difference hold together
 * @param judged groups with a margin, in the order of the spec
 * @param told groups without a margin
 * @param unlike what was unlike and allowed to be
 * @param power chance that this many shifts show everything to be equivalent where nothing changed: of all groups
 *     together, taken as independent of each other; from the spreads found, so with few runs a rough figure
 * @param notices what a reader has to know
 */
public record Comparison(
        Change change,
        String reason,
        Sides sides,
        Optional<SpecName> spec,
        double confidence,
        List<Compared> judged,
        List<Compared> told,
        List<Unlike> unlike,
        double power,
        List<String> notices) {
    public Comparison {
        judged = List.copyOf(judged);
        told = List.copyOf(told);
        unlike = List.copyOf(unlike);
        notices = List.copyOf(notices);
    }

    /** Which spec it was. */
    public record SpecName(String name, int version, String title, String sha256) {}

    /** How many judged groups have this verdict. */
    public long count(Change verdict) {
        return judged.stream().filter(row -> row.change() == verdict).count();
    }

    public double alpha() {
        return 1 - confidence;
    }

    /** Firmware of the unit on the base side, as the records say. */
    public String firmwareBefore() {
        return Sides.firmware(sides.base());
    }

    /** Likewise of the candidate's. */
    public String firmwareAfter() {
        return Sides.firmware(sides.candidate());
    }
}
