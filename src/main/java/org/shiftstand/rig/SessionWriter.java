package org.shiftstand.rig;

import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.Link;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunWriter;

/**
 * Puts what comes from a rig onto the record's clock, which goes on through every break and never back.
 *
 * <p>A session's offset is settled at the first time that the rig tells in it. A rig whose clock simply went on keeps its
 * offset, so that times across the break stay exact to the rig's clock. One that was started again is placed by UTC, at least
 * a second after the last sample: UTC may have been set in between.
 */
final class SessionWriter implements RunWriter {
    private static final long LEAST_BREAK = 1_000_000;
    // the rig's clock is good to 100 ppm (WIRE.md section 6), a computer's to less; a restart is off by far more
    private static final long SAME_CLOCK = 2_000_000;
    private static final double SAME_RATE = 1e-3;
    // a computer's clock that was wrong by years must not carry the record's clock away
    private static final long LONGEST_BREAK = 400L * 86_400 * 1_000_000;

    private final RunWriter record;
    private @Nullable Link joining;
    private String cause = "";
    private long offsetMicros;
    private long lastMicros;
    private long anchorMicros;
    private long anchorUtcMicros;
    private boolean anchored;
    private int waitingPlace = -1;
    private final Map<String, Long> waitingCounters = new TreeMap<>();

    SessionWriter(RunWriter record, Optional<Continuation> goesOn) {
        this.record = record;
        goesOn.ifPresent(before -> {
            offsetMicros = before.offsetMicros();
            lastMicros = before.lastMicros();
            anchorMicros = before.anchorMicros();
            anchorUtcMicros = before.anchorUtcMicros();
            anchored = true;
        });
    }

    /** What follows is of another session. */
    void join(Link link, String why) {
        joining = link;
        cause = why;
    }

    private long at(long rigMicros) {
        Link link = joining;
        if (link != null) {
            joining = null;
            settle(rigMicros, link.utcMicros());
        }
        long at = rigMicros + offsetMicros;
        lastMicros = Math.max(lastMicros, at);
        return at;
    }

    private void settle(long rigMicros, long utcMicros) {
        long earliest = lastMicros + LEAST_BREAK;
        long byUtc = anchored ? anchorMicros + (utcMicros - anchorUtcMicros) : earliest;
        long wentOn = rigMicros + offsetMicros;
        long tolerated = SAME_CLOCK + Math.round(SAME_RATE * Math.abs(utcMicros - anchorUtcMicros));
        boolean sameClock = wentOn > lastMicros && anchored && Math.abs(wentOn - byUtc) <= tolerated;
        long placed = byUtc - lastMicros > LONGEST_BREAK ? earliest : Math.max(earliest, byUtc);
        offsetMicros = sameClock ? offsetMicros : placed - rigMicros;
        record.session(rigMicros + offsetMicros, offsetMicros, utcMicros, cause);
        writeWaiting(rigMicros + offsetMicros);
    }

    @Override
    public void session(long atMicros, long offset, long utcMicros, String why) {
        throw new IllegalStateException("sessions are begun by join");
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        long first = at(firstMicros);
        lastMicros = Math.max(lastMicros, first + (samples.length / 4 - 1) * intervalNanos / 1000);
        record.block(blockNumber, first, intervalNanos, samples);
    }

    @Override
    public void event(RunEvent e) {
        record.event(new RunEvent(
                at(e.atMicros()), e.kind(), e.value(), e.from(), e.to(), e.cycle(), e.step(), e.supplyMv(), e.text()));
    }

    @Override
    public void gap(long fromMicros, long toMicros, long samples, String why) {
        long to = at(toMicros);
        record.gap(to - (toMicros - fromMicros), to, samples, why);
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        anchorMicros = at(rigMicros);
        anchorUtcMicros = utcMicros;
        anchored = true;
        record.anchor(anchorMicros, utcMicros);
    }

    /** {@inheritDoc} Before the rig has told a time it waits for that: nothing of a session stands before its row. */
    @Override
    public void place(int action, long atMicros) {
        if (joining == null) {
            record.place(action, at(atMicros));
        } else {
            waitingPlace = action;
        }
    }

    /** {@inheritDoc} Waits as a place does. */
    @Override
    public void counter(String name, long value) {
        if (joining == null) {
            record.counter(name, value);
        } else {
            waitingCounters.put(name, value);
        }
    }

    private void writeWaiting(long at) {
        if (waitingPlace >= 0) {
            record.place(waitingPlace, at);
            waitingPlace = -1;
        }
        waitingCounters.forEach(record::counter);
        waitingCounters.clear();
    }

    @Override
    public void finish(String end) {
        record.finish(end);
    }

    @Override
    public void close() {
        record.close();
    }
}
