package org.shiftstand.rig;

import java.util.OptionalDouble;
import org.shiftstand.link.RigMessage;

/** Is told how a run goes; called on the run's thread, so that it must be quick. What it throws ends the run. */
public interface RunMonitor {
    /** Tells nobody. */
    RunMonitor SILENT = new RunMonitor() {};

    /** The rig has answered. */
    default void connected(RigMessage.Identity identity) {}

    /** Another shift is over, or another phase begins. */
    default void progress(Progress progress) {}

    /** Something that a person should read: a shift that did not settle, a line that was lost. */
    default void notice(String text) {}

    /**
     * How far a run is.
     *
     * @param phase {@code homing}, {@code running} or {@code done}
     * @param shifts shifts that are over, homing apart
     * @param planned shifts of the whole script
     * @param cycle of the last shift, 0 before the first
     * @param elapsedS seconds since the rig was armed
     * @param leftS seconds that the rest will take at the pace so far; empty before the first shift is over
     */
    record Progress(String phase, int shifts, int planned, int cycle, double elapsedS, OptionalDouble leftS) {
        /** 0 to 100; 100 for a script without shifts. */
        public double percent() {
            return planned == 0 ? 100 : 100.0 * shifts / planned;
        }
    }
}
