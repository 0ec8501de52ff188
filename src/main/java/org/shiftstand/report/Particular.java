package org.shiftstand.report;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * One thing that ISO/IEC 17025:2017 asks a report to say, and what this one says.
 *
 * @param clause of the standard, such as {@code 7.8.2.1 b}
 * @param asks what is asked for, in a few words
 * @param lines what is said, in reading order; one at least
 */
record Particular(String clause, String asks, List<Line> lines) {
    /** Stands where nobody said anything. */
    static final String NOT_STATED = "not stated";

    Particular {
        lines = List.copyOf(lines);
    }

    static Particular of(String clause, String asks, Line... lines) {
        return new Particular(clause, asks, Arrays.asList(lines));
    }

    /**
     * One part of it.
     *
     * @param key where programs find it, such as {@code laboratory.name}
     * @param label for people; empty where the part is the whole
     * @param texts one or more; {@link #NOT_STATED} alone where there are none
     * @param stated whether anybody or anything said it
     */
    record Line(String key, String label, List<String> texts, boolean stated) {
        Line {
            texts = List.copyOf(texts);
        }

        static Line known(String key, String label, String text) {
            return of(key, label, List.of(text));
        }

        /** As a person stated it, or not. */
        static Line of(String key, String label, Optional<String> text) {
            return of(key, label, text.stream().toList());
        }

        static Line of(String key, String label, List<String> texts) {
            return new Line(key, label, texts.isEmpty() ? List.of(NOT_STATED) : texts, !texts.isEmpty());
        }

        /** The class name for its look. */
        String tone() {
            return stated ? "" : "unstated";
        }
    }
}
