package org.shiftstand.rig;

import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.Frame;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigState;

/**
 * Speaks with a rig as {@code rig/WIRE.md} lays down: sequence numbers, answers, repetition, heartbeats. The only place
 * of this package that waits, and it waits only in {@link Link#receive}.
 */
final class Conversation {
    /** Where samples and events go. */
    interface Ear {
        /**
         * A block came.
         *
         * @param lostFrames frames that are missing since the last block
         */
        void samples(RigMessage.Samples block, long lostFrames);

        void event(RigMessage.Event event);

        /** A damaged frame came; what is known of it is counted here. */
        void damaged();
    }

    static final long SECOND = 1_000_000;

    private static final long ANSWER = 200_000; // WIRE.md section 3
    private static final int TRIES = 3;
    private static final long HELLO_ANSWER = 2 * SECOND;
    private static final long BEAT = 200_000;
    private static final long SILENCE = SECOND;
    private static final long POLL = 50_000; // how late a stop by the user may be seen on a silent line
    private static final int SEQUENCES = 0xFFFF; // 0 … 0xFFFE

    private final Link link;
    private final BooleanSupplier stop;
    private final Map<String, Long> counters;
    private @Nullable Ear ear;
    private RigMessage.@Nullable Identity identity;
    private int otherMajor = -1;
    private int nextSequence;
    private int rigSequence = -1;
    private long lostSinceBlock;
    private long nextBeat = Long.MAX_VALUE;
    private long lastBeat;
    private int awaited = MessageCodec.NO_SEQUENCE;
    private boolean acknowledged;
    private boolean echoed;
    private RigMessage.@Nullable Fault refusal;
    private RigMessage.@Nullable Fault fault;
    private int cutSequence = -1;
    private boolean stopping;
    private long longestSilence = SILENCE;
    private long silentFor;

    /** @param counters go on from where an earlier session left them */
    Conversation(Link link, BooleanSupplier stop, Map<String, Long> counters) {
        this.link = link;
        this.stop = stop;
        this.counters = counters;
        for (String name : new String[] {"damaged-frames", "frames", "lost-frames"}) {
            counters.putIfAbsent(name, 0L);
        }
    }

    Conversation(Link link, BooleanSupplier stop) {
        this(link, stop, new TreeMap<>());
    }

    void hears(Ear ear) {
        this.ear = ear;
    }

    Map<String, Long> counters() {
        return counters;
    }

    /**
     * Opens the session.
     *
     * @throws LinkException where nobody answers or another version is spoken
     */
    RigMessage.Identity hello() {
        Frame hello = MessageCodec.encode(new HostMessage.Hello(MessageCodec.MAJOR, MessageCodec.MINOR), sequence());
        for (int i = 0; i < TRIES; i++) {
            link.send(hello);
            long until = link.now() + HELLO_ANSWER;
            while (link.now() < until) {
                step(until);
                RigMessage.Identity rig = identity;
                if (otherMajor >= 0) {
                    throw new LinkException(String.format(
                            Locale.ROOT,
                            "%s: the rig speaks protocol version %d, this program speaks %d. Update the older of the two;"
                                    + " rig/WIRE.md describes version %d.",
                            link.address(),
                            otherMajor,
                            MessageCodec.MAJOR,
                            MessageCodec.MAJOR));
                }
                if (rig != null) {
                    return rig;
                }
            }
        }
        throw new LinkException(link.address() + ": no answer to hello, 3 times within 2 s each. Check that a rig is on"
                + " this port, that it has power, and that its speed is the one set; damaged frames seen: "
                + counters.get("damaged-frames") + ".");
    }

    /**
     * From now on the rig cuts by itself when this loop hangs, and this loop ends the run when the rig is silent.
     *
     * @param blockMicros how long a block of samples spans: the rig says something at least that often
     */
    void startHeartbeat(long blockMicros) {
        nextBeat = link.now();
        longestSilence = Math.max(SILENCE, 3 * blockMicros);
        silentFor = 0;
    }

