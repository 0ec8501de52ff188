package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Puts a table together, row by row. A column whose head begins with {@code #} holds
 * numbers, with {@code $} digests. Not thread-safe. */
final class TableMaker {
    private final String label;
    private final String caption;
    private final List<LearnedSheet.Column> heads;
    private final List<LearnedSheet.Row> rows = new ArrayList<>();

    TableMaker(String label, String caption, String... heads) {
        this.label = label;
        this.caption = caption;
        this.heads = Arrays.stream(heads).map(TableMaker::column).toList();
    }

    private static LearnedSheet.Column column(String head) {
        return head.startsWith("#")
                ? new LearnedSheet.Column(head.substring(1), "n")
                : head.startsWith("$")
                        ? new LearnedSheet.Column(head.substring(1), "code")
                        : new LearnedSheet.Column(head, "");
    }

    /** One text for each head. */
    TableMaker row(String... texts) {
        if (texts.length != heads.size()) {
            throw new IllegalArgumentException("a text for each head: texts=" + texts.length + ", heads=" + heads);
        }
        List<LearnedSheet.Value> values = new ArrayList<>();
        for (int i = 0; i < texts.length; i++) {
            values.add(new LearnedSheet.Value(texts[i], heads.get(i).face()));
        }
        rows.add(new LearnedSheet.Row(values.get(0), values.subList(1, values.size())));
        return this;
    }

    LearnedSheet.Table table() {
        return new LearnedSheet.Table(label, caption, heads, rows);
    }
}
