package org.shiftstand.cli;

import java.util.Optional;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.link.Link;
import org.shiftstand.link.Port;
import org.shiftstand.link.SerialPlace;
import org.shiftstand.profile.Profile;
import org.shiftstand.sim.SimulatedPlace;

/** Opens the line to a rig. */
final class Rigs {
    private final int usualSpeed;

    Rigs(int usualSpeed) {
        this.usualSpeed = usualSpeed;
    }

    /**
     * Opens the line; the caller closes it.
     *
     * @param profile what a simulated unit is built by
     * @throws org.shiftstand.link.LinkException where the port cannot be had
     */
    Link open(RigAddress address, Profile profile, Optional<RigDescription> description) {
        return place(address, profile, description).open();
    }

    /**
     * Where the line can be opened, again too; nothing is opened yet.
     *
     * @param profile what a simulated unit is built by
     */
    Port place(RigAddress address, Profile profile, Optional<RigDescription> description) {
        if (address instanceof RigAddress.Simulated simulated) {
            return simulated(profile, simulated);
        }
        RigAddress.Serial serial = (RigAddress.Serial) address;
        return new SerialPlace(
                serial.port().toString(), description.map(RigDescription::speed).orElse(usualSpeed));
    }

    /** A simulated unit that the profile or the options do not allow is told like any other wrong input. */
    private static Port simulated(Profile profile, RigAddress.Simulated simulated) {
        try {
            return new SimulatedPlace(profile, simulated.options());
        } catch (IllegalArgumentException e) {
            throw new BadInput(new Problem("--rig", 0, 0, String.valueOf(e.getMessage())));
        }
    }
}
