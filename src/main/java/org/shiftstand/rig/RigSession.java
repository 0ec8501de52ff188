package org.shiftstand.rig;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigMessage.Identity;
import org.shiftstand.link.RigMessage.Samples;

/**
 * One talk with a rig from hello to stop, whose samples and events stay in memory: what a probe and the search for limits
 * are made of. Leaves no record. Whatever the rig does by itself is kept as an event; only a fault ends the talk.
 *
 * <p>Closing it cuts the supply, also after an exception. One thread, one session at a time on a link.
 */
final class RigSession implements Conversation.Ear, AutoCloseable {
    /** Is told of each sample while it comes, for bounds that must hold at once. */
    interface Watch {
        /**
         * A sample.
         *
         * @param atMicros rig's clock
         * @param sensing whether the Hall pair has power and means anything
         */
        void sample(long atMicros, boolean sensing, short hallSin, short hallCos, double currentA);
    }

    static final int SUPPLY_BY_COMMAND = 0;
    static final int SUPPLY_BY_WATCHDOG = 1;
    static final int SUPPLY_BY_CURRENT = 2;
    static final int SUPPLY_BY_STOP = 3;

    private final Link link;
    private final Conversation rig;
    private final Identity identity;
    private final HallTrace trace;
    private final long intervalNanos;
    private final long blockMicros;
    private final double ampsPerCount;
    private final List<Event> events = new ArrayList<>();
    private final Deque<Event> powerEdges = new ArrayDeque<>();
    private boolean sensing;
    private final MotionWatch motion;
    private Watch watch = (at, sensing, sin, cos, amps) -> {};
    private long expectedBlock;
    private int lostBlocks;
    private long lastMicros;
    private long clockLead = Long.MAX_VALUE; // host's clock less rig's, at least
    private long echoMicros;
    private int echoSequence = -1;
    private boolean closed;
    private boolean cutConfirmed = true;

    /**
     * Says hello, sets sampling and guards; the supply stays off.
     *
     * @param turnsPerCycle turns of the shaft in one electrical turn of the Hall pair
     * @param ampsPerCount instead of what the rig states; 0 or below takes the rig's
     * @throws org.shiftstand.link.LinkException where nobody answers
     * @throws RunEnded where the rig refuses, or is in fault
     */
    RigSession(
            Link link,
            HostMessage.Limits limits,
            int rateHz,
            int blockSize,
            double turnsPerCycle,
            double ampsPerCount,
            BooleanSupplier stop) {
        this.link = link;
        rig = new Conversation(link, stop);
        rig.hears(this);
        intervalNanos = Math.round(1e9 / rateHz);
        blockMicros = blockSize * intervalNanos / 1000;
        trace = new HallTrace(intervalNanos, turnsPerCycle);
        boolean ready = false;
        try {
            identity = rig.hello();
            motion = new MotionWatch(identity.hallCounts());
            this.ampsPerCount = ampsPerCount > 0 ? ampsPerCount : identity.currentMicroampPerCount() / 1e6;
            rig.command(new HostMessage.Configure(rateHz, blockSize));
            rig.command(limits);
            ready = true;
        } finally {
            if (!ready) {
                rig.cutAndStop();
            }
        }
    }

    Identity identity() {
        return identity;
    }

    HallTrace trace() {
        return trace;
    }

    double ampsPerCount() {
        return ampsPerCount;
    }

    /** Seconds between samples. */
    double intervalS() {
        return intervalNanos / 1e9;
    }

    void watchedBy(Watch other) {
        watch = other;
    }

    /** Supply on; the rig expects heartbeats from here. */
    void arm(int milliVolts) {
        rig.command(new HostMessage.Arm(milliVolts));
        rig.startHeartbeat(blockMicros);
    }

    void command(HostMessage message) {
        rig.command(message);
    }

    /** No heartbeat from here: the rig shall cut by itself. */
    void fallSilent() {
        rig.endHeartbeat();
    }

    /** When the last heartbeat was sent, rig's clock; see {@link #rigMicros}. */
    long lastBeatMicros() {
        return rigMicros(rig.lastBeatMicros());
    }

    /** Listens for so long. */
    void listen(double seconds) {
        rig.waitUntil(link.now() + Math.round(seconds * 1e6));
    }

