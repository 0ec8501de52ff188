package org.shiftstand.rig;

/** How a run ended. The supply is off in all of them, as far as {@link #supply} says so. */
public sealed interface RunEnd {
    /** As the record keeps it: empty when the script was done, else why it was not. */
    String reason();

    /** A sentence on the unit's supply, for the person who comes to look. */
    default String supply() {
        return "The supply is off.";
    }

    /** The script was done. */
    record Completed() implements RunEnd {
        @Override
        public String reason() {
            return "";
        }
    }

    /** A person stopped it. */
    record StoppedByUser() implements RunEnd {
        @Override
        public String reason() {
            return "stopped by the user";
        }
    }

    /**
     * The procedure's {@code stop-when} held; provisional, the verdict is that of the record.
     *
     * @param rule what held
     * @param text with values and place
     */
    record StoppedByRule(Rule rule, String text) implements RunEnd {
        /** Which part of {@code stop-when}. */
        public enum Rule {
            OUTCOME,
            CURRENT
        }

        @Override
        public String reason() {
            return "stop-when: " + text;
        }
    }

    /** The rig or a guard ended it: emergency stop, over-current, watchdog, a refused command, silence. */
    record RigFault(String cause) implements RunEnd {
        @Override
        public String reason() {
            return "rig: " + cause;
        }
    }

    /** The disk has no room for more; the run was stopped as long as its record could still be closed well. */
    record NoRoom(String text) implements RunEnd {
        @Override
        public String reason() {
            return "disk: " + text;
        }
    }

    /** The line was lost; the rig cuts the supply by itself. */
    record LinkLost(String cause) implements RunEnd {
        @Override
        public String reason() {
            return "link lost: " + cause;
        }

        @Override
        public String supply() {
            return "The rig takes the supply away by itself within a second; see that it is off before you touch the"
                    + " drive.";
        }
    }

    /**
     * The rig was there, and did not confirm the cut.
     *
     * @param before how the run would have ended
     */
    record CutNotConfirmed(RunEnd before) implements RunEnd {
        /** What is said of it. */
        static final String TEXT = "the rig did not confirm that the supply is off; take the supply away by hand";

        @Override
        public String reason() {
            return before.reason().isEmpty() ? TEXT : before.reason() + "; " + TEXT;
        }

        @Override
        public String supply() {
            return "The supply may still be on: take it away by hand.";
        }
    }
}
