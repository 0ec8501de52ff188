package org.shiftstand.cli;

import java.util.Optional;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;

/** Packed files that commands fall back on. */
final class Bundles {
    /** What a simulated unit is built by where nothing else is named. */
    static final String TARN_DRIVE = "specs/tarn-drive.profile.yaml";

    /** What is known of a simulated rig where nothing else is named; invented. */
    private static final String SIMULATED_RIG = "rig/simulated.rig.yaml";

    private Bundles() {}

    /** The description that a run is recorded with: the one named, for a simulated rig without one the packed one. */
    static Optional<TextFile> rigText(RigAddress rig, Optional<TextFile> named) {
        return named.isEmpty() && rig instanceof RigAddress.Simulated
                ? Optional.of(Bundled.find(SIMULATED_RIG, Bundled.Kind.RIG))
                : named;
    }
}
