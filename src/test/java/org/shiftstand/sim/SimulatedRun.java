package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;

/** Sweeps of a simulated unit, as a source of samples. */
public final class SimulatedRun {
    private SimulatedRun() {}

    /**
     * Homed once, then so many sweeps over the whole cassette and back, at 512 Hz.
     *
     * @param profile what the unit is built by
     * @param options as after {@code sim:}
     */
    public static SampleSource of(Profile profile, String options, int sweeps) {
        SimulatedLink link = new SimulatedLink(profile, SimOptions.parse(options));
        int n = profile.sprockets();
        Session session = new Session(link).armed(512, 64).walk(-1, 1).sweeps(n, sweeps);
        List<int[]> script = new ArrayList<>(List.of(new int[] {2, 1, 0}));
        script.addAll(SimulatedCapture.sweeps(n, sweeps));
        return SimulatedCapture.of(session, script);
    }
}
