package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameDecoder;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigState;
import org.shiftstand.profile.Profile;

/**
 * A bench controller with a simulated unit on it, as {@code rig/WIRE.md} wants it: bytes in, bytes out, its own clock.
 *
 * <p>In: {@link #onBytes} and the passing of time ({@link #advance}). Out: bytes to a {@link Sink}, the supply log, the truth.
 * The same calls give the same bytes however finely time is cut. The supply is off at the start, at {@code hello}, when the
 * port is lost, in every fault, and 1 s after the last heartbeat; only {@code arm} turns it on. Not thread-safe; never waits.
 */
public final class SimulatedRig {
    /** Where the rig's bytes go. */
    public interface Sink {
        /** One frame, with its closing 0x00. */
        void bytes(byte[] frame);
    }

    private static final long WATCHDOG_NANOS = 1_000_000_000L;
    private static final long MOTION_TAIL_NANOS = 100_000_000L; // moving ends so long after Hall off
    private static final long FAULT_AGAIN_NANOS = 1_000_000_000L;
    private static final long ESTOP_HELD_NANOS = 2_000_000_000L;
    private static final long ALWAYS_ON_NANOS = 2_000_000_000L; // moving ends so long after the echo
    private static final long OVERRUN_NANOS = 50_000_000L;
    private static final long SURGE_NANOS = 50_000_000L;
    private static final double SURGE_A = 10;
    private static final long NEVER = Long.MAX_VALUE;

    private final Profile profile;
    private final SimOptions options;
    private final SimulatedUnit unit;
    private final RigOutput output;
    private final Sampling sampling;
    private final RigGuards guards;
    private final CommandTable table;
    private final AnsweredCommands answered = new AnsweredCommands();
    private FrameDecoder decoder = new FrameDecoder();
    private final List<SupplyChange> supplyLog = new ArrayList<>();
    private final List<RigMessage> answers = new ArrayList<>();
    private final Due estops;
    private final Due deafs;
    private final Due overruns;
    private final Due surges;

    private Sink sink = frame -> {};
    private long nowNanos; // since the simulation began
    private long bootNanos; // of the rig's last boot: what it tells counts from there
    private RigState state = RigState.IDLE;
    private @Nullable FaultCode cause;
    private boolean spoken = true; // the host's major is ours
    private int supplyMv;
    private int minor = MessageCodec.MINOR; // spoken with this host
    private int driveSequence;
    private long watchdogNanos = NEVER;
    private long motionEndsNanos = NEVER;
    private long faultAgainNanos = NEVER;
    private long estopUntilNanos;
    private long surgeUntilNanos;
    private long beatNanos;
    private boolean deaf;
    private long ignored;

    /**
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     */
    public SimulatedRig(Profile profile, SimOptions options) {
        this.profile = profile;
        this.options = options;
        unit = new SimulatedUnit(profile, options);
        unit.listen(this::sensorPower);
        unit.listen(this::driveOver);
        output = new RigOutput(options.line());
        sampling = new Sampling(unit);
        guards = new RigGuards(options.line().due(Mishap.OVERHEAT));
        table = new CommandTable(profile.sprockets(), options.direct(), unit, sampling, guards);
        estops = options.line().due(Mishap.ESTOP);
        deafs = options.line().due(Mishap.DEAF);
        overruns = options.line().due(Mishap.OVERRUN);
        surges = options.line().due(Mishap.SURGE);
        if (estops.strikes(0)) { // held while the rig boots
            estopUntilNanos = ESTOP_HELD_NANOS;
            state = RigState.FAULT;
            cause = FaultCode.EMERGENCY_STOP;
        }
    }

    /** The last instant that was reached, µs since the simulation began: the rig's clock, until it boots again. */
    public long nowMicros() {
        return (nowNanos + 999) / 1000;
    }

    public RigState state() {
        return state;
    }

    /** Supply as set, millivolts; 0 for off. */
    public int supplyMv() {
        return supplyMv;
    }

    /** Every change of the supply since boot, in time order. */
    public List<SupplyChange> supplyLog() {
        return Collections.unmodifiableList(supplyLog);
    }

    /** Frames and bytes from the host that were no message of this version. */
    public long ignored() {
        return ignored;
    }

    public SimulatedUnit unit() {
        return unit;
    }

    /** Truth of every shift so far, for {@code rig simulate --truth} and tests. */
    public SimTruth truth() {
        return SimTruth.of(profile, options, unit.truth(), sampling.firstMicros());
    }

