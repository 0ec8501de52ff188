package org.shiftstand.learn;

import java.util.Optional;

/**
 * One clause of a draft spec as text.
 *
 * @param where the inside of its braces, such as {@code from: 1, to: 2}; empty for all shifts
 * @param per such as {@code pair}; empty for the whole run
 * @param bound such as {@code at-most: 14 deg}
 * @param needs empty leaves the statistic's own number
 */
record DraftClause(
        String id,
        String measure,
        Optional<String> where,
        String statistic,
        Optional<String> per,
        String bound,
        Optional<String> needs,
        String because) {
    String text() {
        StringBuilder text = new StringBuilder("  - id: " + id + "\n    measure: " + measure + "\n");
        where.ifPresent(w -> text.append("    where: { ").append(w).append(" }\n"));
        text.append("    statistic: ").append(statistic).append('\n');
        per.ifPresent(p -> text.append("    per: ").append(p).append('\n'));
        text.append("    ").append(bound).append('\n');
        needs.ifPresent(n -> text.append("    needs: ").append(n).append('\n'));
        return text.append("    because: ").append(quoted(because)).append('\n').toString();
    }

    /** In single quotes nothing has a meaning but the quote itself (YAML 1.2, 7.3.2). */
    static String quoted(String words) {
        return "'" + Provenance.plain(words).replace("'", "''") + "'";
    }
}
