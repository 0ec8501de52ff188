package org.shiftstand.sim;

import org.jspecify.annotations.Nullable;
import org.shiftstand.sim.SimulatedUnit.SensorPower;

/**
 * What the rig's converters read of the unit: the Hall pair with its power gating, wake-up error and dropouts; supply current
 * and supply voltage; noise on all of them.
 */
final class Sensors {
    /** Scales of the rig's converters. */
    static final int CURRENT_MICROAMP_PER_COUNT = 2500;

    static final int SUPPLY_MICROVOLT_PER_COUNT = 2500;

    private static final double AMPS_PER_COUNT = CURRENT_MICROAMP_PER_COUNT * 1e-6;
    private static final double VOLTS_PER_COUNT = SUPPLY_MICROVOLT_PER_COUNT * 1e-6;
    private static final double SOURCE_OHM = 0.05;
    private static final double CURRENT_NOISE_COUNTS = 1.6;
    private static final double SUPPLY_NOISE_COUNTS = 1;
    private static final double SECOND_SAMPLE = 0.1; // of the wake-up error is left in the second sample
    private static final double UNPOWERED_COUNTS = 3; // leakage

    private final SimOptions options;
    private final HallPair hall;
    private final Generator noise;
    private final Generator wakeUp;
    private @Nullable SensorPower listener;
    private boolean powered;
    private int shift; // whose windows are counted
    private int windows;
    private double wakeUpDeg;
    private int dropoutLeft;

    Sensors(SimOptions options) {
        this.options = options;
        Generator draws = new Generator(options.seed());
        draws.restart(options.seed(), ShiftPlanner.HALL, 0, 0);
        hall = new HallPair(draws, options.thirdHarmonic());
        wakeUp = draws;
        noise = new Generator(options.seed());
        noise.restart(options.seed(), ShiftPlanner.NOISE, 0, 0);
    }

    void listen(SensorPower listener) {
        this.listener = listener;
    }

    boolean powered() {
        return powered;
    }

    /** Power-up; without effect where they are on. */
    void on(long nanos, int ofShift) {
        if (powered) {
            return;
        }
        powered = true;
        windows = ofShift == shift ? windows + 1 : 1;
        shift = ofShift;
        wakeUp.restart(options.seed(), ShiftPlanner.WAKE_UP, shift, windows);
        double sign = wakeUp.next() < 0 ? -1 : 1;
        wakeUpDeg = sign * wakeUp.uniform(options.maxWakeUpDeg() / 2, options.maxWakeUpDeg());
        tell(nanos);
    }

    void off(long nanos) {
        if (powered) {
            powered = false;
            dropoutLeft = 0;
            tell(nanos);
        }
    }

    private void tell(long nanos) {
        SensorPower told = listener;
        if (told != null) {
            told.changed(powered, nanos);
        }
    }

    /** One output reads 0 for the next samples. */
    void dropOut(int samples) {
        dropoutLeft = samples;
    }

    /** Fills one sample: hall sine, hall cosine, current, supply. Draws four numbers whatever the state. */
    void read(double angleDeg, double amps, double supplyV, short[] into, int at) {
        double noiseSin = noise.noise() * options.noiseCounts();
        double noiseCos = noise.noise() * options.noiseCounts();
        double noiseCurrent = noise.noise() * CURRENT_NOISE_COUNTS;
        double noiseSupply = noise.noise() * SUPPLY_NOISE_COUNTS;
        if (powered) {
            hall.at(angleDeg + wakeUpDeg);
            wakeUpDeg = Math.abs(wakeUpDeg) < 1 ? 0 : wakeUpDeg * SECOND_SAMPLE;
            into[at] = HallPair.counts(hall.sin() + noiseSin);
            into[at + 1] = HallPair.counts(hall.cos() + noiseCos);
            if (dropoutLeft > 0) {
                dropoutLeft--;
                into[at] = 0;
            }
        } else {
            into[at] = HallPair.counts(UNPOWERED_COUNTS + noiseSin);
            into[at + 1] = HallPair.counts(UNPOWERED_COUNTS + noiseCos);
        }
        into[at + 2] = HallPair.counts(amps / AMPS_PER_COUNT + noiseCurrent);
        double volts = supplyV == 0 ? 0 : supplyV - SOURCE_OHM * amps;
        into[at + 3] = HallPair.counts(volts / VOLTS_PER_COUNT + noiseSupply);
    }
}
