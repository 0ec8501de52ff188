package org.shiftstand.cli;

import java.util.Optional;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.link.Link;
import org.shiftstand.link.SerialLink;
import org.shiftstand.profile.Profile;
import org.shiftstand.sim.SimulatedLink;

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
        if (address instanceof RigAddress.Simulated simulated) {
            return new SimulatedLink(profile, simulated.options());
        }
        RigAddress.Serial serial = (RigAddress.Serial) address;
        return SerialLink.open(
                serial.port().toString(), description.map(RigDescription::speed).orElse(usualSpeed));
    }
}
