package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.sim.TruthRecorder.End;

/**
 * A powered derailleur drive: its controller, motor, screw, sensors and faults. Invented: no real unit.
 *
 * <p>A request wakes the sensors; 12 ms after it the motor drives to the plateau, holds there, comes back and rests; the sensors
 * go off 170 ms after each stop. A request at the end of the cassette, or one that a fault swallows, only wakes the sensors.
 * A request during a shift makes the controller go on to the next sprocket at once. Without supply nothing moves; with
 * supply back the unit waits for a request.
 *
 * <p>A rig that drives directly turns the same motor by its own bridge: gently, between the stops, sensors powered from 12 ms
 * before to 170 ms after. It never does so during a shift.
 *
 * <p>Time goes forward only. The motion does not depend on when samples are taken; between steps it is straight.
 */
public final class SimulatedUnit {
    /** Current of the unit's electronics with and without sensors, ampere. */
    private static final double AWAKE_A = 0.020;

    private static final double ASLEEP_A = 0.002;

    private static final long REACTION_NANOS = 300_000; // from request to sensor power
    private static final long WAKE_NANOS = 12_000_000;
    private static final long TAIL_NANOS = 170_000_000;
    private static final long STILL_NANOS = 8_000_000; // so long without motion is a stop
    private static final long GIVE_UP_NANOS = 1_000_000_000; // so long pushing against something
    private static final long CREEP_NANOS = 150_000_000;
    private static final double STILL_DEG_S = 40;
    private static final long NEVER = Long.MAX_VALUE;

    /** From stop to return the firmware counts less than the hold, which takes in the approach and the departure. */
    private static final double HOLD_ALLOWANCE_S = 0.070;

    private final Profile profile;
    private final SimOptions options;
    private final ShiftPlanner planner;
    private final Shaft shaft;
    private final PositionLoop loop;
    private final MotorDriver driver = new MotorDriver();
    private final Sensors sensors;
    private final TruthRecorder truth;
    private final double lowStopDeg;
    private final double highStopDeg;

    private Phase phase = Phase.OFF;
    private double supplyV;
    private long nowNanos; // of the last call
    private long shaftNanos; // of the shaft's last step; at most one step ahead while moving
    private double previousDeg; // one step before
    private @Nullable ShiftPlan plan;
    private boolean returning;
    private long wakeAtNanos = NEVER;
    private long driveAtNanos = NEVER;
    private long asleepAtNanos = NEVER;
    private long stillSinceNanos = NEVER;
    private int shiftsAsked;
    private int cycle;
    private long creepFromNanos = NEVER;
    private double creepDeg;
    private double middleDeg; // half way of the motion out
    private int lostFrames;
    private double loadA; // of something else on the same supply
    private long driveOverNanos = NEVER; // when a drive ended that was not told yet
    private MotorDriver.End driveEnd = MotorDriver.End.TIME;
    private MotorDriver.Over driveListener = (end, nanos) -> {};

    /**
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     */
    public SimulatedUnit(Profile profile, SimOptions options) {
        this.profile = profile;
        this.options = options;
        planner = new ShiftPlanner(profile, options);
        Motor motor = Motor.TARN_LIKE;
        ShiftPlan first = planner.plan(0, 0, options.start(), options.start(), Direction.INBOARD);
        shaft = new Shaft(motor, first.landingDeg);
        previousDeg = shaft.angleDeg();
        loop = new PositionLoop(motor);
        sensors = new Sensors(options);
        truth = new TruthRecorder(profile);
        lowStopDeg = profile.outboardLimitDeg().orElse(profile.positionDeg(1) - 520);
        highStopDeg = profile.inboardLimitDeg().orElse(profile.positionDeg(profile.sprockets()) + 420);
        shaft.stops(lowStopDeg, highStopDeg);
    }

    /** Who is told when sensor power changes. */
    public interface SensorPower {
        void changed(boolean on, long nanos);
    }

    public void listen(SensorPower listener) {
        sensors.listen(listener);
    }

    void listen(MotorDriver.Over listener) {
        driveListener = listener;
    }

    /** Sets the supply; 0 for off. */
    public void supply(double volts, long nanos) {
        advanceTo(nanos);
        if (volts == 0 && phase != Phase.OFF) {
            loseSupply(nanos);
        } else if (volts > 0 && supplyV == 0) {
            endShift(End.INTERRUPTED, nanos); // of one that was still coasting
            shaft.halt();
            phase = Phase.ASLEEP;
            if (!options.gated()) {
                sensors.on(nanos, shiftsAsked);
            }
        }
        supplyV = volts;
    }