    /** The supply is off on purpose: the rig expects no heartbeat, and may say nothing. Or: it shall show that it cuts. */
    void endHeartbeat() {
        nextBeat = Long.MAX_VALUE;
    }

    /** Link's clock when the last heartbeat was sent; 0 before the first. */
    long lastBeatMicros() {
        return lastBeat;
    }

    /** Sends a command and returns its sequence number once it is accepted. */
    int command(HostMessage message) {
        int sequence = sequence();
        String refused = ask(message, sequence, message instanceof HostMessage.ShiftRequest);
        if (!refused.isEmpty()) {
            throw new RunEnded(new RunEnd.RigFault(refused));
        }
        return sequence;
    }

    /** Waits, listening. */
    void waitUntil(long linkMicros) {
        while (link.now() < linkMicros) {
            step(linkMicros);
        }
    }

    /** Listens for one arrival, or at most {@code micros}. */
    void listen(long micros) {
        step(link.now() + micros);
    }

    /** Listens on after the end: to samples that show what a cut did. Faults and stops change nothing any more. */
    void listenAfterwards(long micros) {
        stopping = true;
        nextBeat = Long.MAX_VALUE;
        waitUntil(link.now() + micros);
    }

    /** Sends {@code cut} at once, without waiting; once. */
    void cutNow() {
        if (cutSequence < 0) {
            cutSequence = sequence();
            link.send(MessageCodec.encode(new HostMessage.Cut(), cutSequence));
        }
    }

    /**
     * Supply off, sampling off; never throws but for what the ear throws.
     *
     * @return whether the rig confirmed that the supply is off
     */
    boolean cutAndStop() {
        stopping = true;
        nextBeat = Long.MAX_VALUE;
        cutNow();
        boolean cut = accepted(new HostMessage.Cut(), cutSequence);
        boolean stopped = accepted(new HostMessage.Stop(), sequence());
        return cut || stopped;
    }

    private boolean accepted(HostMessage message, int sequence) {
        try {
            return ask(message, sequence, false).isEmpty();
        } catch (RunEnded e) { // lost, or no answer: told by the result
            return false;
        }
    }

    /** Whether the way out has begun: nothing ends the run a second time. */
    boolean stopping() {
        return stopping;
    }

    /** Sends until answered: empty once accepted, else why it was refused. */
    private String ask(HostMessage message, int sequence, boolean withEcho) {
        Frame frame = MessageCodec.encode(message, sequence);
        awaited = sequence;
        acknowledged = false;
        echoed = !withEcho;
        refusal = null;
        boolean alreadySent = sequence == cutSequence;
        for (int i = 0; i < TRIES; i++) {
            if (i > 0) {
                count("resent-commands", 1);
            }
            if (i > 0 || !alreadySent) {
                link.send(frame);
            }
            long until = link.now() + ANSWER;
            while (link.now() < until) {
                step(until);
                RigMessage.Fault no = refusal;
                if (no != null) {
                    return name(message) + " was refused: " + words(no);
                }
                if (acknowledged && echoed) {
                    awaited = MessageCodec.NO_SEQUENCE;
                    return "";
                }
            }
        }
        throw new RunEnded(new RunEnd.LinkLost("no answer to " + name(message) + ", 3 times within 0.2 s each"));
    }

    private static String name(HostMessage message) {
        return message.getClass()
                .getSimpleName()
                .replaceAll("(?<=[a-z])(?=[A-Z])", " ")
                .toLowerCase(Locale.ROOT);
    }

    private static String words(RigMessage.Fault f) {
        return FaultCode.of(f.code()).map(FaultCode::words).orElse("code " + f.code()) + " (state "
                + RigState.of(f.state()).map(RigState::word).orElse(String.valueOf(f.state())) + ")";
    }

