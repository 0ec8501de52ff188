package org.shiftstand.export;

import java.util.List;
import java.util.stream.Collectors;

/** What is exported: one row a sample, a shift, or a clause and each of its groups. */
enum Dataset {
    SAMPLES("samples", SampleRows.COLUMNS),
    SHIFTS("shifts", ShiftRows.COLUMNS),
    CLAUSES("clauses", ClauseRows.COLUMNS);

    /** Version of the schemas: columns are added at the end only; anything else would be another version. */
    static final int SCHEMA = 1;

    private final String word;
    private final List<Column> columns;

    Dataset(String word, List<Column> columns) {
        this.word = word;
        this.columns = columns;
    }

    /** The name of its folder. */
    String word() {
        return word;
    }

    List<Column> columns() {
        return columns;
    }

    /** As Parquet's own schema language writes it. */
    String schema() {
        return columns.stream()
                .map(column -> "  " + column.declared() + "\n")
                .collect(Collectors.joining("", "message shiftstand_" + word + " {\n", "}\n"));
    }
}