    /**
     * A request at the unit's input.
     *
     * @param direction +1 inboard, −1 outboard; ignored with a target
     * @param toSprocket target, 0 for the neighbour
     */
    public void request(int direction, int toSprocket, long nanos) {
        advanceTo(nanos);
        if (phase == Phase.OFF || phase == Phase.COASTING) {
            return; // a dead unit hears nothing
        }
        boolean busy = busy();
        int from = busy && plan != null ? plan.goesTo : profile.nearestSprocket(shaft.angleDeg());
        int wanted = toSprocket > 0 ? toSprocket : from + direction;
        int to = Math.max(1, Math.min(profile.sprockets(), wanted));
        int sign = toSprocket > 0 && to != from ? Integer.signum(to - from) : direction;
        endShift(busy ? End.INTERRUPTED : End.RESTED, nanos);
        settleCreep(nanos);
        if (from == 1 && to != 1) {
            cycle++;
        }
        begin(planner.plan(++shiftsAsked, cycle, from, to, Direction.of(sign)), busy, nanos);
    }

    /** The rig turns the motor, once the sensors are awake; in place of a drive under way, never of a shift. */
    void drive(int sign, double limitA, double speedDegS, long untilNanos, long nanos) {
        advanceTo(nanos);
        boolean turning = phase == Phase.DRIVEN || phase == Phase.BRAKING;
        if (driven()) {
            driveOver(phase == Phase.BRAKING ? driveEnd : MotorDriver.End.COMMAND, nanos);
        } else {
            endShift(End.RESTED, nanos);
            settleCreep(nanos);
        }
        truth.moveOtherwise();
        driver.set(sign, limitA, speedDegS, untilNanos);
        asleepAtNanos = NEVER;
        wakeAtNanos = NEVER;
        if (turning) {
            phase = Phase.DRIVEN;
        } else if (sensors.powered()) {
            startDrive(nanos);
        } else {
            sensors.on(nanos, shiftsAsked);
            phase = Phase.SET_TO_DRIVE;
            driveAtNanos = nanos + WAKE_NANOS;
        }
    }

    private void startDrive(long nanos) {
        driveAtNanos = NEVER;
        phase = Phase.DRIVEN;
        shaftNanos = nanos;
        previousDeg = shaft.angleDeg();
    }

    /** Ends a drive by the rig, where one is under way: the bridge brakes. */
    void stopDrive(long nanos) {
        advanceTo(nanos);
        if (phase == Phase.SET_TO_DRIVE) {
            driveAtNanos = NEVER;
            rest(nanos);
            driveOver(MotorDriver.End.COMMAND, nanos);
        } else if (phase == Phase.DRIVEN) {
            brake(MotorDriver.End.COMMAND);
        }
    }

    /** Whether a drive by the rig is under way: until the shaft stands. */
    boolean driven() {
        return phase.ofADrive();
    }

    private void brake(MotorDriver.End end) {
        phase = Phase.BRAKING;
        driveEnd = end;
    }

    private void rest(long nanos) {
        shaft.halt();
        phase = Phase.RESTING;
        asleepAtNanos = nanos + TAIL_NANOS;
    }

    /** Told only once time has come to it: the shaft's steps run ahead. */
    private void driveOver(MotorDriver.End end, long nanos) {
        driveEnd = end;
        driveOverNanos = nanos;
        tellDriveOver(nowNanos);
    }

    private void tellDriveOver(long nanos) {
        if (driveOverNanos <= nanos) {
            long at = driveOverNanos;
            driveOverNanos = NEVER;
            driveListener.over(driveEnd, at);
        }
    }

    private void begin(ShiftPlan next, boolean busy, long nanos) {
        plan = next;
        truth.begin(next, nanos, angleDegAt(nanos));
        returning = false;
        middleDeg = (shaft.angleDeg() + next.landingDeg) / 2;
        asleepAtNanos = NEVER;
        wakeAtNanos = nanos + REACTION_NANOS;
        if (!next.responds) {
            phase = Phase.RESTING;
            asleepAtNanos = nanos + WAKE_NANOS + TAIL_NANOS;
            return;
        }
        if (busy && phase == Phase.DRIVING) {
            aim();
        } else {
            phase = Phase.WAKING;
            driveAtNanos = nanos + WAKE_NANOS;
        }
    }

