package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Locale;
import java.util.TimeZone;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.MessageCodec;

/** One seed, one run: the bytes on the line and the truth, whatever the pace, the place or the block size. */
class DeterminismTest {
    /**
     * Digest of all bytes of the run below. Not a reference of any kind: it only tells that this machine's run is that of the
     * machine it was written on. A change of the simulator changes it on purpose.
     */
    private static final String GOLDEN = "4ed49ade78c586b94a7a90b9e1d3f31b1ded69d8698f94e02ce28a86b30834fc";

    /** Everything the rig says in a short run with much in it, time cut into pieces of so many microseconds. */
    private static byte[] run(String options, long pieceMicros, int perBlock) {
        SimulatedRig rig = new SimulatedRig(TarnDrive.profile(), SimOptions.parse(options));
        var out = new java.io.ByteArrayOutputStream();
        say(rig, out, new HostMessage.Hello(1, 0), 0);
        say(rig, out, new HostMessage.Configure(512, perBlock), 1);
        say(rig, out, Session.NO_GUARDS, 2);
        say(rig, out, new HostMessage.Arm(8200), 3);
        int sequence = 4;
        for (long tick = 1; tick <= 60; tick++) { // 12 s
            long until = tick * 200_000;
            for (long t = (tick - 1) * 200_000; t < until; t += pieceMicros) {
                rig.advanceTo(Math.min(until, t + pieceMicros), out::writeBytes);
            }
            say(rig, out, new HostMessage.Heartbeat(), sequence++);
            if (tick % 8 == 0) {
                say(rig, out, new HostMessage.ShiftRequest(tick < 30 ? 1 : -1, 0), sequence++);
            }
        }
        out.writeBytes(rig.truth().toJson().getBytes(java.nio.charset.StandardCharsets.UTF_8));
        return out.toByteArray();
    }

    private static void say(SimulatedRig rig, java.io.ByteArrayOutputStream out, HostMessage message, int sequence) {
        Frame frame = MessageCodec.encode(message, sequence);
        byte[] bytes = FrameCodec.encode(frame);
        rig.onBytes(bytes, 0, bytes.length, out::writeBytes);
    }

    private static String digest(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    private static final String BUSY = "seed=42,fault=ringing,rate=0.4,fault=creep,rate=0.5,fault=drift,flip-byte-at=3";

    @Test
    void a_seed_gives_the_same_bytes_twice_and_those_of_another_machine() {
        assertThat(digest(run(BUSY, 200_000, 64)))
                .isEqualTo(digest(run(BUSY, 200_000, 64)))
                .isEqualTo(GOLDEN);
    }

    @Test
    void another_seed_gives_other_bytes() {
        assertThat(run("seed=42", 200_000, 64)).isNotEqualTo(run("seed=43", 200_000, 64));
    }

    @Test
    void the_pieces_in_which_time_passes_do_not_matter() {
        byte[] whole = run(BUSY, 200_000, 64);

        assertThat(run(BUSY, 137, 64)).isEqualTo(whole);
        assertThat(run(BUSY, 1953, 64)).isEqualTo(whole);
    }

    @Test
    void locale_and_time_zone_do_not_matter() {
        Locale locale = Locale.getDefault();
        TimeZone zone = TimeZone.getDefault();
        byte[] here = run(BUSY, 200_000, 64);
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
            TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Chatham"));

            assertThat(run(BUSY, 200_000, 64)).isEqualTo(here);
        } finally {
            Locale.setDefault(locale);
            TimeZone.setDefault(zone);
        }
    }

    @Test
    void block_size_does_not_change_a_sample_or_the_truth() {
        var small = session(7);
        var large = session(100);
        int n = Math.min(small.length, large.length);

        assertThat(java.util.Arrays.copyOf(small, n)).isEqualTo(java.util.Arrays.copyOf(large, n));
        assertThat(n).isGreaterThan(4 * 512 * 4);
    }

    private static short[] session(int perBlock) {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse("seed=42"));
        Session session = new Session(link).armed(512, perBlock).walk(1, 3);
        var all = java.nio.ShortBuffer.allocate(1 << 16);
        session.blocks().forEach(b -> all.put(b.samples()));
        return java.util.Arrays.copyOf(all.array(), all.position());
    }

    @Test
    void truth_does_not_depend_on_the_sampling_rate() {
        assertThat(truthAt(4000)).isEqualTo(truthAt(512));
    }

    private static java.util.List<ShiftTruth> truthAt(int rate) {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse("seed=42"));
        new Session(link).armed(rate, 64).walk(1, 3).walk(-1, 3);
        return link.truth().shifts();
    }

    @Test
    void truth_is_written_as_json_with_null_for_what_does_not_exist() {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse("seed=42,fault=missed"));
        new Session(link).armed(512, 64).walk(1, 1);

        assertThat(link.truth().toJson())
                .startsWith("{\n \"format\": 1,\n")
                .contains("\"profile\": \"tarn-drive\"", "\"seed\": 42", "\"limits_deg\": [-520.0, 7100.0]")
                .contains("\"from\": 1, \"to\": 2, \"direction\": 1, \"outcome\": \"missed\"")
                .contains("\"faults\": [\"missed\"]", "\"request_s\": 0.5,", "\"settled_s\": null", "\"hold_s\": null")
                .endsWith("}\n ]\n}\n");
    }
}
