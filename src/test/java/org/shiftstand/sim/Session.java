package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;

/** A host that is as simple as can be: says what the test says, keeps all it hears, beats its heart. */
final class Session {
    static final HostMessage.Limits NO_GUARDS = new HostMessage.Limits(0, 0, 0, 0, 0, 0, 0, 0);

    final Link link;
    final List<RigMessage> heard = new ArrayList<>();
    int damaged;
    String lost = "";
    boolean beating = true;
    private int sequence;
    private long beatAt;

    Session(Link link) {
        this.link = link;
    }

    int say(HostMessage message) {
        int used = sequence++;
        link.send(MessageCodec.encode(message, used));
        return used;
    }

    void repeat(HostMessage message, int sequence) {
        link.send(MessageCodec.encode(message, sequence));
    }

    Session armed(int rateHz, int perBlock) {
        return armed(rateHz, perBlock, NO_GUARDS);
    }

    Session armed(int rateHz, int perBlock, HostMessage.Limits limits) {
        say(new HostMessage.Hello(1, 1));
        say(new HostMessage.Configure(rateHz, perBlock));
        say(limits);
        say(new HostMessage.Arm(8200));
        return listen(0.5);
    }

    Session listen(double seconds) {
        long until = link.now() + Math.round(seconds * 1e6);
        while (link.now() < until && lost.isEmpty()) {
            if (beating && link.now() >= beatAt) {
                say(new HostMessage.Heartbeat());
                beatAt = link.now() + 200_000;
            }
            take(link.receive(beating ? Math.min(until, beatAt) : until));
        }
        return this;
    }

    private void take(Arrival arrival) {
        if (arrival instanceof Arrival.Received r) {
            if (MessageCodec.decodeRig(r.frame()) instanceof Decoded.Known<RigMessage> known) {
                heard.add(known.message());
            }
        } else if (arrival instanceof Arrival.Damaged) {
            damaged++;
        } else if (arrival instanceof Arrival.Lost l) {
            lost = l.cause();
        }
    }

    /** Over the whole cassette and back, so many times; 1.6 s a shift. */
    Session sweeps(int sprockets, int times) {
        for (int i = 0; i < times; i++) {
            walk(1, sprockets - 1);
            walk(-1, sprockets - 1);
        }
        return this;
    }

    Session walk(int direction, int shifts) {
        for (int i = 0; i < shifts; i++) {
            say(new HostMessage.ShiftRequest(direction, 0));
            listen(1.6);
        }
        return this;
    }

    List<Event> events(Event.Kind kind) {
        return heard.stream()
                .filter(m -> m instanceof Event e && e.kind() == kind)
                .map(Event.class::cast)
                .toList();
    }

    List<RigMessage.Samples> blocks() {
        return heard.stream()
                .filter(RigMessage.Samples.class::isInstance)
                .map(RigMessage.Samples.class::cast)
                .toList();
    }

    List<FaultCode> refusals(int sequence) {
        return heard.stream()
                .filter(m -> m instanceof RigMessage.Fault f && f.sequence() == sequence)
                .map(m -> FaultCode.of(((RigMessage.Fault) m).code()).orElseThrow())
                .toList();
    }

    boolean acknowledged(int sequence) {
        return heard.contains(new RigMessage.Ack(sequence));
    }
}