    /** One turn of the loop: beats, looks whether a person wants to stop, takes one arrival. */
    private void step(long until) {
        long now = link.now();
        if (now >= nextBeat) {
            link.send(MessageCodec.encode(new HostMessage.Heartbeat(), sequence()));
            lastBeat = now;
            nextBeat = now + BEAT;
        }
        Arrival arrival = link.receive(Math.min(Math.min(until, nextBeat), now + POLL));
        listened(arrival, link.now() - now);
        boolean stopped = !stopping && stop.getAsBoolean();
        if (stopped) {
            cutNow(); // before anything is written
        }
        take(arrival);
        if (stopped) {
            throw new RunEnded(StopWish.endOf(stop));
        }
        RigMessage.Fault f = fault;
        if (f != null && !stopping) {
            throw new RunEnded(new RunEnd.RigFault(words(f)));
        }
        if (silent()) {
            throw new RunEnded(new RunEnd.LinkLost("the rig has said nothing for "
                    + Watches.number(longestSilence / 1e6)
                    + " s, though the port is there"));
        }
    }

    /**
     * Adds up for how long nothing came. Only time spent listening counts: after this process was held up, what has come
     * meanwhile is still on its way here.
     */
    private void listened(Arrival arrival, long micros) {
        silentFor = arrival instanceof Arrival.Nothing ? silentFor + Math.min(micros, 2 * POLL) : 0;
    }

    private boolean silent() {
        return nextBeat != Long.MAX_VALUE && !stopping && silentFor > longestSilence;
    }

    private void take(Arrival arrival) {
        if (arrival instanceof Arrival.Received received) {
            count("frames", 1);
            take(received.frame());
        } else if (arrival instanceof Arrival.Damaged) {
            count("damaged-frames", 1);
            Ear listener = ear;
            if (listener != null) {
                listener.damaged();
            }
        } else if (arrival instanceof Arrival.Dropped dropped) {
            count("dropped-frames", dropped.arrivals());
        } else if (arrival instanceof Arrival.Lost lost) {
            throw new RunEnded(new RunEnd.LinkLost(lost.cause()));
        }
    }

    private void take(Frame frame) {
        if (frame.version() != MessageCodec.MAJOR) {
            otherMajor = frame.version();
            return;
        }
        if (frame.sequence() == rigSequence) {
            count("repeated-frames", 1);
            return;
        }
        follow(frame.sequence());
        Decoded<RigMessage> decoded = MessageCodec.decodeRig(frame);
        if (decoded instanceof Decoded.Known<RigMessage> known) {
            take(known.message());
        } else if (decoded instanceof Decoded.Unknown<RigMessage>) {
            count("unknown-frames", 1);
        } else {
            count("malformed-frames", 1);
        }
    }

    private void follow(int sequence) {
        if (rigSequence >= 0) {
            int lost = Math.floorMod(sequence - rigSequence - 1, SEQUENCES);
            if (lost >= SEQUENCES / 2) { // out of its order, or once more: what it should have followed is past
                count("late-frames", 1);
                return;
            }
            count("lost-frames", lost);
            lostSinceBlock += lost;
        }
        rigSequence = sequence;
    }

    private void take(RigMessage message) {
        Ear listener = ear;
        if (message instanceof RigMessage.Identity m) {
            identity = m;
            otherMajor = m.major() == MessageCodec.MAJOR ? otherMajor : m.major();
        } else if (message instanceof RigMessage.Ack m) {
            acknowledged |= m.sequence() == awaited;
        } else if (message instanceof RigMessage.Fault m) {
            if (m.sequence() == MessageCodec.NO_SEQUENCE) {
                // before the identity it is from an earlier session, and hello may have ended it
                fault = identity == null ? null : m;
            } else if (m.sequence() == awaited) {
                refusal = m;
            }
        } else if (message instanceof RigMessage.Samples m) {
            if (listener != null) {
                long lost = lostSinceBlock;
                lostSinceBlock = 0;
                listener.samples(m, lost);
            }
        } else if (message instanceof RigMessage.Event m) {
            echoed |= m.kind() == RigMessage.Event.Kind.REQUEST_ECHO && m.sequence() == awaited;
            if (listener != null) {
                listener.event(m);
            }
        }
    }

    private int sequence() {
        int s = nextSequence;
        nextSequence = (s + 1) % SEQUENCES;
        return s;
    }

    private void count(String name, long more) {
        counters.merge(name, more, Long::sum);
    }
}
