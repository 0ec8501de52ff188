package org.shiftstand.cli;

import org.shiftstand.rig.RunEnd;

/** What is said of the supply at the end of a run: never that it is off where nobody here knows. */
final class SupplySaid {
    private SupplySaid() {}

    /** As far as the end itself tells: over a line that was lost no rig has said anything. */
    static String after(RunEnd end) {
        return after(!(end instanceof RunEnd.LinkLost));
    }

    /**
     * One sentence.
     *
     * @param confirmed whether the rig said that it is off
     */
    static String after(boolean confirmed) {
        return confirmed
                ? "The supply is off."
                : "The rig did not say that the supply is off: take it away by hand before anyone reaches in.";
    }
}
