package org.shiftstand.sim;

import java.util.ArrayDeque;
import java.util.List;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.FrameDecoder;
import org.shiftstand.link.Link;
import org.shiftstand.profile.Profile;

/**
 * A simulated rig in this process, in simulated time: {@link #receive} moves the clock exactly to the next frame, or to the
 * time asked for, as fast as the machine can. Everything passes through the same codec as on a serial line.
 *
 * <p>The clock of the link and that of the rig are one. Wall clock starts at 2026-01-01T00:00:00Z. One thread.
 */
public final class SimulatedLink implements Link {
    /** 2026-01-01T00:00:00Z, so that a seed gives the same record on any day. */
    private static final long START_UTC_MICROS = 1_767_225_600_000_000L;

    private final SimulatedRig rig;
    private final FrameDecoder decoder = new FrameDecoder();
    private final ArrayDeque<Arrival> arrived = new ArrayDeque<>();
    private final long unplugMicros;
    private long nowMicros;
    private boolean lost;
    private boolean closed;

    /**
     * Opens the line to a fresh rig.
     *
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     */
    public SimulatedLink(Profile profile, SimOptions options) {
        rig = new SimulatedRig(profile, options);
        unplugMicros = options.line().unplugAtS().isPresent()
                ? Math.round(options.line().unplugAtS().getAsDouble() * 1e6)
                : Long.MAX_VALUE;
    }

    @Override
    public String address() {
        return "sim";
    }

    @Override
    public void send(Frame frame) {
        if (closed || lost) {
            return;
        }
        byte[] bytes = FrameCodec.encode(frame);
        rig.onBytes(bytes, 0, bytes.length, this::fromRig);
    }

    private void fromRig(byte[] frame) {
        decoder.feed(frame, arrived::add);
    }

    @Override
    public Arrival receive(long untilMicros) {
        if (arrived.isEmpty() && !closed && !lost && untilMicros > nowMicros) {
            nowMicros = rig.advance(Math.min(untilMicros, unplugMicros), this::fromRig);
            if (nowMicros >= unplugMicros) {
                lost = true;
                arrived.clear();
                rig.portLost();
            }
        }
        if (lost) {
            return new Arrival.Lost("the simulated line was unplugged");
        }
        if (closed) {
            return new Arrival.Lost("the link was closed");
        }
        Arrival next = arrived.poll();
        return next != null ? next : new Arrival.Nothing();
    }

    @Override
    public long now() {
        return nowMicros;
    }

    @Override
    public long utcMicros() {
        return START_UTC_MICROS + nowMicros;
    }

    /** Truth of every shift so far. */
    public SimTruth truth() {
        return rig.truth();
    }

    /** Every change of the supply since the start. */
    public List<SupplyChange> supplyLog() {
        return rig.supplyLog();
    }

    /** The rig at the other end. */
    public SimulatedRig rig() {
        return rig;
    }

    /** Closes the line; the rig cuts the supply. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            rig.portLost();
        }
    }
}
