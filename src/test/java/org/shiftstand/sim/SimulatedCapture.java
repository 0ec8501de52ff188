package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.capture.ArraySource;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.quantity.Direction;

/** What a host heard of a simulated rig, as a sample source: times from the first sample, lost blocks as gaps. */
final class SimulatedCapture {
    private SimulatedCapture() {}

    /**
     * @param asked the script: from, to and cycle of each request, in order
     */
    static SampleSource of(Session session, List<int[]> asked) {
        List<RigMessage.Samples> blocks = session.blocks();
        int n = blocks.stream().mapToInt(RigMessage.Samples::count).sum();
        double[] timeS = new double[n];
        double[] sin = new double[n];
        double[] cos = new double[n];
        double[] amps = new double[n];
        double[] volts = new double[n];
        long origin = blocks.get(0).firstMicros();
        List<SampleSource.Gap> gaps = new ArrayList<>();
        int at = 0;
        for (int b = 0; b < blocks.size(); b++) {
            RigMessage.Samples block = blocks.get(b);
            double firstS = (block.firstMicros() - origin) * 1e-6;
            long missing = b == 0 ? 0 : block.blockNumber() - blocks.get(b - 1).blockNumber() - 1;
            if (missing > 0) {
                gaps.add(new SampleSource.Gap(
                        timeS[at - 1], firstS, missing * blocks.get(0).count(), "lost block"));
            }
            for (int i = 0; i < block.count(); i++, at++) {
                timeS[at] = firstS + i * block.intervalNanos() * 1e-9;
                sin[at] = block.samples()[4 * i];
                cos[at] = block.samples()[4 * i + 1];
                amps[at] = block.samples()[4 * i + 2] * 0.0025;
                volts[at] = block.samples()[4 * i + 3] * 0.0025;
            }
        }
        return new ArraySource(timeS, sin, cos)
                .interval(blocks.get(0).intervalNanos() * 1e-9)
                .powered(powered(session, timeS, origin))
                .current(amps)
                .supply(volts)
                .gaps(gaps)
                .requests(requests(session, asked, origin));
    }

    private static boolean[] powered(Session session, double[] timeS, long origin) {
        boolean[] powered = new boolean[timeS.length];
        for (RigMessage m : session.heard) {
            if (m instanceof Event e && (e.kind() == Event.Kind.HALL_ON || e.kind() == Event.Kind.HALL_OFF)) {
                int from = Arrays.binarySearch(timeS, (e.atMicros() - origin) * 1e-6);
                Arrays.fill(powered, from < 0 ? -from - 1 : from, timeS.length, e.kind() == Event.Kind.HALL_ON);
            }
        }
        return powered;
    }

    private static List<Request> requests(Session session, List<int[]> asked, long origin) {
        List<Event> echoes = session.events(Event.Kind.REQUEST_ECHO);
        List<Request> requests = new ArrayList<>();
        for (int i = 0; i < echoes.size(); i++) {
            int[] script = asked.get(i);
            requests.add(new Request(
                    (echoes.get(i).atMicros() - origin) * 1e-6,
                    Optional.of(Direction.of(script[1] - script[0])),
                    OptionalInt.of(script[0]),
                    OptionalInt.of(script[1]),
                    OptionalInt.of(script[2]),
                    Optional.of("sweep-1"),
                    OptionalDouble.of(8.2),
                    true));
        }
        return requests;
    }

    /** The script of sweeps over the whole cassette and back. */
    static List<int[]> sweeps(int sprockets, int times) {
        List<int[]> script = new ArrayList<>();
        for (int cycle = 1; cycle <= times; cycle++) {
            for (int k = 1; k < sprockets; k++) {
                script.add(new int[] {k, k + 1, cycle});
            }
            for (int k = sprockets; k > 1; k--) {
                script.add(new int[] {k, k - 1, cycle});
            }
        }
        return script;
    }
}
