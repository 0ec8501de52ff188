package org.shiftstand.sim;

/**
 * A permanent-magnet DC motor behind a gearbox, by the elementary relations V = I·R + Ke·ω and T = Ke·I. Inductance is left
 * out: its time constant is far below the integration step.
 *
 * <p>Stall current V/R; no-load speed (V − I0·R)/Ke; friction is Coulomb's, as a torque of Ke·I0.
 *
 * @param resistanceOhm winding, driver, leads and source together
 * @param keVsPerRad volts a radian a second at the motor's shaft, equal to newton metres an ampere
 * @param frictionA current I0 that turns the unloaded motor
 * @param inertiaKgM2 of rotor, gearbox and screw, seen from the motor's shaft
 * @param gear turns of the motor for a turn of the output shaft
 */
record Motor(double resistanceOhm, double keVsPerRad, double frictionA, double inertiaKgM2, double gear) {
    /**
     * Invented data for the simulated drive: 8.2 V give 5.3 A at stall and about 6500 deg/s; time constant 18 ms.
     */
    static final Motor TARN_LIKE = new Motor(1.55, 0.00765, 0.24, 6.8e-7, 9);

    Motor {
        if (!(resistanceOhm > 0 && keVsPerRad > 0 && frictionA >= 0 && inertiaKgM2 > 0 && gear > 0)) {
            throw new IllegalArgumentException("a motor's values must be above 0: resistanceOhm=" + resistanceOhm
                    + ", keVsPerRad=" + keVsPerRad + ", frictionA=" + frictionA + ", inertiaKgM2=" + inertiaKgM2
                    + ", gear=" + gear);
        }
    }

    /** Back-EMF of one degree a second at the output shaft, volts. */
    double voltsPerDegS() {
        return keVsPerRad * gear * (StrictMath.PI / 180);
    }

    /** Acceleration of the output shaft by one ampere beyond friction, degrees a second squared. */
    double degS2PerAmpere() {
        return keVsPerRad / inertiaKgM2 / gear * (180 / StrictMath.PI);
    }
}
