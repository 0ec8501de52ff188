package org.shiftstand.cli;

import java.io.PrintWriter;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.report.Cautions;
import picocli.CommandLine.Option;

/** That a person stands by: what has to be read and said before anything moves on a real rig. */
final class AttendedOption {
    @Option(names = "--attended", description = "A person stands by; the cautions were read. Needed on a real rig.")
    private boolean attended;

    boolean given() {
        return attended;
    }

    /** Shows the cautions; nothing on a simulated rig. */
    static void cautions(RigAddress address, PrintWriter err) {
        if (address instanceof RigAddress.Serial) {
            err.println("CAUTION");
            Cautions.read().forEach(caution -> err.println("  ! " + caution));
            err.println();
        }
    }

    /**
     * Shows the cautions and goes on only where a person stands by.
     *
     * @throws BadInput where it is a real rig and nobody said so
     */
    void need(RigAddress address, PrintWriter err) {
        cautions(address, err);
        if (address instanceof RigAddress.Serial && !attended) {
            throw new BadInput(new Problem(
                    "--rig " + address.text(),
                    0,
                    0,
                    "is a real rig, and nothing was moved; read the cautions above, stand by with the emergency stop in"
                            + " reach, and add --attended"));
        }
    }
}
