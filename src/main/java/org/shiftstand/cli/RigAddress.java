package org.shiftstand.cli;

import java.nio.file.Path;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.sim.SimOptions;

/** Where a rig is: {@code sim}, {@code sim:key=value,…}, or {@code serial:PATH}. */
sealed interface RigAddress {
    /** As typed, for the record. */
    String text();

    /** A simulated rig in this process, in simulated time. */
    record Simulated(String text, SimOptions options) implements RigAddress {}

    /** A real rig on a serial port. */
    record Serial(String text, Path port) implements RigAddress {}

    /**
     * Reads an address.
     *
     * @throws BadInput with what is wrong and what is expected
     */
    static RigAddress parse(String text) {
        if (text.equals("sim") || text.startsWith("sim:")) {
            try {
                return new Simulated(text, SimOptions.parse(text.length() > 4 ? text.substring(4) : ""));
            } catch (IllegalArgumentException e) {
                throw bad(text, e.getMessage() + "\n'shiftstand rig simulate --help' lists every key");
            }
        }
        if (text.startsWith("serial:") && text.length() > 7) {
            return new Serial(text, Path.of(text.substring(7)));
        }
        throw bad(
                text,
                "is no rig address; expected sim, sim:key=value,… or serial:PATH, such as serial:/dev/ttyACM0."
                        + " 'shiftstand rig list' shows the serial ports of this machine");
    }

    private static BadInput bad(String text, String what) {
        return new BadInput(new Problem("--rig " + text, 0, 0, what));
    }
}
