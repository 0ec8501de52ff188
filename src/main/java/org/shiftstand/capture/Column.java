package org.shiftstand.capture;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** A column of a CSV capture that this version understands. */
enum Column {
    TIME(0, "time_s", true),
    SIN(1, "hall_sin", true),
    COS(2, "hall_cos", true),
    POWER(3, "hall_power", false),
    WINDOW(4, "window", false),
    CURRENT(5, "current_a", false),
    SUPPLY(6, "supply_v", false),
    REQUEST(7, "request", false);

    static final int COUNT = values().length;

    private final int index;
    private final String header;
    private final boolean required;

    Column(int index, String header, boolean required) {
        this.index = index;
        this.header = header;
        this.required = required;
    }

    /** Place in arrays that hold something for each column. */
    int index() {
        return index;
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
