package org.shiftstand.capture;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** A column of a CSV capture that this version understands. */
enum Column {
    TIME("time_s", true),
    SIN("hall_sin", true),
    COS("hall_cos", true),
    POWER("hall_power", false),
    WINDOW("window", false),
    CURRENT("current_a", false),
    SUPPLY("supply_v", false),
    REQUEST("request", false);

    static final int COUNT = values().length;

    private final String header;
    private final boolean required;

    Column(String header, boolean required) {
        this.header = header;
        this.required = required;
    }

    String header() {
        return header;
    }

    boolean required() {
        return required;
    }

    static Optional<Column> named(String header) {
        return Arrays.stream(values()).filter(c -> c.header.equals(header)).findFirst();
    }

    static List<String> headers() {
        return Arrays.stream(values()).map(Column::header).toList();
    }

    static String all() {
        return String.join(", ", headers());
    }
}