    /** Lets time pass. */
    public void advanceTo(long nanos) {
        while (true) {
            if (phase.turns()) {
                if (shaftNanos >= nanos) {
                    break;
                }
                step();
            } else {
                long next = Math.min(Math.min(wakeAtNanos, driveAtNanos), asleepAtNanos);
                if (next > nanos) {
                    break;
                }
                timer(next);
            }
        }
        tellDriveOver(nanos);
        nowNanos = nanos;
    }

    private void timer(long nanos) {
        if (nanos == asleepAtNanos) {
            asleepAtNanos = NEVER;
            if (options.gated()) {
                sensors.off(nanos);
            }
            if (phase == Phase.RESTING) {
                phase = Phase.ASLEEP;
                creepFromNanos = plan == null || plan.creepDeg == 0 ? NEVER : nanos;
                creepDeg = plan == null ? 0 : plan.creepDeg;
            }
        } else if (nanos == wakeAtNanos) {
            wakeAtNanos = NEVER;
            sensors.on(nanos, shiftsAsked);
        } else if (phase == Phase.SET_TO_DRIVE) {
            startDrive(nanos);
        } else {
            driveAtNanos = NEVER;
            returning = phase == Phase.HOLDING;
            phase = Phase.DRIVING;
            shaftNanos = nanos;
            previousDeg = shaft.angleDeg();
            stillSinceNanos = NEVER;
            truth.point(nanos, shaft.angleDeg(), AWAKE_A);
            aim();
        }
    }

    private void aim() {
        ShiftPlan p = planned();
        double overtravel = returning ? 0 : p.overtravelDeg * p.direction.sign();
        loop.aim(shaft.angleDeg(), p.landingDeg + overtravel, p.overshootDeg, p.speedPart);
        if (!Double.isNaN(p.blockedPart)) {
            double fromDeg = profile.positionDeg(p.from);
            double blockDeg = fromDeg + p.blockedPart * (profile.positionDeg(p.to) - fromDeg);
            shaft.stops(
                    p.direction == Direction.OUTBOARD ? blockDeg : lowStopDeg,
                    p.direction == Direction.INBOARD ? blockDeg : highStopDeg);
        }
    }

    private void step() {
        previousDeg = shaft.angleDeg();
        shaftNanos += Shaft.STEP_NANOS;
        if (phase == Phase.COASTING) {
            shaft.coast();
            truth.point(shaftNanos, shaft.angleDeg(), 0);
            if (shaft.speedDegS() == 0) {
                phase = Phase.OFF;
                endShift(End.INTERRUPTED, shaftNanos);
            }
            return;
        }
        if (phase == Phase.DRIVEN) {
            stepDriven();
            return;
        }
        if (phase == Phase.BRAKING) {
            shaft.step(0, supplyV);
            if (shaft.speedDegS() == 0) {
                rest(shaftNanos);
                driveOver(driveEnd, shaftNanos);
            }
            return;
        }
        shaft.step(loop.volts(shaft.angleDeg(), shaft.speedDegS(), supplyV), supplyV);
        truth.point(shaftNanos, shaft.angleDeg(), Math.abs(shaft.currentA()) + AWAKE_A);
        passMiddle();
        if (Math.abs(shaft.speedDegS()) > STILL_DEG_S) {
            stillSinceNanos = NEVER;
        } else if (stillSinceNanos == NEVER) {
            stillSinceNanos = shaftNanos;
        } else if (shaftNanos - stillSinceNanos >= (loop.pushes(shaft.currentA()) ? GIVE_UP_NANOS : STILL_NANOS)) {
            stop(loop.pushes(shaft.currentA()));
        }
    }

    private void stepDriven() {
        shaft.push(driver.amps(shaft.speedDegS()), supplyV);
        if (driver.stalls(shaftNanos, shaft.speedDegS())) {
            brake(MotorDriver.End.STALLED);
        } else if (shaftNanos >= driver.untilNanos()) {
            brake(MotorDriver.End.TIME);
        }
    }

    /** The motor is switched off; the screw holds by itself. */
    private void stop(boolean stalled) {
        ShiftPlan p = planned();
        shaft.halt();
        previousDeg = shaft.angleDeg();
        truth.point(shaftNanos, shaft.angleDeg(), 0);
        if (stalled) {
            phase = Phase.RESTING;
            asleepAtNanos = shaftNanos; // gives up and shuts down at once
            endShift(End.STALLED, shaftNanos);
        } else if (!returning && p.overtravelDeg > 0) {
            phase = Phase.HOLDING;
            driveAtNanos = shaftNanos + Math.round((p.holdS - HOLD_ALLOWANCE_S) * 1e9);
            if (driveAtNanos - shaftNanos > TAIL_NANOS + 2 * WAKE_NANOS) {
                asleepAtNanos = shaftNanos + TAIL_NANOS;
                wakeAtNanos = driveAtNanos - WAKE_NANOS;
            }
        } else {
            phase = Phase.RESTING;
            asleepAtNanos = shaftNanos + TAIL_NANOS;
        }
    }