    /** Bytes from the host, at the time the rig has reached; answers go to the sink at once. */
    public void onBytes(byte[] bytes, int from, int length, Sink to) {
        sink = to;
        deaf |= deafs.strikes(nowNanos);
        if (deaf) {
            return;
        }
        decoder.feed(bytes, from, length, this::arrived);
    }

    /** The port was closed or the line broke: supply off, session over. */
    public void portLost() {
        supplyOff("port-lost", 0, false);
        sampling.stop();
        answered.clear();
        sampling.forget();
        guards.forget();
        if (state != RigState.FAULT) {
            state = RigState.IDLE;
        }
    }

    /** The rig's own power comes back: it starts as from the bench, its clock at 0. The unit stands as it stood. */
    void boot() {
        portLost();
        bootNanos = nowNanos;
        sampling.boot(nowNanos);
        output.boot();
        decoder = new FrameDecoder();
        deaf = false;
        spoken = true;
        minor = MessageCodec.MINOR;
        cause = nowNanos < estopUntilNanos ? FaultCode.EMERGENCY_STOP : null;
        state = cause == null ? RigState.IDLE : RigState.FAULT;
        faultAgainNanos = NEVER;
    }

    /**
     * Lets time pass until the rig says something, at most until {@code untilMicros}.
     *
     * @param untilMicros since the simulation began, as {@link #nowMicros}
     * @return {@link #nowMicros} then
     */
    public long advance(long untilMicros, Sink to) {
        sink = to;
        long until = untilMicros * 1000;
        int before = output.sent();
        while (output.sent() == before) {
            long next = nextNanos();
            if (next > until) {
                nowNanos = Math.max(nowNanos, until);
                unit.advanceTo(nowNanos);
                break;
            }
            nowNanos = Math.max(nowNanos, next);
            happen();
        }
        return nowMicros();
    }

    /** Lets time pass up to {@code micros}, whatever is said meanwhile. */
    public void advanceTo(long micros, Sink to) {
        while (nowNanos < micros * 1000) {
            advance(micros, to);
        }
    }

    private long nextNanos() {
        return Math.min(
                Math.min(sampling.nextNanos(), watchdogNanos),
                Math.min(Math.min(motionEndsNanos, faultAgainNanos), estops.nanos()));
    }

    /** Whatever is due now. Time-outs before the sample of the same instant. */
    private void happen() {
        unit.advanceTo(nowNanos);
        if (estops.strikes(nowNanos)) {
            estopUntilNanos = nowNanos + ESTOP_HELD_NANOS;
            fault(FaultCode.EMERGENCY_STOP, Event.Kind.EMERGENCY_STOP, 0, 3);
        }
        if (nowNanos >= watchdogNanos) {
            event(Event.Kind.WATCHDOG, 0, MessageCodec.NO_SEQUENCE);
            supplyOff("watchdog", 1, true);
            state = RigState.CUT;
        }
        if (nowNanos >= motionEndsNanos) {
            motionEndsNanos = NEVER;
            if (state == RigState.MOVING) {
                state = RigState.ARMED;
            }
        }
        if (nowNanos >= faultAgainNanos) {
            tellFault();
        }
        if (nowNanos >= sampling.nextNanos()) {
            if (surges.strikes(nowNanos)) {
                surgeUntilNanos = nowNanos + SURGE_NANOS;
            }
            unit.load(nowNanos < surgeUntilNanos ? SURGE_A : 0);
            sampling.take(nowNanos);
            if (supplyMv > 0) {
                guard();
            }
            output.loseBlocks(unit.takeLostFrames());
            if (sampling.full()) {
                output.send(sampling.block(), nowNanos, sink);
                if (overruns.strikes(nowNanos)) {
                    unit.samplesLost();
                    event(Event.Kind.OVERRUN, sampling.lose(OVERRUN_NANOS), MessageCodec.NO_SEQUENCE);
                }
            }
        }
    }

    private void guard() {
        FaultCode broken = guards.check(nowNanos, sampling.milliAmps(), sampling.milliVolts());
        if (broken == null) {
            return;
        }
        switch (broken) {
            case OVER_CURRENT -> fault(broken, Event.Kind.OVER_CURRENT, guards.valueAtFault(), 2);
            case TEMPERATURE -> fault(broken, Event.Kind.TEMPERATURE, guards.valueAtFault(), 4);
            case SUPPLY_WINDOW -> fault(broken, null, 0, 5);
            default -> fault(broken, null, 0, 6);
        }
    }

