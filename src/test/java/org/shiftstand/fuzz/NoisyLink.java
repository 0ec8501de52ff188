package org.shiftstand.fuzz;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Random;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.FrameDecoder;
import org.shiftstand.link.Link;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.profile.Profile;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedRig;

/**
 * A line to a simulated rig that damages what goes over it: bits flipped, frames cut, lost, doubled, held back behind
 * later ones, and noise longer than any frame. Simulated time.
 */
final class NoisyLink implements Link {
    private static final int WAYS = 7;

    private final SimulatedRig rig;
    private final Random random;
    private final int oneIn;
    private final FrameDecoder decoder = new FrameDecoder();
    private final Deque<Arrival> arrived = new ArrayDeque<>();
    private final List<byte[]> heldBack = new ArrayList<>();
    private final List<RigMessage> said = new ArrayList<>();
    private long now;
    private long hurt;

    /** @param oneIn one frame in so many is damaged, in each direction */
    NoisyLink(Profile profile, SimOptions options, Random random, int oneIn) {
        rig = new SimulatedRig(profile, options);
        this.random = random;
        this.oneIn = oneIn;
    }

    /** Whatever the rig really said. */
    List<RigMessage> said() {
        return said;
    }

    /** Frames that were damaged on the way. */
    long hurt() {
        return hurt;
    }

    SimulatedRig rig() {
        return rig;
    }

    @Override
    public String address() {
        return "noisy";
    }

    @Override
    public void send(Frame frame) {
        for (byte[] bytes : onTheWay(FrameCodec.encode(frame))) {
            rig.onBytes(bytes, 0, bytes.length, this::fromRig);
        }
    }

    private void fromRig(byte[] frame) {
        new FrameDecoder().feed(frame, arrival -> {
            if (arrival instanceof Arrival.Received r
                    && MessageCodec.decodeRig(r.frame()) instanceof Decoded.Known<RigMessage> known) {
                said.add(known.message());
            }
        });
        onTheWay(frame).forEach(bytes -> decoder.feed(bytes, arrived::add));
    }

    /** What comes out of the line when a frame goes in. */
    private List<byte[]> onTheWay(byte[] frame) {
        List<byte[]> out = new ArrayList<>();
        if (random.nextInt(oneIn) > 0) {
            out.add(frame);
        } else {
            hurt++;
            switch (random.nextInt(WAYS)) {
                case 0 -> out.add(Bytes.mutated(frame, random, List.of("\0", "\1")));
                case 1 -> out.add(Arrays.copyOf(frame, random.nextInt(frame.length)));
                case 2 -> {} // lost
                case 3 -> out.addAll(List.of(frame, frame));
                case 4 -> {
                    heldBack.add(frame);
                    return out; // not before the next one
                }
                case 5 -> {
                    byte[] noise = new byte[1 + random.nextInt(5000)];
                    random.nextBytes(noise);
                    out.addAll(List.of(noise, frame));
                }
                default -> {
                    byte[] flipped = frame.clone();
                    flipped[random.nextInt(frame.length)] ^= (byte) (1 << random.nextInt(8));
                    out.add(flipped);
                }
            }
        }
        out.addAll(heldBack);
        heldBack.clear();
        return out;
    }

    @Override
    public Arrival receive(long untilMicros) {
        if (arrived.isEmpty() && untilMicros > now) {
            now = rig.advance(untilMicros, this::fromRig);
        }
        Arrival next = arrived.poll();
        return next != null ? next : new Arrival.Nothing();
    }

    @Override
    public long now() {
        return now;
    }

    @Override
    public long utcMicros() {
        return 1_767_225_600_000_000L + now;
    }

    @Override
    public void close() {
        rig.portLost();
    }
}