    private void loseSupply(long nanos) {
        wakeAtNanos = NEVER;
        driveAtNanos = NEVER;
        asleepAtNanos = NEVER;
        if (driven()) {
            driveOver(MotorDriver.End.SUPPLY_LOST, nanos);
        }
        sensors.off(nanos);
        if ((phase == Phase.DRIVING || driven()) && shaft.speedDegS() != 0) {
            phase = Phase.COASTING;
        } else if (phase != Phase.COASTING) {
            endShift(busy() ? End.INTERRUPTED : End.RESTED, nanos);
            settleCreep(nanos);
            shaft.halt();
            phase = Phase.OFF;
        }
    }

    /** Some of a shift's faults wait for the middle of the way. */
    private void passMiddle() {
        ShiftPlan p = planned();
        if (p.dropoutSamples + p.lostFrames == 0
                || returning
                || (shaft.angleDeg() - middleDeg) * p.direction.sign() < 0) {
            return;
        }
        if (p.dropoutSamples > 0) {
            truth.evidence("sensor-fault");
            sensors.dropOut(p.dropoutSamples);
        }
        if (p.lostFrames > 0) {
            truth.evidence("gap");
            lostFrames += p.lostFrames;
        }
        p.dropoutSamples = 0;
        p.lostFrames = 0;
    }

    private void endShift(End how, long nanos) {
        if (truth.open()) {
            truth.end(how, nanos, shaft.angleDeg());
            shaft.stops(lowStopDeg, highStopDeg);
        }
    }

    private void settleCreep(long nanos) {
        if (creepFromNanos != NEVER) {
            shaft.displace(angleDegAt(nanos));
            creepFromNanos = NEVER;
        }
    }

    private ShiftPlan planned() {
        return Objects.requireNonNull(plan, "no shift under way");
    }

    /** Whether a shift is under way: from its request until its last stop. */
    public boolean busy() {
        return phase.ofAShift();
    }

    /** True angle at a time not after the last {@link #advanceTo}, at most one step before it. */
    private double angleDegAt(long nanos) {
        if (phase.turns()) {
            double part = (double) (shaftNanos - nanos) / Shaft.STEP_NANOS;
            return shaft.angleDeg() + part * (previousDeg - shaft.angleDeg());
        }
        if (creepFromNanos == NEVER) {
            return shaft.angleDeg();
        }
        return shaft.angleDeg() + creepDeg * Math.min(1, (double) (nanos - creepFromNanos) / CREEP_NANOS);
    }

    /** True angle now, degrees. */
    public double angleDeg() {
        return angleDegAt(nowNanos);
    }

    /** True supply current now, ampere: of the bridge, whichever way the motor is driven, and of the electronics. */
    public double currentA() {
        if (supplyV == 0) {
            return 0;
        }
        double motor = phase == Phase.DRIVING || phase == Phase.DRIVEN ? Math.abs(shaft.currentA()) : 0;
        return motor + (sensors.powered() ? AWAKE_A : ASLEEP_A) + loadA;
    }

    /**
     * Lets time pass and takes one sample as the rig's converters see it.
     *
     * @param into hall sine, hall cosine, current, supply, from {@code at} on
     */
    void sample(long nanos, short[] into, int at) {
        advanceTo(nanos);
        sensors.read(angleDegAt(nanos), currentA(), supplyV, into, at);
    }

    /** Something else draws so much from the same supply. */
    void load(double amps) {
        loadA = amps;
    }

    /** Samples of now are lost: what they show of a shift under way has a gap. */
    void samplesLost() {
        if (busy() && truth.open()) {
            truth.evidence("gap");
        }
    }

    /** How many frames the rig shall lose now, asked once. */
    int takeLostFrames() {
        int n = lostFrames;
        lostFrames = 0;
        return n;
    }

    /** Truth of every shift so far; one that is under way is ended as it stands. */
    public List<ShiftTruth> truth() {
        endShift(busy() ? End.NOT_SETTLED : End.RESTED, Math.max(nowNanos, shaftNanos));
        return new ArrayList<>(truth.shifts());
    }
}
