package org.shiftstand.rig;

import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.Link;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigMessage.Samples;
import org.shiftstand.procedure.Action.RequestShift;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunWriter;

/** Puts what the rig says into the record, and looks at it on the way: limits first, then the disk. */
final class Intake implements Conversation.Ear {
    private static final long ANCHOR = 60 * Conversation.SECOND;
    private static final String[] SUPPLY_OFF_CAUSES = {
        "command", "watchdog", "over-current", "emergency stop", "temperature", "supply window", "on-time"
    };

    private final Link link;
    private final Conversation rig;
    private final RunWriter writer;
    private final Watches watches;
    private final BlockLedger ledger;
    private final long intervalNanos;
    private long heardAt;
    private long nextAnchor = Long.MIN_VALUE;
    private @Nullable RequestShift asked;
    private int echoedSequence = -1;
    private long echoMicros;
    private int supplyMv;
    private boolean closed;

    Intake(Link link, Conversation rig, RunWriter writer, Watches watches, BlockLedger ledger, long intervalNanos) {
        this.link = link;
        this.rig = rig;
        this.writer = writer;
        this.watches = watches;
        this.ledger = ledger;
        this.intervalNanos = intervalNanos;
    }

    @Override
    public void samples(Samples block, long lostFrames) {
        if (closed || ledger.repeated(block)) {
            return;
        }
        watches.look(block);
        Optional<RunEnd> end = watches.tripped();
        if (end.isPresent()) {
            rig.cutNow(); // before the block is written
        }
        heardAt = link.now();
        ledger.enter(block, lostFrames, writer);
        writer.block(block.blockNumber(), block.firstMicros(), block.intervalNanos(), block.samples());
        if (heardAt >= nextAnchor) {
            nextAnchor = heardAt + ANCHOR;
            writer.anchor(ledger.lastMicros(), link.utcMicros());
            writeCounters();
        }
        if (Math.abs(block.intervalNanos() - intervalNanos) * 100 > intervalNanos) {
            end = end.or(() -> Optional.of(new RunEnd.RigFault(String.format(
                    Locale.ROOT,
                    "samples come every %d ns, %d ns were asked for",
                    block.intervalNanos(),
                    intervalNanos))));
        }
        end.ifPresent(this::end);
    }

    @Override
    public void event(Event e) {
        if (closed) {
            return;
        }
        switch (e.kind()) {
            case HALL_ON, HALL_OFF -> {
                watches.motion.power(e.atMicros(), e.kind() == Event.Kind.HALL_ON);
                write(e, e.kind() == Event.Kind.HALL_ON ? "hall-on" : "hall-off", "");
            }
            case REQUEST_ECHO -> echo(e);
            case SUPPLY_ON -> {
                supplyMv = e.value();
                write(e, "supply-on", "");
            }
            case SUPPLY_OFF -> supplyOff(e);
            case OVER_CURRENT -> fault(e, "over-current", "over-current, " + e.value() + " mA");
            case EMERGENCY_STOP -> fault(e, "emergency-stop", "emergency stop");
            case WATCHDOG -> fault(e, "watchdog", "watchdog: the rig heard no heartbeat for 1 s");
            case TEMPERATURE ->
                fault(e, "temperature", "over-temperature, " + Watches.number(e.value() / 10.0) + " degC");
            case OVERRUN -> write(e, "overrun", e.value() + " samples lost in the rig");
            case DRIVE_OVER -> write(e, "drive-over", "");
        }
    }

    @Override
    public void damaged() {
        if (!closed) {
            writer.counter("damaged-frames", rig.counters().getOrDefault("damaged-frames", 0L));
        }
    }

    private void supplyOff(Event e) {
        int cause = e.value();
        String words = cause >= 0 && cause < SUPPLY_OFF_CAUSES.length ? SUPPLY_OFF_CAUSES[cause] : "cause " + cause;
        supplyMv = 0;
        write(e, "supply-off", words);
        if (cause != 0) {
            end(new RunEnd.RigFault("the supply was cut: " + words));
        }
    }

    private void fault(Event e, String kind, String words) {
        rig.cutNow();
        write(e, kind, words);
        end(new RunEnd.RigFault(words));
    }

    private void end(RunEnd end) {
        if (!rig.stopping()) {
            throw new RunEnded(end);
        }
    }

    private void write(Event e, String kind, String text) {
        writer.event(new RunEvent(e.atMicros(), kind, e.value(), 0, 0, 0, "", supplyMv, text));
    }

    /** An event of the host's own, at the rig's clock as well as it is known. */
    void note(String kind, int value, String text) {
        if (!closed) {
            writer.event(new RunEvent(rigNow(), kind, value, 0, 0, 0, "", supplyMv, text));
        }
    }

    /** The next echo is of this request. */
    void expect(RequestShift request) {
        asked = request;
    }

    private void echo(Event e) {
        if (e.sequence() == echoedSequence) {
            return; // repeated with the answer to a repeated command
        }
        echoedSequence = e.sequence();
        echoMicros = e.atMicros();
        watches.request(e.atMicros());
        RequestShift request = asked;
        writer.event(
                request == null
                        ? new RunEvent(e.atMicros(), "request", e.value(), 0, 0, 0, "", supplyMv, "not asked for")
                        : new RunEvent(
                                e.atMicros(),
                                "request",
                                e.value(),
                                request.from(),
                                request.to(),
                                request.cycle(),
                                request.step(),
                                supplyMv,
                                ""));
    }

    /** The unit was armed with so much; the rig's own word for it comes as an event. */
    void armed(int mv) {
        supplyMv = mv;
    }

    void supplySet(int mv) {
        supplyMv = mv;
        note("supply-set", mv, "");
    }

    long echoMicros() {
        return echoMicros;
    }

    /** Rig's clock at the last sample that came. */
    long sampledMicros() {
        return ledger.lastMicros();
    }

    /** The rig's clock now, from the last block and the time since it came. */
    long rigNow() {
        return ledger.lastMicros() + (heardAt == 0 ? 0 : link.now() - heardAt);
    }

    /** Link's clock when the last block came; 0 before the first. */
    long heardAt() {
        return heardAt;
    }

    void place(int action) {
        writer.place(action, rigNow());
    }

    void writeCounters() {
        rig.counters().forEach(writer::counter);
    }

    /** Nothing more is written: the record is broken or done. */
    void close() {
        closed = true;
    }
}
