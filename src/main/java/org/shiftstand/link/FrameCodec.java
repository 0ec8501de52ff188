package org.shiftstand.link;

/**
 * One frame as bytes on the wire.
 *
 * <pre>
 * before stuffing    +---------+------+----------+-------------------+---------------+
 *                    | version | type | sequence | payload           | CRC-32C       |
 *                    | u8      | u8   | u16      | 0 … 1016 bytes    | u32           |
 *                    +---------+------+----------+-------------------+---------------+
 *                    0         1      2          4                   4 + payload length
 * </pre>
 *
 * The check sum covers all before it. Little-endian; stuffed by {@link Cobs}; closed by 0x00.
 */
public final class FrameCodec {
    /** Most bytes of a frame before stuffing. */
    public static final int MOST_BYTES = 1024;

    static final int HEAD = 4;
    static final int TAIL = 4;

    /** Most bytes of a payload. */
    public static final int MOST_PAYLOAD = MOST_BYTES - HEAD - TAIL;

    private FrameCodec() {}

    /**
     * The bytes to send, with the closing 0x00.
     *
     * @throws IllegalArgumentException where a field does not fit its place
     */
    public static byte[] encode(Frame frame) {
        check("version", frame.version(), 0xFF);
        check("type", frame.type(), 0xFF);
        check("sequence", frame.sequence(), 0xFFFF);
        check("payload length", frame.payload().length, MOST_PAYLOAD);
        Payload raw = new Payload(HEAD + frame.payload().length + TAIL)
                .u8(frame.version())
                .u8(frame.type())
                .u16(frame.sequence())
                .bytes(frame.payload());
        byte[] bytes = raw.array();
        int n = HEAD + frame.payload().length;
        raw.u32(Crc32c.of(bytes, 0, n) & 0xFFFFFFFFL);
        byte[] out = new byte[Cobs.mostStuffed(bytes.length) + 1];
        int stuffed = Cobs.stuff(bytes, bytes.length, out, 0);
        return java.util.Arrays.copyOf(out, stuffed + 1); // the last byte is the closing 0x00
    }

    private static void check(String field, int value, int most) {
        if (value < 0 || value > most) {
            throw new IllegalArgumentException(
                    "a frame's " + field + " must be 0 to " + most + ": " + field.replace(' ', '-') + "=" + value);
        }
    }
}
