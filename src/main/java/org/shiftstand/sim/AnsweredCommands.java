package org.shiftstand.sim;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.RigMessage;

/** The numbers and answers of the last 8 commands, kept for 2 s, so that a command sent again is not done again. */
final class AnsweredCommands {
    private static final int KEPT = 8;
    private static final long KEPT_NANOS = 2_000_000_000L;

    private record Answered(int sequence, long atNanos, List<RigMessage> answers) {}

    private final @Nullable Answered[] last = new @Nullable Answered[KEPT];
    private int at;

    void clear() {
        java.util.Arrays.fill(last, null);
    }

    void remember(int sequence, long nanos, List<RigMessage> answers) {
        last[at] = new Answered(sequence, nanos, answers);
        at = (at + 1) % KEPT;
    }

    /** What was answered to this number; empty for a new one. */
    List<RigMessage> answersTo(int sequence, long nanos) {
        for (Answered a : last) {
            if (a != null && a.sequence == sequence && nanos - a.atNanos <= KEPT_NANOS) {
                return a.answers;
            }
        }
        return List.of();
    }
}
