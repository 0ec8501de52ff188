package org.shiftstand.report;

import java.util.List;
import java.util.Optional;

/** Everything that the page of a comparison shows, in reading order; texts not escaped yet, drawings are. */
record ComparisonSheet(
        Head head,
        List<Fact> what,
        List<RunRow> runs,
        List<Shown> shown,
        String moreShown,
        List<Part> parts,
        List<Row> told,
        String toldIntro,
        List<String> claims,
        List<String> notices,
        List<String> cautions,
        String version,
        String generated) {

    /**
     * The verdict and what it rests on.
     *
     * @param tone class name for its colour
     * @param before firmware of the base
     * @param after firmware of the candidate
     */
    record Head(
            String symbol,
            String word,
            String tone,
            String unit,
            String spec,
            String reason,
            String before,
            String after,
            List<Fact> facts) {}

    record Fact(String label, String value) {}

    record RunRow(String side, String name, String firmware, String began, String shifts, String sha256) {}

    /**
     * A group that is not equivalent, or not the same, with drawings before and after.
     *
     * @param values each shift as a dot
     * @param overlay one shift before and one after, drawn over each other
     */
    record Shown(
            String symbol,
            String word,
            String tone,
            String anchor,
            String name,
            String reason,
            Optional<Plate> values,
            Optional<Plate> overlay) {}

    /** One clause: its groups on one scale. */
    record Part(
            String symbol,
            String anchor,
            String name,
            String subject,
            String because,
            String counts,
            Plate plate,
            List<Row> rows) {}

    record Row(
            String symbol,
            String word,
            String tone,
            String group,
            String n,
            String before,
            String after,
            String difference,
            String interval,
            String margin,
            String p,
            String note) {}
}
