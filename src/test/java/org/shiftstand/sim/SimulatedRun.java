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
        return of(profile, options, sweeps, profile.sprockets());
    }

    /** The same over sprockets 1 to {@code last} alone. */
    public static SampleSource of(Profile profile, String options, int sweeps, int last) {
        SimulatedLink link = new SimulatedLink(profile, SimOptions.parse(options));
        Session session = new Session(link).armed(512, 64).walk(-1, 1).sweeps(last, sweeps);
        List<int[]> script = new ArrayList<>(List.of(new int[] {2, 1, 0}));
        script.addAll(SimulatedCapture.sweeps(last, sweeps));
        return SimulatedCapture.of(session, script);
    }
}
