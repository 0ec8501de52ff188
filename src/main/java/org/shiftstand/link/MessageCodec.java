package org.shiftstand.link;

import java.nio.BufferUnderflowException;
import java.util.Arrays;
import org.shiftstand.link.RigMessage.Event;

/**
 * Messages to frames and back; layouts as in {@code rig/WIRE.md}, section 4 and 5.
 *
 * <p>Encoding refuses values that do not fit their field ({@link IllegalArgumentException}). Decoding never throws:
 * what it cannot read is {@link Decoded.Unknown} or {@link Decoded.Malformed}. The protocol version is not judged here.
 */
public final class MessageCodec {
    /** Protocol version spoken here. */
    public static final int MAJOR = 1;

    public static final int MINOR = 1;

    /** Sequence number in an answer that answers no command; commands count from 0 to 0xFFFE. */
    public static final int NO_SEQUENCE = 0xFFFF;

    static final int HELLO = 0x01;
    static final int CONFIGURE = 0x02;
    static final int ARM = 0x03;
    static final int SHIFT_REQUEST = 0x04;
    static final int BUTTON = 0x05;
    static final int SUPPLY_SET = 0x06;
    static final int CUT = 0x07;
    static final int LIMITS = 0x08;
    static final int HEARTBEAT = 0x09;
    static final int STOP = 0x0A;
    static final int DRIVE = 0x20;
    static final int IDENTITY = 0x81;
    static final int SAMPLES = 0x82;
    static final int EVENT = 0x83;
    static final int ACK = 0x84;
    static final int FAULT = 0x85;

    /** Bytes of a sample block before its samples. */
    private static final int SAMPLES_HEAD = 18;

    private static final int CHANNELS = 4;

    /** Most samples in a block: 124 of 8 bytes each. */
    public static final int MOST_SAMPLES = (FrameCodec.MOST_PAYLOAD - SAMPLES_HEAD) / (2 * CHANNELS);

    private MessageCodec() {}

    /** The frame of a host's message. */
    public static Frame encode(HostMessage message, int sequence) {
        if (message instanceof HostMessage.Hello m) {
            return frame(HELLO, sequence, new Payload(2).u8(m.major()).u8(m.minor()));
        } else if (message instanceof HostMessage.Configure m) {
            return frame(
                    CONFIGURE, sequence, new Payload(6).u32(m.sampleRateHz()).u16(m.samplesPerBlock()));
        } else if (message instanceof HostMessage.Arm m) {
            return frame(ARM, sequence, new Payload(2).u16(m.supplyMv()));
        } else if (message instanceof HostMessage.ShiftRequest m) {
            return frame(
                    SHIFT_REQUEST, sequence, new Payload(2).i8(m.direction()).u8(m.toSprocket()));
        } else if (message instanceof HostMessage.Button m) {
            return frame(BUTTON, sequence, new Payload(3).u8(m.contact()).u16(m.pressMs()));
        } else if (message instanceof HostMessage.SupplySet m) {
            return frame(SUPPLY_SET, sequence, new Payload(2).u16(m.supplyMv()));
        } else if (message instanceof HostMessage.Cut) {
            return frame(CUT, sequence, new Payload(0));
        } else if (message instanceof HostMessage.Limits m) {
            return frame(LIMITS, sequence, limits(m));
        } else if (message instanceof HostMessage.Heartbeat) {
            return frame(HEARTBEAT, sequence, new Payload(0));
        } else if (message instanceof HostMessage.Stop) {
            return frame(STOP, sequence, new Payload(0));
        } else if (message instanceof HostMessage.Drive m) {
            return frame(
                    DRIVE,
                    sequence,
                    new Payload(7)
                            .i8(m.direction())
                            .u16(m.currentMa())
                            .u16(m.speedDegS())
                            .u16(m.ms()));
        }
        throw new IllegalStateException("a host message without a layout: message=" + message);
    }

    /** The frame of a rig's message. */
    public static Frame encode(RigMessage message, int sequence) {
        if (message instanceof RigMessage.Identity m) {
            return frame(IDENTITY, sequence, identity(m));
        } else if (message instanceof RigMessage.Samples m) {
            return frame(SAMPLES, sequence, samples(m));
        } else if (message instanceof Event m) {
            return frame(
                    EVENT,
                    sequence,
                    new Payload(15)
                            .u8(m.kind().number())
                            .u64(m.atMicros())
                            .i32(m.value())
                            .u16(m.sequence()));
        } else if (message instanceof RigMessage.Ack m) {
            return frame(ACK, sequence, new Payload(2).u16(m.sequence()));
        } else if (message instanceof RigMessage.Fault m) {
            return frame(
                    FAULT,
                    sequence,
                    new Payload(4).u16(m.sequence()).u8(m.code()).u8(m.state()));
        }
        throw new IllegalStateException("a rig message without a layout: message=" + message);
    }

    private static Frame frame(int type, int sequence, Payload payload) {
        return new Frame(MAJOR, type, sequence, payload.array());
    }

    private static Payload limits(HostMessage.Limits m) {
        return new Payload(26)
                .u32(m.currentMa())
                .u32(m.currentMs())
                .u32(m.averageMa())
                .u32(m.averageMs())
                .u16(m.supplyMinMv())
                .u16(m.supplyMaxMv())
                .u32(m.onTimeS())
                .i16(m.temperatureDeciC());
    }

