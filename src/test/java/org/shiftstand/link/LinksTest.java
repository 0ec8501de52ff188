package org.shiftstand.link;

import java.io.IOException;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;

class LinksTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @Nested
    class Simulated extends LinkContract {
        @Override
        Link open() {
            return new SimulatedLink(TARN, SimOptions.seeded(1));
        }

        @Override
        void free() {}
    }

    @Nested
    @EnabledOnOs(OS.LINUX)
    class Serial extends LinkContract {
        private @Nullable PtyRig rig;

        @Override
        Link open() throws IOException {
            var made = new PtyRig(TARN, SimOptions.seeded(1), Optional.empty());
            rig = made;
            return SerialLink.open(made.path(), SerialLink.USUAL_SPEED);
        }

        @Override
        void free() {
            PtyRig made = rig;
            if (made != null) {
                made.close();
            }
        }
    }
}
