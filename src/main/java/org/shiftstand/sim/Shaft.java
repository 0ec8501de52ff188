package org.shiftstand.sim;

/**
 * The output shaft in motion: angle and speed, integrated with a fixed step (semi-implicit Euler), driven by the motor,
 * held by Coulomb friction, ended by hard stops. Truth of the motion is what this class computes, straight between steps.
 *
 * <p>The driver bridge limits the current to stall current V/R in either sense, as it would reach 2·V/R when reversing at
 * full speed otherwise.
 */
final class Shaft {
    /** Length of a step, nanoseconds: a ninetieth of the motor's time constant. */
    static final long STEP_NANOS = 200_000;

    private static final double STEP_S = STEP_NANOS * 1e-9;

    private final double resistanceOhm;
    private final double voltsPerDegS;
    private final double degS2PerAmpere;
    private final double frictionA;

    private double angleDeg;
    private double speedDegS;
    private double currentA;
    private double lowStopDeg = Double.NEGATIVE_INFINITY;
    private double highStopDeg = Double.POSITIVE_INFINITY;

    Shaft(Motor motor, double angleDeg) {
        resistanceOhm = motor.resistanceOhm();
        voltsPerDegS = motor.voltsPerDegS();
        degS2PerAmpere = motor.degS2PerAmpere();
        frictionA = motor.frictionA();
        this.angleDeg = angleDeg;
    }

    /** Nothing passes these angles; infinite for none. */
    void stops(double lowDeg, double highDeg) {
        lowStopDeg = lowDeg;
        highStopDeg = highDeg;
    }

    /**
     * One step under a motor voltage.
     *
     * @param volts at the motor's terminals, already limited to what the supply has
     * @param supplyVolts for the bridge's current limit
     */
    void step(double volts, double supplyVolts) {
        double limitA = supplyVolts / resistanceOhm;
        double amps = (volts - voltsPerDegS * speedDegS) / resistanceOhm;
        amps = Math.min(limitA, Math.max(-limitA, amps));
        move(amps);
    }

    /**
     * One step under a current that a driver holds, as far as the supply can.
     *
     * @param amps wanted through the motor; sign is the sense
     */
    void push(double amps, double supplyVolts) {
        double high = (supplyVolts - voltsPerDegS * speedDegS) / resistanceOhm;
        double low = (-supplyVolts - voltsPerDegS * speedDegS) / resistanceOhm;
        move(Math.min(high, Math.max(low, amps)));
    }

    /** One step with the motor's terminals open: no current, friction alone brakes. */
    void coast() {
        move(0);
    }

    private void move(double amps) {
        currentA = amps;
        double before = speedDegS;
        double after;
        if (before == 0) {
            double excess = Math.abs(amps) - frictionA;
            after = excess <= 0 ? 0 : Math.copySign(excess, amps) * degS2PerAmpere * STEP_S;
        } else {
            after = before + (amps - Math.copySign(frictionA, before)) * degS2PerAmpere * STEP_S;
            if (after * before < 0 && Math.abs(amps) <= frictionA) {
                after = 0; // friction stops, it does not push back
            }
        }
        double angle = angleDeg + 0.5 * (before + after) * STEP_S;
        if (angle > highStopDeg) {
            angle = Math.max(angleDeg > highStopDeg ? angleDeg : highStopDeg, highStopDeg);
            after = Math.min(after, 0);
        } else if (angle < lowStopDeg) {
            angle = angleDeg < lowStopDeg ? angleDeg : lowStopDeg;
            after = Math.max(after, 0);
        }
        angleDeg = angle;
        speedDegS = after;
    }

    /** Sets the shaft at rest where it stands. */
    void halt() {
        speedDegS = 0;
        currentA = 0;
    }

    /** Moves a resting shaft, as vibration and spring load do: creep. */
    void displace(double toDeg) {
        angleDeg = toDeg;
    }

    double angleDeg() {
        return angleDeg;
    }

    double speedDegS() {
        return speedDegS;
    }

    /** Motor current during the last step, ampere; negative where it brakes against inboard motion. */
    double currentA() {
        return currentA;
    }
}
