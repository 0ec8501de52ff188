package org.shiftstand.rig;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.Frame;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.sim.SimulatedLink;

/** A simulated rig whose ears are bent: it hears another command than the host's, later, or heartbeats nobody sent. */
final class BentLink implements Link {
    private record Late(long atMicros, Frame frame) {}

    final SimulatedLink rig;
    /** What the rig hears in place of a message; empty for nothing. */
    Function<HostMessage, Optional<HostMessage>> hears = Optional::of;
    /** What the rig says in place of a message. */
    UnaryOperator<RigMessage> tells = m -> m;
    /** By how much a cut comes late. */
    long cutLateMicros;
    /** Whether the rig hears a heartbeat again and again, whoever is silent. */
    boolean heartbeats;
    /** True angle when the last cut came to the rig, and when it was armed after that. */
    double atCutDeg = Double.NaN;

    double armedAfterDeg = Double.NaN;
    private final Deque<Late> late = new ArrayDeque<>();
    private long nextBeat;

    BentLink(SimulatedLink rig) {
        this.rig = rig;
    }

    @Override
    public String address() {
        return rig.address();
    }

    @Override
    public void send(Frame frame) {
        HostMessage said = ((Decoded.Known<HostMessage>) MessageCodec.decodeHost(frame)).message();
        if (said instanceof HostMessage.Arm && !Double.isNaN(atCutDeg) && Double.isNaN(armedAfterDeg)) {
            armedAfterDeg = rig.rig().unit().angleDeg();
        }
        if (said instanceof HostMessage.Cut
                && Double.isNaN(atCutDeg)
                && rig.rig().unit().busy()) {
            atCutDeg = rig.rig().unit().angleDeg();
        }
        Optional<HostMessage> heard = hears.apply(said);
        if (heard.isEmpty()) {
            return;
        }
        Frame bent = heard.get() == said ? frame : MessageCodec.encode(heard.get(), frame.sequence());
        if (said instanceof HostMessage.Cut && cutLateMicros > 0) {
            late.add(new Late(rig.now() + cutLateMicros, bent));
        } else {
            rig.send(bent);
        }
    }

    @Override
    public Arrival receive(long untilMicros) {
        long until = untilMicros;
        if (!late.isEmpty()) {
            until = Math.min(until, late.getFirst().atMicros());
        }
        if (heartbeats) {
            until = Math.min(until, Math.max(nextBeat, rig.now() + 1));
        }
        Arrival arrival = rig.receive(until);
        while (!late.isEmpty() && late.getFirst().atMicros() <= rig.now()) {
            rig.send(late.removeFirst().frame());
        }
        if (heartbeats && rig.now() >= nextBeat) {
            rig.send(MessageCodec.encode(new HostMessage.Heartbeat(), 60_000));
            nextBeat = rig.now() + 200_000;
        }
        return arrival instanceof Arrival.Received received ? told(received) : arrival;
    }

    private Arrival told(Arrival.Received received) {
        if (MessageCodec.decodeRig(received.frame()) instanceof Decoded.Known<RigMessage> known) {
            RigMessage bent = tells.apply(known.message());
            return bent == known.message()
                    ? received
                    : new Arrival.Received(
                            MessageCodec.encode(bent, received.frame().sequence()));
        }
        return received;
    }

    @Override
    public long now() {
        return rig.now();
    }

    @Override
    public long utcMicros() {
        return rig.utcMicros();
    }

    @Override
    public void close() {
        rig.close();
    }
}
