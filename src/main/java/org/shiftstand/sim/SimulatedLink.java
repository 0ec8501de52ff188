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
 * <p>The link's clock starts at its opening; on a rig's first link it is the rig's own. Wall clock starts at
 * 2026-01-01T00:00:00Z. One thread.
 */
public final class SimulatedLink implements Link {
    private final SimulatedPlace place;
    private final FrameDecoder decoder = new FrameDecoder();
    private final ArrayDeque<Arrival> arrived = new ArrayDeque<>();
    private final long openedMicros;
    private final int breaksBefore;
    private boolean closed;

    /**
     * Opens the line to a fresh rig.
     *
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     */
    public SimulatedLink(Profile profile, SimOptions options) {
        this(new SimulatedPlace(profile, options));
    }

    SimulatedLink(SimulatedPlace place) {
        this.place = place;
        openedMicros = place.nowMicros();
        breaksBefore = place.breaks();
    }

    @Override
    public String address() {
        return place.address();
    }

    private boolean lost() {
        return place.breaks() != breaksBefore;
    }

    @Override
    public void send(Frame frame) {
        if (closed || lost()) {
            return;
        }
        byte[] bytes = FrameCodec.encode(frame);
        place.rig().onBytes(bytes, 0, bytes.length, this::fromRig);
    }

    private void fromRig(byte[] frame) {
        decoder.feed(frame, arrived::add);
    }

    @Override
    public Arrival receive(long untilMicros) {
        if (arrived.isEmpty() && !closed && !lost() && untilMicros > now()) {
            place.advance(openedMicros + untilMicros, this::fromRig);
        }
        if (lost()) {
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
        return place.nowMicros() - openedMicros;
    }

    @Override
    public long utcMicros() {
        return place.utcMicros();
    }

    /** Truth of every shift so far. */
    public SimTruth truth() {
        return place.truth();
    }

    /** Every change of the supply since the simulation began. */
    public List<SupplyChange> supplyLog() {
        return place.supplyLog();
    }

    /** The rig at the other end. */
    public SimulatedRig rig() {
        return place.rig();
    }

    /** Closes the line; the rig cuts the supply. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            place.closed(this);
        }
    }
}