    private void fault(FaultCode code, Event.@Nullable Kind kind, int value, int offCause) {
        if (kind != null) {
            event(kind, value, MessageCodec.NO_SEQUENCE);
        }
        supplyOff(code.words(), offCause, true);
        state = RigState.FAULT;
        cause = code;
        tellFault();
    }

    private void tellFault() {
        FaultCode code = cause;
        if (code != null) {
            send(new RigMessage.Fault(MessageCodec.NO_SEQUENCE, code.number(), state.number()));
            faultAgainNanos = nowNanos + FAULT_AGAIN_NANOS;
        }
    }

    private void sensorPower(boolean on, long nanos) {
        send(new Event(on ? Event.Kind.HALL_ON : Event.Kind.HALL_OFF, told(nanos), 0, MessageCodec.NO_SEQUENCE));
        if (options.gated()) {
            motionEndsNanos = on || state != RigState.MOVING ? NEVER : nanos + MOTION_TAIL_NANOS;
        }
    }

    private void driveOver(MotorDriver.End end, long nanos) {
        send(new Event(Event.Kind.DRIVE_OVER, told(nanos), end.number(), driveSequence));
        if (!options.gated()) {
            motionEndsNanos = nanos + MOTION_TAIL_NANOS;
        }
    }

    /** An instant on the rig's clock, µs. */
    private long told(long nanos) {
        return (nanos - bootNanos) / 1000;
    }

    private void event(Event.Kind kind, int value, int sequence) {
        send(new Event(kind, told(nowNanos), value, sequence));
    }

    private void send(RigMessage message) {
        output.send(message, nowNanos, sink);
    }

    private void supplyOn(int milliVolts, String why, int sequence) {
        boolean first = supplyMv == 0;
        supplyMv = milliVolts;
        if (first) {
            beatNanos = nowNanos;
        }
        log(milliVolts, why);
        event(Event.Kind.SUPPLY_ON, milliVolts, sequence);
        if (first) {
            guards.supplyOn(nowNanos, sampling.intervalNanos());
            watchdogNanos = nowNanos + WATCHDOG_NANOS;
        }
        unit.supply(milliVolts * 1e-3, nowNanos);
    }

    private void supplyOff(String why, int offCause, boolean told) {
        watchdogNanos = NEVER;
        motionEndsNanos = NEVER;
        if (supplyMv == 0) {
            return;
        }
        supplyMv = 0;
        unit.supply(0, nowNanos);
        guards.supplyOff(nowNanos);
        log(0, why);
        if (told) {
            event(Event.Kind.SUPPLY_OFF, offCause, MessageCodec.NO_SEQUENCE);
        }
    }

    private void log(int milliVolts, String why) {
        supplyLog.add(new SupplyChange(nowMicros(), milliVolts, why, (nowNanos - beatNanos) / 1000));
    }

    private void arrived(Arrival arrival) {
        if (!(arrival instanceof Arrival.Received received)) {
            ignored++;
            return;
        }
        Frame frame = received.frame();
        Decoded<HostMessage> decoded = MessageCodec.decodeHost(frame);
        if (decoded instanceof Decoded.Known<HostMessage> known) {
            if (known.message() instanceof HostMessage.Drive && minor < 1) {
                ignored++; // no such type in the version spoken
            } else if (known.message() instanceof HostMessage.Hello hello) {
                hello(hello);
            } else if (known.message() instanceof HostMessage.Heartbeat) {
                if (supplyMv > 0) {
                    watchdogNanos = nowNanos + WATCHDOG_NANOS;
                    beatNanos = nowNanos;
                }
            } else {
                command(known.message(), frame);
            }
        } else if (decoded instanceof Decoded.Malformed<HostMessage>) {
            refuse(frame.sequence(), FaultCode.MALFORMED);
            ignored++;
        } else {
            ignored++;
        }
    }

