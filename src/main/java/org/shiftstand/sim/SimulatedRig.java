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

    private static final int MOST_HZ = 4000;
    private static final int MOST_MV = 10_000;
    private static final long WATCHDOG_NANOS = 1_000_000_000L;
    private static final long MOTION_TAIL_NANOS = 100_000_000L; // moving ends so long after Hall off
    private static final long FAULT_AGAIN_NANOS = 1_000_000_000L;
    private static final long ESTOP_HELD_NANOS = 2_000_000_000L;
    private static final long ALWAYS_ON_NANOS = 2_000_000_000L; // moving ends so long after the echo
    private static final long NEVER = Long.MAX_VALUE;

    private final Profile profile;
    private final SimOptions options;
    private final SimulatedUnit unit;
    private final RigOutput output;
    private final Sampling sampling;
    private final RigGuards guards = new RigGuards();
    private final AnsweredCommands answered = new AnsweredCommands();
    private final FrameDecoder decoder = new FrameDecoder();
    private final List<SupplyChange> supplyLog = new ArrayList<>();
    private final List<RigMessage> answers = new ArrayList<>();
    private final long estopNanos;

    private Sink sink = frame -> {};
    private long nowNanos;
    private RigState state = RigState.IDLE;
    private @Nullable FaultCode cause;
    private boolean spoken = true; // the host's major is ours
    private int supplyMv;
    private long watchdogNanos = NEVER;
    private long motionEndsNanos = NEVER;
    private long faultAgainNanos = NEVER;
    private boolean estopPressed;
    private long ignored;

    /**
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     */
    public SimulatedRig(Profile profile, SimOptions options) {
        this.profile = profile;
        this.options = options;
        unit = new SimulatedUnit(profile, options);
        unit.listen(this::sensorPower);
        output = new RigOutput(options.line());
        sampling = new Sampling(unit);
        estopNanos = options.line().estopAtS().isPresent()
                ? Math.round(options.line().estopAtS().getAsDouble() * 1e9)
                : NEVER;
        if (estopNanos == 0) { // held while the rig boots
            estopPressed = true;
            state = RigState.FAULT;
            cause = FaultCode.EMERGENCY_STOP;
        }
    }

    /** Rig's clock, µs since boot: the last instant that was reached. */
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

    /**
     * Lets time pass until the rig says something, at most until {@code untilMicros}.
     *
     * @return the rig's clock then, µs
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
        long estop = estopPressed || nowNanos >= estopNanos ? NEVER : estopNanos;
        return Math.min(
                Math.min(sampling.nextNanos(), watchdogNanos),
                Math.min(Math.min(motionEndsNanos, faultAgainNanos), estop));
    }

    /** Whatever is due now. Time-outs before the sample of the same instant. */
    private void happen() {
        unit.advanceTo(nowNanos);
        if (nowNanos >= estopNanos && nowNanos < estopNanos + ESTOP_HELD_NANOS && !estopPressed) {
            estopPressed = true;
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
            sampling.take(nowNanos);
            if (supplyMv > 0) {
                guard();
            }
            output.loseBlocks(unit.takeLostFrames());
            if (sampling.full()) {
                output.send(sampling.block(), nowNanos, sink);
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
        send(new Event(on ? Event.Kind.HALL_ON : Event.Kind.HALL_OFF, nanos / 1000, 0, MessageCodec.NO_SEQUENCE));
        if (options.gated()) {
            motionEndsNanos = on || state != RigState.MOVING ? NEVER : nanos + MOTION_TAIL_NANOS;
        }
    }

    private void event(Event.Kind kind, int value, int sequence) {
        send(new Event(kind, nowNanos / 1000, value, sequence));
    }

    private void send(RigMessage message) {
        output.send(message, nowNanos, sink);
    }

    private void supplyOn(int milliVolts, String why, int sequence) {
        boolean first = supplyMv == 0;
        supplyMv = milliVolts;
        supplyLog.add(new SupplyChange(nowMicros(), milliVolts, why));
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
        supplyLog.add(new SupplyChange(nowMicros(), 0, why));
        if (told) {
            event(Event.Kind.SUPPLY_OFF, offCause, MessageCodec.NO_SEQUENCE);
        }
    }

    private void arrived(Arrival arrival) {
        if (!(arrival instanceof Arrival.Received received)) {
            ignored++;
            return;
        }
        Frame frame = received.frame();
        Decoded<HostMessage> decoded = MessageCodec.decodeHost(frame);
        if (decoded instanceof Decoded.Known<HostMessage> known) {
            if (known.message() instanceof HostMessage.Hello hello) {
                hello(hello);
            } else if (known.message() instanceof HostMessage.Heartbeat) {
                if (supplyMv > 0) {
                    watchdogNanos = nowNanos + WATCHDOG_NANOS;
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
                0,
                HallPair.FULL_SCALE + 1,
                Sensors.CURRENT_MICROAMP_PER_COUNT,
                Sensors.SUPPLY_MICROVOLT_PER_COUNT,
                MOST_HZ,
                MOST_MV));
        tellFault();
    }

    private boolean causeIsGone() {
        boolean held = cause == FaultCode.EMERGENCY_STOP && nowNanos < estopNanos + ESTOP_HELD_NANOS;
        return !held && guards.standing(nowNanos) == null;
    }

    private void command(HostMessage message, Frame frame) {
        List<RigMessage> before = answered.answersTo(frame.sequence(), nowNanos);
        if (!before.isEmpty()) {
            before.forEach(this::send);
            return;
        }
        answers.clear();
        FaultCode refused = spoken && frame.version() == output.version()
                ? message instanceof HostMessage.Cut || message instanceof HostMessage.Stop
                        ? off(message)
                        : done(message, frame.sequence())
                : FaultCode.VERSION;
        if (refused != null) {
            refuse(frame.sequence(), refused);
        } else if (message instanceof HostMessage.ShiftRequest request) {
            answer(new RigMessage.Ack(frame.sequence()));
            answer(new Event(Event.Kind.REQUEST_ECHO, nowNanos / 1000, request.direction(), frame.sequence()));
            state = RigState.MOVING;
            motionEndsNanos = options.gated() ? NEVER : nowNanos + ALWAYS_ON_NANOS;
            unit.request(request.direction(), request.toSprocket(), nowNanos);
        } else {
            answer(new RigMessage.Ack(frame.sequence()));
        }
        answered.remember(frame.sequence(), nowNanos, List.copyOf(answers));
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

    /** Does a command, or says why not; by the table of states. */
    private @Nullable FaultCode done(HostMessage message, int sequence) {
        FaultCode standing = cause;
        if (message instanceof HostMessage.Limits m) {
            boolean currentTimed = m.currentMa() == 0 || m.currentMs() > 0;
            boolean averageTimed = m.averageMa() == 0 || m.averageMs() > 0;
            if (!currentTimed || !averageTimed) {
                return FaultCode.VALUE;
            }
            guards.set(m);
            return null;
        }
        if (state == RigState.FAULT && standing != null) {
            return standing;
        }
        boolean on = state == RigState.ARMED || state == RigState.MOVING;
        if (message instanceof HostMessage.Configure m) {
            return on ? FaultCode.STATE : configured(m);
        }
        if (message instanceof HostMessage.Arm m) {
            return on ? FaultCode.STATE : armed(m.supplyMv(), sequence);
        }
        if (!on) {
            return FaultCode.NOT_ARMED;
        }
        if (message instanceof HostMessage.SupplySet m) {
            if (!suppliable(m.supplyMv())) {
                return FaultCode.VALUE;
            }
            supplyOn(m.supplyMv(), "supply-set", sequence);
            return null;
        }
        if (message instanceof HostMessage.ShiftRequest m) {
            boolean step = Math.abs(m.direction()) == 1 && m.toSprocket() == 0;
            boolean target = m.direction() == 0 && m.toSprocket() >= 1 && m.toSprocket() <= profile.sprockets();
            return step || target ? null : FaultCode.VALUE;
        }
        return FaultCode.UNSUPPORTED; // button contacts
    }

    private @Nullable FaultCode configured(HostMessage.Configure m) {
        if (m.sampleRateHz() < 1
                || m.sampleRateHz() > MOST_HZ
                || m.samplesPerBlock() < 1
                || m.samplesPerBlock() > MessageCodec.MOST_SAMPLES) {
            return FaultCode.VALUE;
        }
        if (sampling.begun()) {
            send(sampling.block());
        }
        sampling.stop();
        sampling.configure(m.sampleRateHz(), m.samplesPerBlock());
        return null;
    }

    private @Nullable FaultCode armed(int milliVolts, int sequence) {
        if (!sampling.configured()) {
            return FaultCode.NOT_CONFIGURED;
        }
        if (!guards.set()) {
            return FaultCode.NO_LIMITS;
        }
        if (!suppliable(milliVolts)) {
            return FaultCode.VALUE;
        }
        state = RigState.ARMED;
        supplyOn(milliVolts, "arm", sequence);
        sampling.start(nowNanos);
        return null;
    }

    private boolean suppliable(int milliVolts) {
        return milliVolts >= 1 && milliVolts <= MOST_MV && guards.allowsSupply(milliVolts);
    }
}
