package org.shiftstand.rig;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Predicate;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.Frame;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event.Kind;

/**
 * A rig in simulated time that can be made to misbehave in ways a sound simulator does not offer. By {@code
 * rig/WIRE.md}; sensors always on; a shift is 700 degrees in 0.3 s, with a plateau where asked.
 */
final class BenchRig implements Link {
    record Heard(long atMicros, int sequence, HostMessage message) {}

    private record Leg(long from, long to, double fromDeg, double toDeg) {}

    static final double PITCH_DEG = 700;

    final List<Heard> heard = new ArrayList<>();
    boolean supplyOn;
    boolean wasOn;
    int position = 4;
    int sprockets = 10;
    int moves;
    double startDelayS = 0.02;
    double holdS;
    boolean neverSettles;
    boolean stuck;
    boolean mute;
    int major = MessageCodec.MAJOR;
    String rigFirmware = "1";
    String unitFirmware = "";
    long openedAfterMicros;
    long lostAt = Long.MAX_VALUE;
    long emergencyAt = Long.MAX_VALUE;
    long muteAt = Long.MAX_VALUE;
    boolean samplesStop;
    boolean chatters; // acknowledges heartbeats, too
    DoubleUnaryOperator current = t -> 0.2;
    /** Frames that never arrive; asked once a frame. */
    Predicate<RigMessage> loses = m -> false;
    /** Frames that arrive twice. */
    Predicate<RigMessage> doubles = m -> false;

    private final Deque<Frame> outbox = new ArrayDeque<>();
    private final Deque<Leg> legs = new ArrayDeque<>();
    private double angleDeg = 3 * PITCH_DEG;
    private long now;
    private int sequence;
    private int perBlock;
    private long intervalNanos;
    private long blocks;
    private long samplingFrom = -1;
    private long lastBeat;
    private boolean configured;
    private boolean limited;
    private boolean fault;
    private int answered = -1;
    private final List<RigMessage> answers = new ArrayList<>();

    @Override
    public String address() {
        return "bench:";
    }

    @Override
    public void send(Frame frame) {
        HostMessage m = ((Decoded.Known<HostMessage>) MessageCodec.decodeHost(frame)).message();
        heard.add(new Heard(now, frame.sequence(), m));
        if (mute || now >= muteAt || now >= lostAt) {
            return;
        }
        if (m instanceof HostMessage.Hello) {
            off(-1);
            answered = -1;
            say(new RigMessage.Identity(major, 0, "bench", rigFirmware, unitFirmware, 0, 4096, 1200, 2500, 4000, 9000));
        } else if (m instanceof HostMessage.Heartbeat) {
            lastBeat = now;
            if (chatters) {
                say(new RigMessage.Ack(frame.sequence()));
            }
        } else if (frame.sequence() == answered) {
            List.copyOf(answers).forEach(this::say);
        } else {
            answered = frame.sequence();
            answers.clear();
            obey(m, frame.sequence());
        }
    }

    private void obey(HostMessage m, int s) {
        if (m instanceof HostMessage.Configure c) {
            configured = true;
            perBlock = c.samplesPerBlock();
            intervalNanos = Math.round(1e9 / c.sampleRateHz());
            answer(new RigMessage.Ack(s));
        } else if (m instanceof HostMessage.Limits) {
            limited = true;
            answer(new RigMessage.Ack(s));
        } else if (m instanceof HostMessage.Arm a) {
            if (fault || !configured || !limited) {
                answer(new RigMessage.Fault(s, fault ? 10 : configured ? 8 : 7, fault ? 4 : 0));
                return;
            }
            supplyOn = true;
            wasOn = true;
            lastBeat = now;
            samplingFrom = now;
            answer(new RigMessage.Ack(s));
            say(new RigMessage.Event(Kind.SUPPLY_ON, now, a.supplyMv(), s));
            say(new RigMessage.Event(Kind.HALL_ON, now, 0, 0xFFFF));
        } else if (m instanceof HostMessage.ShiftRequest r) {
            if (!supplyOn) {
                answer(new RigMessage.Fault(s, fault ? 10 : 3, fault ? 4 : 3));
                return;
            }
            answer(new RigMessage.Ack(s));
            answer(new RigMessage.Event(Kind.REQUEST_ECHO, now, r.direction(), s));
            shift(r.direction() != 0 ? position + r.direction() : r.toSprocket());
        } else if (m instanceof HostMessage.SupplySet) {
            answer(new RigMessage.Ack(s));
        } else if (m instanceof HostMessage.Cut || m instanceof HostMessage.Stop) {
            off(0);
            samplingFrom = m instanceof HostMessage.Stop ? -1 : samplingFrom;
            answer(new RigMessage.Ack(s));
        }
    }

