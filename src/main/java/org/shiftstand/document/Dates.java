package org.shiftstand.document;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;

/** Days and instants as files write them: {@code 2026-09-14}, {@code 2026-09-14T08:30:00Z}. */
public final class Dates {
    private static final String DAY = "a date such as 2026-09-14";
    private static final String INSTANT = "a time in UTC such as 2026-09-14T08:30:00Z";

    private Dates() {}

    /** As a day of the calendar. */
    public static Optional<LocalDate> day(Node node) {
        Optional<String> text = node.text(DAY);
        if (text.isPresent() && text.get().matches("[0-9]{4}-[0-9]{2}-[0-9]{2}")) {
            try {
                return text.map(LocalDate::parse);
            } catch (DateTimeException e) {
                node.problem(node.name() + " is '" + text.get() + "', a day that no calendar has; expected " + DAY);
                return Optional.empty();
            }
        }
        text.ifPresent(t -> node.problem(node.name() + " is '" + Scalar.shortened(t) + "'; expected " + DAY));
        return Optional.empty();
    }

    /** As an instant in UTC, to the second or finer. */
    public static Optional<Instant> instant(Node node) {
        Optional<String> text = node.text(INSTANT);
        if (text.isPresent()
                && text.get().matches("[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\\.[0-9]{1,9})?Z")) {
            try {
                return text.map(Instant::parse);
            } catch (DateTimeException e) {
                node.problem(
                        node.name() + " is '" + text.get() + "', a time that no calendar has; expected " + INSTANT);
                return Optional.empty();
            }
        }
        text.ifPresent(t -> node.problem(node.name() + " is '" + Scalar.shortened(t) + "'; expected " + INSTANT));
        return Optional.empty();
    }
}
