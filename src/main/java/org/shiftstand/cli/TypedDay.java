package org.shiftstand.cli;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.Problem;

/** A day typed behind {@code --on}, on which something was measured; never one to come. */
final class TypedDay {
    private TypedDay() {}

    /**
     * The day; empty where something is wrong with it, which is added.
     *
     * @param expected whose day it is, such as {@code the day of the study}
     */
    static Optional<LocalDate> read(String typed, LocalDate today, String expected, List<Problem> problems) {
        try {
            LocalDate day = LocalDate.parse(typed);
            if (!day.isAfter(today.plusDays(1))) { // a day's grace: the clock counts in UTC
                return Optional.of(day);
            }
            problems.add(new Problem("--on " + typed, 0, 0, "lies in the future; expected " + expected));
        } catch (DateTimeException e) {
            problems.add(new Problem("--on " + typed, 0, 0, "is no date; expected one such as 2026-09-14"));
        }
        return Optional.empty();
    }
}
