package org.shiftstand.reference;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/** Collects figures of one source, published and ours. */
final class Comparisons {
    private final List<Row> rows = new ArrayList<>();

    /**
     * One figure or word beside ours.
     *
     * @param problem empty where they agree as they should
     */
    record Row(String what, String published, String ours, String difference, String allowed, String problem) {}

    /**
     * A figure that may differ by so much.
     *
     * @param within greatest difference, absolute: half a unit of the last printed digit, or what the source's notes
     *     allow
     */
    void figure(String what, double published, double ours, double within) {
        double off = Math.abs(ours - published);
        rows.add(new Row(
                what,
                FigureText.exact(published),
                FigureText.beside(ours, within),
                FigureText.difference(off, within),
                FigureText.exact(within),
                off <= within ? "" : "off by " + off)); // NaN is a problem as well
    }

    /** As {@link #figure}, where ours may be missing: a missing one is a problem. */
    void figure(String what, double published, OptionalDouble ours, double within) {
        figure(what, published, ours.orElse(Double.NaN), within);
    }

    /** A figure of full double precision: may differ by this share of itself. */
    void computed(String what, double published, double ours, double share) {
        figure(what, published, ours, Math.max(Math.abs(published) * share, Double.MIN_NORMAL));
    }

    /** A word, count or verdict, which must be the same. */
    void word(String what, String published, String ours) {
        boolean same = published.equals(ours);
        rows.add(new Row(what, published, ours, same ? "none" : "another", "none", same ? "" : "not the same"));
    }

    /** As {@link #word}. */
    void count(String what, long published, long ours) {
        word(what, Long.toString(published), Long.toString(ours));
    }

    List<Row> rows() {
        return rows;
    }
}
