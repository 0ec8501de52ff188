package org.shiftstand.rig;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Sees on raw counts whether the shaft moves: cheap and provisional, for waiting only.
 *
 * <p>Active is a change of a Hall output by more than 1/64 of the converter's full range (about 3 degrees at a usual
 * amplitude), or the sensors switching on or off. Where they are off nothing moves, as far as anybody can tell. Times
 * are the rig's clock.
 */
final class MotionWatch {
    private record Edge(long atMicros, boolean on) {}

    // a quarter turn: more than ringing or backlash, less than any shift
    private static final double MOVED_RAD = Math.PI / 2;

    private final int middle;
    private final int threshold;
    private final Deque<Edge> edges = new ArrayDeque<>();
    private boolean powered = true;
    private boolean known;
    private int sinRef;
    private int cosRef;
    private double lastRad;
    private double turnedRad;
    private double least;
    private double most;
    private long lastActive;

    /** @param hallCounts the converter's full range */
    MotionWatch(int hallCounts) {
        middle = hallCounts / 2;
        threshold = Math.max(2, hallCounts / 64);
    }

    /** The sensors went on or off; told before the samples that follow it. */
    void power(long atMicros, boolean on) {
        edges.add(new Edge(atMicros, on));
    }

    /** A request is out: motion is counted anew from here. */
    void request(long atMicros) {
        lastActive = Math.max(lastActive, atMicros);
        turnedRad = 0;
        least = 0;
        most = 0;
    }

    /** Takes a sample, and tells whether it shows motion. */
    boolean sample(long atMicros, short sin, short cos) {
        while (!edges.isEmpty() && edges.getFirst().atMicros() <= atMicros) {
            Edge edge = edges.removeFirst();
            powered = edge.on();
            known = false;
            lastActive = Math.max(lastActive, edge.atMicros());
        }
        if (!powered) {
            return false;
        }
        turn(Math.atan2(sin - middle, cos - middle));
        boolean first = !known;
        boolean moves = !first && (Math.abs(sin - sinRef) > threshold || Math.abs(cos - cosRef) > threshold);
        if (first || moves) {
            sinRef = sin;
            cosRef = cos;
            known = true;
        }
        if (moves) {
            lastActive = atMicros;
        }
        return moves;
    }

    private void turn(double rad) {
        if (known) {
            turnedRad += Math.IEEEremainder(rad - lastRad, 2 * Math.PI);
            least = Math.min(least, turnedRad);
            most = Math.max(most, turnedRad);
        }
        lastRad = rad;
    }

    /** Whether the shaft has turned by more than a quarter since the request. */
    boolean moved() {
        return most - least > MOVED_RAD;
    }

    /** How far the shaft has turned since the request, degrees, either way; as far as it was seen. */
    double turnedDeg() {
        return Math.abs(Math.toDegrees(turnedRad));
    }

    /** Last instant of activity, or of the request where nothing followed. */
    long lastActiveMicros() {
        return lastActive;
    }
}
