package org.shiftstand.export;

/**
 * One column of a dataset. Every column may be null.
 *
 * @param name as files have it; never changed once published
 * @param kind what it holds
 * @param unit of measurement; empty for texts and pure numbers
 * @param meaning for readers, a few words
 */
record Column(String name, Kind kind, String unit, String meaning) {
    /** What a column holds, in Parquet's words. */
    enum Kind {
        TEXT("binary", " (STRING)"),
        WHOLE("int32", ""),
        LONG("int64", ""),
        NUMBER("double", ""),
        FLAG("boolean", ""),
        /** Microseconds since 1970-01-01T00:00:00Z. */
        INSTANT("int64", " (TIMESTAMP(MICROS,true))");

        private final String type;
        private final String annotation;

        Kind(String type, String annotation) {
            this.type = type;
            this.annotation = annotation;
        }
    }

    /** A line of a Parquet schema. */
    String declared() {
        return "optional " + kind.type + " " + name + kind.annotation + ";";
    }
}
