package org.shiftstand.sim;

/**
 * The rig's own way to turn the motor: a speed controller (proportional and integral) over a current that never passes its
 * limit; ends by itself after its time, or once the current has been at its limit and the shaft at a stand for 100 ms.
 */
final class MotorDriver {
    /** How a drive ended; numbers as on the wire, event 24. */
    enum End {
        TIME(0),
        STALLED(1),
        COMMAND(2),
        SUPPLY_LOST(3);

        private final int number;

        End(int number) {
            this.number = number;
        }

        int number() {
            return number;
        }
    }

    /** Who is told that a drive is over. */
    interface Over {
        void over(End end, long nanos);
    }

    private static final long STALL_NANOS = 100_000_000;
    private static final double STILL_DEG_S = 2;
    // 72 000 deg/s² an ampere: corner at 110 Hz, integral far below it
    private static final double AMPS_PER_DEG_S = 0.01;
    private static final double AMPS_PER_DEG = 0.1;

    private int sign;
    private double limitA;
    private double speedDegS;
    private double integralA;
    private double askedA;
    private long untilNanos;
    private long pushesSinceNanos;

    /** Sets out; {@code untilNanos} is the end of its time. */
    void set(int sign, double limitA, double speedDegS, long untilNanos) {
        this.sign = sign;
        this.limitA = limitA;
        this.speedDegS = speedDegS;
        this.untilNanos = untilNanos;
        integralA = 0;
        askedA = 0;
        pushesSinceNanos = Long.MAX_VALUE;
    }

    long untilNanos() {
        return untilNanos;
    }

    /** Current to put through the motor during the next step, ampere; negative outboard. */
    double amps(double nowDegS) {
        double lackDegS = sign * speedDegS - nowDegS;
        double wantedA = AMPS_PER_DEG_S * lackDegS + integralA;
        askedA = Math.min(limitA, Math.max(-limitA, wantedA));
        if (askedA == wantedA || wantedA * lackDegS < 0) { // else it would only wind up
            integralA += AMPS_PER_DEG * lackDegS * Shaft.STEP_NANOS * 1e-9;
        }
        return askedA;
    }

    /** Whether it pushes in vain for long enough. */
    boolean stalls(long nanos, double nowDegS) {
        boolean pushes = Math.abs(askedA) >= limitA && Math.abs(nowDegS) < STILL_DEG_S;
        pushesSinceNanos = pushes ? Math.min(pushesSinceNanos, nanos) : Long.MAX_VALUE;
        return pushes && nanos - pushesSinceNanos >= STALL_NANOS;
    }
}
