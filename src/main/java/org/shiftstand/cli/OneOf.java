package org.shiftstand.cli;

import java.util.List;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Problem;

/** An option whose value is one of a few words. */
final class OneOf {
    private OneOf() {}

    /** Adds what is wrong, with the words and the nearest of them; nothing where the word is one of them. */
    static void check(String option, String typed, List<String> words, List<Problem> problems) {
        if (!words.contains(typed)) {
            int last = words.size() - 1;
            problems.add(new Problem(
                    option + " " + typed,
                    0,
                    0,
                    "expected " + String.join(", ", words.subList(0, last)) + " or " + words.get(last) + "."
                            + Nearest.hint(typed, words)));
        }
    }
}
