package org.shiftstand.sim;

/**
 * The unit's own position controller: proportional to the way left, braked by speed, limited by the supply.
 *
 * <p>volts = kp·(aim − angle) − kd·speed, within ± supply. Gains are those of a firmware that stops without overshoot. The
 * aim lies a little past the target, since friction stops the shaft short of it. A loop that rings has its braking taken
 * away until it overshoots by as much as was asked.
 */
final class PositionLoop {
    private static final double KP_V_PER_DEG = 0.060;
    private static final double KD_V_PER_DEG_S = 0.00095;

    /** What the firmware allows for friction; a part of it is left as stopping bias. */
    private static final double ALLOWANCE_DEG = 4.5;

    /** The motor pushes against something when it draws this much more than friction takes. */
    private static final double PUSHES = 2;

    private static final int TRIAL_STEPS = 2000;
    private static final double TRIAL_DEG = 1000;

    private final Motor motor;
    private double aimDeg;
    private double kd = KD_V_PER_DEG_S;
    private double speedPart = 1;
    private double tunedForDeg; // overshoot that tunedKd was found for
    private double tunedKd = KD_V_PER_DEG_S;

    PositionLoop(Motor motor) {
        this.motor = motor;
    }

    /**
     * Sets out for a target.
     *
     * @param overshootDeg wanted, 0 for a sound loop; what physics allows at most is taken
     * @param part of the supply that may be used, 0…1
     */
    void aim(double fromDeg, double targetDeg, double overshootDeg, double part) {
        aimDeg = targetDeg + Math.copySign(overshootDeg > 0 ? 0 : ALLOWANCE_DEG, targetDeg - fromDeg);
        speedPart = part;
        if (overshootDeg != tunedForDeg) {
            tunedForDeg = overshootDeg;
            tunedKd = overshootDeg > 0 ? kdFor(overshootDeg) : KD_V_PER_DEG_S;
        }
        kd = tunedKd;
    }

    /** Motor voltage asked for, within what the supply gives. */
    double volts(double angleDeg, double speedDegS, double supplyV) {
        double limit = supplyV * speedPart;
        double volts = KP_V_PER_DEG * (aimDeg - angleDeg) - kd * speedDegS;
        return Math.min(limit, Math.max(-limit, volts));
    }

    /** Whether a shaft at rest with this current is being held by something else than friction. */
    boolean pushes(double amps) {
        return Math.abs(amps) > PUSHES * motor.frictionA();
    }

    /** Braking gain at which a long move overshoots by so much: bisection on trial moves. */
    private double kdFor(double overshootDeg) {
        double low = -KD_V_PER_DEG_S; // rings most
        double high = KD_V_PER_DEG_S;
        for (int i = 0; i < 24; i++) {
            kd = 0.5 * (low + high);
            if (trialOvershoot() > overshootDeg) {
                low = kd;
            } else {
                high = kd;
            }
        }
        return 0.5 * (low + high);
    }

    private double trialOvershoot() {
        double keepAim = aimDeg;
        double keepPart = speedPart;
        aimDeg = TRIAL_DEG;
        speedPart = 1;
        Shaft trial = new Shaft(motor, 0);
        double farthest = 0;
        for (int i = 0; i < TRIAL_STEPS; i++) {
            trial.step(volts(trial.angleDeg(), trial.speedDegS(), NOMINAL_V), NOMINAL_V);
            farthest = Math.max(farthest, trial.angleDeg());
        }
        aimDeg = keepAim;
        speedPart = keepPart;
        return farthest - TRIAL_DEG;
    }

    private static final double NOMINAL_V = 8.2;
}