    private void hello(HostMessage.Hello hello) {
        spoken = hello.major() == output.version();
        minor = Math.min(hello.minor(), MessageCodec.MINOR);
        supplyOff("hello", 0, true);
        sampling.stop();
        sampling.forget();
        answered.clear();
        if (state != RigState.FAULT || causeIsGone()) {
            state = RigState.IDLE;
            cause = null;
            faultAgainNanos = NEVER;
            guards.forget(); // not before: they tell whether the cause is gone
        }
        send(new RigMessage.Identity(
                output.version(),
                MessageCodec.MINOR,
                "sim",
                "simulated 1",
                "simulated " + profile.name(),
                options.direct() ? 1 : 0,
                HallPair.FULL_SCALE + 1,
                Sensors.CURRENT_MICROAMP_PER_COUNT,
                Sensors.SUPPLY_MICROVOLT_PER_COUNT,
                CommandTable.MOST_HZ,
                CommandTable.MOST_MV));
        tellFault();
    }

    private boolean causeIsGone() {
        boolean held = cause == FaultCode.EMERGENCY_STOP && nowNanos < estopUntilNanos;
        return !held && guards.standing(nowNanos) == null;
    }

    private void command(HostMessage message, Frame frame) {
        List<RigMessage> before = answered.answersTo(frame.sequence(), nowNanos);
        if (!before.isEmpty()) {
            before.forEach(this::send);
            return;
        }
        answers.clear();
        boolean off = message instanceof HostMessage.Cut || message instanceof HostMessage.Stop;
        FaultCode refused;
        if (!spoken || frame.version() != output.version()) {
            refused = FaultCode.VERSION;
            if (message instanceof HostMessage.Cut) {
                off(message); // done in any version
            }
        } else {
            refused = off ? off(message) : done(message, frame.sequence());
        }
        if (refused != null) {
            refuse(frame.sequence(), refused);
        } else if (message instanceof HostMessage.ShiftRequest request) {
            answer(new RigMessage.Ack(frame.sequence()));
            answer(new Event(Event.Kind.REQUEST_ECHO, told(nowNanos), request.direction(), frame.sequence()));
            state = RigState.MOVING;
            motionEndsNanos = options.gated() ? NEVER : nowNanos + ALWAYS_ON_NANOS;
            unit.request(request.direction(), request.toSprocket(), nowNanos);
        } else if (message instanceof HostMessage.Drive drive) {
            answer(new RigMessage.Ack(frame.sequence()));
            drive(drive, frame.sequence());
        } else {
            answer(new RigMessage.Ack(frame.sequence()));
        }
        answered.remember(frame.sequence(), nowNanos, List.copyOf(answers));
    }

    private void drive(HostMessage.Drive m, int sequence) {
        if (m.direction() == 0) {
            unit.stopDrive(nowNanos);
            return;
        }
        state = RigState.MOVING;
        motionEndsNanos = NEVER;
        unit.drive(m.direction(), m.currentMa() * 1e-3, m.speedDegS(), nowNanos + m.ms() * 1_000_000L, nowNanos);
        driveSequence = sequence; // from here on: the drive before ended by its own
    }

    private void answer(RigMessage message) {
        answers.add(message);
        send(message);
    }

    private void refuse(int sequence, FaultCode code) {
        answer(new RigMessage.Fault(sequence, code.number(), state.number()));
    }

    private @Nullable FaultCode off(HostMessage message) {
        boolean end = message instanceof HostMessage.Stop;
        boolean wasOn = supplyMv > 0;
        supplyOff(end ? "stop" : "cut", 0, true);
        if (end) {
            if (sampling.begun()) {
                send(sampling.block());
            }
            sampling.stop();
        }
        if (state != RigState.FAULT) {
            state = end ? RigState.IDLE : wasOn ? RigState.CUT : state;
        }
        return null;
    }

    /** Does a command, or says why not. A drive and a shift are begun once they are acknowledged. */
    private @Nullable FaultCode done(HostMessage message, int sequence) {
        FaultCode refused = table.refusal(message, state, cause);
        if (refused != null) {
            return refused;
        }
        if (message instanceof HostMessage.Limits m) {
            guards.set(m);
        } else if (message instanceof HostMessage.Configure m) {
            if (sampling.begun()) {
                send(sampling.block());
            }
            sampling.stop();
            sampling.configure(m.sampleRateHz(), m.samplesPerBlock());
        } else if (message instanceof HostMessage.Arm m) {
            state = RigState.ARMED;
            supplyOn(m.supplyMv(), "arm", sequence);
            sampling.start(nowNanos);
        } else if (message instanceof HostMessage.SupplySet m) {
            supplyOn(m.supplyMv(), "supply-set", sequence);
        }
        return null;
    }
}