    private static Payload identity(RigMessage.Identity m) {
        byte[] rig = Payload.utf8(m.rigName());
        byte[] rigFirmware = Payload.utf8(m.rigFirmware());
        byte[] unitFirmware = Payload.utf8(m.unitFirmware());
        return new Payload(24 + rig.length + rigFirmware.length + unitFirmware.length)
                .u8(m.major())
                .u8(m.minor())
                .u8(m.drive())
                .u32(m.hallCounts())
                .u32(m.currentMicroampPerCount())
                .u32(m.supplyMicrovoltPerCount())
                .u32(m.maxSampleRateHz())
                .u16(m.maxSupplyMv())
                .text(rig)
                .text(rigFirmware)
                .text(unitFirmware);
    }

    private static Payload samples(RigMessage.Samples m) {
        if (m.samples().length % CHANNELS != 0 || m.count() < 1 || m.count() > MOST_SAMPLES) {
            throw new IllegalArgumentException("a block holds 1 to " + MOST_SAMPLES + " samples of " + CHANNELS
                    + " channels: values=" + m.samples().length);
        }
        return new Payload(SAMPLES_HEAD + 2 * m.samples().length)
                .u32(m.blockNumber())
                .u64(m.firstMicros())
                .u32(m.intervalNanos())
                .u16(m.count())
                .samples(m.samples());
    }

    /** What a frame from a host says. */
    public static Decoded<HostMessage> decodeHost(Frame frame) {
        PayloadReader p = new PayloadReader(frame.payload());
        try {
            return switch (frame.type()) {
                case HELLO -> known(new HostMessage.Hello(p.u8(), p.u8()));
                case CONFIGURE -> known(new HostMessage.Configure(p.u31(), p.u16()));
                case ARM -> known(new HostMessage.Arm(p.u16()));
                case SHIFT_REQUEST -> known(new HostMessage.ShiftRequest(p.i8(), p.u8()));
                case BUTTON -> known(new HostMessage.Button(p.u8(), p.u16()));
                case SUPPLY_SET -> known(new HostMessage.SupplySet(p.u16()));
                case CUT -> known(new HostMessage.Cut());
                case LIMITS ->
                    known(new HostMessage.Limits(
                            p.u31(), p.u31(), p.u31(), p.u31(), p.u16(), p.u16(), p.u31(), p.i16()));
                case HEARTBEAT -> known(new HostMessage.Heartbeat());
                case STOP -> known(new HostMessage.Stop());
                case DRIVE -> known(new HostMessage.Drive(p.i8(), p.u16(), p.u16(), p.u16()));
                default -> new Decoded.Unknown<>(frame.type());
            };
        } catch (BufferUnderflowException | IllegalArgumentException e) {
            return new Decoded.Malformed<>(frame.type(), reason(frame, e));
        }
    }

    /** What a frame from a rig says. */
    public static Decoded<RigMessage> decodeRig(Frame frame) {
        PayloadReader p = new PayloadReader(frame.payload());
        try {
            return switch (frame.type()) {
                case IDENTITY -> known(identity(p));
                case SAMPLES -> known(samples(p));
                case EVENT -> event(p);
                case ACK -> known(new RigMessage.Ack(p.u16()));
                case FAULT -> known(new RigMessage.Fault(p.u16(), p.u8(), p.u8()));
                default -> new Decoded.Unknown<>(frame.type());
            };
        } catch (BufferUnderflowException | IllegalArgumentException e) {
            return new Decoded.Malformed<>(frame.type(), reason(frame, e));
        }
    }

    private static RigMessage identity(PayloadReader p) {
        int major = p.u8();
        int minor = p.u8();
        int drive = p.u8();
        int hallCounts = p.u31();
        int currentScale = p.u31();
        int supplyScale = p.u31();
        int rate = p.u31();
        int supply = p.u16();
        return new RigMessage.Identity(
                major, minor, p.text(), p.text(), p.text(), drive, hallCounts, currentScale, supplyScale, rate, supply);
    }

    private static RigMessage samples(PayloadReader p) {
        long block = p.u32();
        long first = p.u64();
        long interval = p.u32();
        int count = p.u16();
        if (count < 1 || count > MOST_SAMPLES || interval < 1) {
            throw new IllegalArgumentException("count=" + count + " interval=" + interval);
        }
        return new RigMessage.Samples(block, first, interval, p.samples(CHANNELS * count));
    }

    /** An event kind of a later minor version is unknown, not malformed. */
    private static Decoded<RigMessage> event(PayloadReader p) {
        int number = p.u8();
        long at = p.u64();
        int value = p.i32();
        int sequence = p.u16();
        return Arrays.stream(Event.Kind.values())
                .filter(k -> k.number() == number)
                .findFirst()
                .<Decoded<RigMessage>>map(k -> new Decoded.Known<>(new Event(k, at, value, sequence)))
                .orElseGet(() -> new Decoded.Unknown<>(EVENT));
    }

    private static <M> Decoded<M> known(M message) {
        return new Decoded.Known<>(message);
    }

    private static String reason(Frame frame, RuntimeException e) {
        return e instanceof BufferUnderflowException
                ? "payload too short: length=" + frame.payload().length
                : String.valueOf(e.getMessage());
    }
}