    private void shift(int to) {
        moves++;
        if (stuck || to < 1 || to > sprockets) {
            return;
        }
        position = to;
        long t = now + Math.round(startDelayS * 1e6);
        double target = (to - 1) * PITCH_DEG;
        double beyond = target + Math.signum(target - angleDeg) * (holdS > 0 ? 250 : 0);
        leg(t, 300_000, angleDeg, beyond);
        if (holdS > 0) {
            leg(t + 300_000 + Math.round(holdS * 1e6), 150_000, beyond, target);
        }
        angleDeg = target;
    }

    private void leg(long at, long micros, double from, double to) {
        legs.add(new Leg(at, at + micros, from, to));
    }

    double degAt(long t) {
        double deg = legs.isEmpty() ? angleDeg : legs.getFirst().fromDeg();
        for (Leg l : legs) {
            if (t >= l.from()) {
                double part = Math.min(1, (t - l.from()) / (double) (l.to() - l.from()));
                deg = l.fromDeg() + part * (l.toDeg() - l.fromDeg());
            }
        }
        return neverSettles && moves > 0 ? deg + t / 2000.0 : deg;
    }

    private void off(int cause) {
        if (supplyOn) {
            supplyOn = false;
            if (cause >= 0) {
                say(new RigMessage.Event(Kind.SUPPLY_OFF, now, cause, 0xFFFF));
            }
        }
    }

    private void answer(RigMessage m) {
        answers.add(m);
        say(m);
    }

    private void say(RigMessage m) {
        Frame whole = MessageCodec.encode(m, sequence);
        sequence = (sequence + 1) % 0xFFFF;
        if (loses.test(m)) {
            return;
        }
        Frame frame = new Frame(major, whole.type(), whole.sequence(), whole.payload());
        outbox.add(frame);
        if (doubles.test(m)) {
            outbox.add(frame);
        }
    }

    @Override
    public Arrival receive(long until) {
        while (true) {
            if (now >= lostAt) {
                supplyOn = false;
                return new Arrival.Lost("unplugged");
            }
            if (!outbox.isEmpty()) {
                return new Arrival.Received(outbox.remove());
            }
            long next = Math.min(Math.max(until, now), nextHappening());
            now = next;
            happen();
            if (outbox.isEmpty() && now >= until) {
                return new Arrival.Nothing();
            }
        }
    }

    private long nextHappening() {
        long next = lostAt;
        if (supplyOn) {
            next = Math.min(next, Math.min(lastBeat + 1_000_000, emergencyAt));
        }
        return samplingFrom >= 0 && !samplesStop ? Math.min(next, blockEnd()) : next;
    }

    private long blockEnd() {
        return samplingFrom + (blocks + 1) * perBlock * intervalNanos / 1000;
    }

    private void happen() {
        if (supplyOn && now >= emergencyAt) {
            fault = true;
            say(new RigMessage.Event(Kind.EMERGENCY_STOP, now, 0, 0xFFFF));
            off(3);
        }
        if (supplyOn && now >= lastBeat + 1_000_000) {
            say(new RigMessage.Event(Kind.WATCHDOG, now, 0, 0xFFFF));
            off(1);
        }
        if (samplingFrom >= 0 && !samplesStop && now >= blockEnd()) {
            block();
        }
        if (now >= muteAt) {
            outbox.clear();
        }
    }

    private void block() {
        short[] samples = new short[4 * perBlock];
        long first = samplingFrom + blocks * perBlock * intervalNanos / 1000;
        for (int i = 0; i < perBlock; i++) {
            long t = first + i * intervalNanos / 1000;
            double rad = Math.toRadians(degAt(t));
            samples[4 * i] = (short) Math.round(2048 + 1200 * Math.sin(rad));
            samples[4 * i + 1] = (short) Math.round(2048 + 1200 * Math.cos(rad));
            samples[4 * i + 2] = (short) Math.round(current.applyAsDouble(t / 1e6) / 1.2e-3);
            samples[4 * i + 3] = (short) (supplyOn ? 3280 : 0);
        }
        while (legs.size() > 1 && legs.getFirst().to() < first) {
            legs.removeFirst();
        }
        say(new RigMessage.Samples(blocks++, first, intervalNanos, samples));
    }

    @Override
    public long now() {
        return now;
    }

    @Override
    public long utcMicros() {
        return 1_764_000_000_000_000L + openedAfterMicros + now;
    }

    @Override
    public void close() {
        supplyOn = false;
    }
}