    /** Listens until something holds, at most so long; whether it does. */
    boolean await(BooleanSupplier holds, double seconds) {
        long until = link.now() + Math.round(seconds * 1e6);
        while (!holds.getAsBoolean()) {
            if (link.now() >= until) {
                return false;
            }
            rig.listen(Math.min(Conversation.SECOND / 20, until - link.now()));
        }
        return true;
    }

    /** Asks for a shift and returns without waiting for its end. */
    void request(int direction) {
        rig.command(new HostMessage.ShiftRequest(direction, 0));
    }

    /** Whether the shaft has turned by more than a quarter since the last request. */
    boolean moved() {
        return motion.moved();
    }

    /**
     * Waits until the shaft has come to rest after a request.
     *
     * @param quietS so long without activity is rest
     * @param startS so long after the request a shaft that does not move will not move any more
     * @param mostS longest wait
     * @return false where it never came to rest
     */
    boolean awaitRest(double quietS, double startS, double mostS) {
        return await(
                () -> {
                    long asked = echoMicros;
                    boolean started = motion.moved() || lastMicros - asked >= startS * 1e6;
                    return started && lastMicros - motion.lastActiveMicros() >= quietS * 1e6;
                },
                mostS);
    }

    /** Events so far, in their order. */
    List<Event> events() {
        return events;
    }

    /** The first event of a kind at or after a time on the rig's clock. */
    Optional<Event> event(Event.Kind kind, long fromMicros) {
        return events.stream()
                .filter(e -> e.kind() == kind && e.atMicros() >= fromMicros)
                .findFirst();
    }

    /** Rig's clock at the last sample; 0 before the first. */
    long lastMicros() {
        return lastMicros;
    }

    /** Blocks that are missing. */
    int lostBlocks() {
        return lostBlocks;
    }

    /**
     * The rig's clock at an instant of the link's, early by the quickest way that a block ever took from the rig to here
     * and never late: a time from here to something that the rig stamped comes out no shorter than it was.
     */
    long rigMicros(long linkMicros) {
        return clockLead == Long.MAX_VALUE ? linkMicros : linkMicros - clockLead;
    }

    long linkNow() {
        return link.now();
    }

    @Override
    public void samples(Samples block, long lostFrames) {
        if (block.blockNumber() < expectedBlock) {
            return; // doubled
        }
        lostBlocks += (int) Math.min(Integer.MAX_VALUE / 2, block.blockNumber() - expectedBlock);
        expectedBlock = block.blockNumber() + 1;
        trace.add(block.firstMicros(), block.intervalNanos(), block.samples());
        short[] s = block.samples();
        for (int i = 0, k = 0; i < block.count(); i++, k += 4) {
            long at = block.firstMicros() + i * block.intervalNanos() / 1000;
            motion.sample(at, s[k], s[k + 1]);
            lastMicros = at;
            while (!powerEdges.isEmpty() && powerEdges.getFirst().atMicros() <= at) {
                sensing = powerEdges.removeFirst().kind() == Event.Kind.HALL_ON;
            }
            watch.sample(at, sensing, s[k], s[k + 1], s[k + 2] * ampsPerCount);
        }
        clockLead = Math.min(clockLead, link.now() - lastMicros);
    }

    @Override
    public void event(Event event) {
        if (event.kind() == Event.Kind.REQUEST_ECHO) {
            if (event.sequence() == echoSequence) {
                return; // repeated with the answer to a repeated command
            }
            echoSequence = event.sequence();
            echoMicros = event.atMicros();
            motion.request(echoMicros);
        }
        if (event.kind() == Event.Kind.HALL_ON || event.kind() == Event.Kind.HALL_OFF) {
            boolean on = event.kind() == Event.Kind.HALL_ON;
            powerEdges.add(event);
            trace.power(event.atMicros(), on);
            motion.power(event.atMicros(), on);
        }
        events.add(event);
    }

    @Override
    public void damaged() {
        // the gap that it leaves shows as a lost block
    }

    /** Listens on after a fault has ended the talk; nothing can be asked any more. */
    void listenAfterwards(double seconds) {
        rig.listenAfterwards(Math.round(seconds * 1e6));
    }

    /** Whether the rig confirmed at the end that the supply is off; true while the session is open. */
    boolean cutConfirmed() {
        return cutConfirmed;
    }

    /** Supply off, sampling off. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            cutConfirmed = rig.cutAndStop();
        }
    }
}
