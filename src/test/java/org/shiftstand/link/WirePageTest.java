package org.shiftstand.link;

import static java.util.Map.entry;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigMessage.Event.Kind;

/** The worked frames of {@code rig/WIRE.md}, made by {@code src/test/resources/link/worked_frames.py} apart from this code. */
class WirePageTest {
    @SuppressWarnings("ArrayRecordComponent") // a carrier; never compared
    private record Worked(String name, byte[] payload, String crc, byte[] wire) {}

    private record Said(int sequence, Object message) {}

    private static final Map<String, Said> MEANT = Map.ofEntries(
            entry("hello 1.1", new Said(0, new HostMessage.Hello(1, 1))),
            entry(
                    "drive inboard, at most 600 mA and 200 deg/s for 5 s",
                    new Said(12, new HostMessage.Drive(1, 600, 200, 5000))),
            entry("drive: stop now", new Said(13, HostMessage.Drive.stopNow())),
            entry(
                    "identity of a rig that drives, 1.1",
                    new Said(
                            0,
                            new RigMessage.Identity(1, 1, "bench-two", "1.5.0", "", 1, 4096, 1200, 2500, 4000, 9000))),
            entry(
                    "event drive over, stalled, for sequence 12",
                    new Said(12, new Event(Kind.DRIVE_OVER, 7_654_321, 1, 12))),
            entry("hello 1.0", new Said(0, new HostMessage.Hello(1, 0))),
            entry("configure 512 Hz, 64 samples a block", new Said(1, new HostMessage.Configure(512, 64))),
            entry(
                    "limits 9 A for 20 ms, average 2 A over 2 s, 6 V to 9 V, 1200 s in an hour, 60 degC",
                    new Said(2, new HostMessage.Limits(9000, 20, 2000, 2000, 6000, 9000, 1200, 600))),
            entry("arm 8.2 V", new Said(3, new HostMessage.Arm(8200))),
            entry("shift request inboard", new Said(4, new HostMessage.ShiftRequest(1, 0))),
            entry("shift request outboard", new Said(5, new HostMessage.ShiftRequest(-1, 0))),
            entry("shift request to sprocket 7", new Said(6, new HostMessage.ShiftRequest(0, 7))),
            entry("button contact 1 for 80 ms", new Said(7, new HostMessage.Button(1, 80))),
            entry("supply set 7.4 V", new Said(8, new HostMessage.SupplySet(7400))),
            entry("cut", new Said(9, new HostMessage.Cut())),
            entry("heartbeat", new Said(10, new HostMessage.Heartbeat())),
            entry("stop", new Said(0xFFFE, new HostMessage.Stop())),
            entry(
                    "identity",
                    new Said(
                            0,
                            new RigMessage.Identity(
                                    1, 0, "bench-two", "1.4.0", "tarn 2.3", 0, 4096, 1200, 2500, 4000, 9000))),
            entry(
                    "samples, block 0, two samples at 512 Hz",
                    new Said(7, new RigMessage.Samples(0, 1_500_000, 1_953_125, new short[] {
                        2961, 3365, -1, 3280, 2962, 3362, 3, 3281
                    }))),
            entry(
                    "event request echo inboard, for sequence 4",
                    new Said(8, new Event(Kind.REQUEST_ECHO, 1_734_567, 1, 4))),
            entry(
                    "event supply off by over-current",
                    new Said(9, new Event(Kind.SUPPLY_OFF, 4_294_967_296L, 2, 0xFFFF))),
            entry("acknowledgement of sequence 4", new Said(10, new RigMessage.Ack(4))),
            entry("fault: sequence 11 refused, not armed, in state cut", new Said(11, new RigMessage.Fault(11, 3, 3))));

    private final String page = page();
    private final List<Worked> worked = worked(page);

    @TestFactory
    List<DynamicTest> each_worked_frame_is_what_the_codec_sends_and_reads() {
        return worked.stream()
                .map(w -> DynamicTest.dynamicTest(w.name(), () -> check(w)))
                .toList();
    }

    @Test
    void every_message_has_a_worked_frame() {
        assertThat(worked.stream().map(Worked::name)).containsExactlyInAnyOrderElementsOf(MEANT.keySet());
        assertThat(MEANT.values().stream().map(s -> s.message().getClass().getSimpleName()))
                .contains(names(HostMessage.class.getPermittedSubclasses()))
                .contains(names(RigMessage.class.getPermittedSubclasses()));
    }

    @Test
    void states_and_codes_of_the_page_are_those_of_the_code() {
        for (RigState s : RigState.values()) {
            assertThat(page).contains("| " + s.number() + " | " + s.word() + " |");
        }
        for (FaultCode c : FaultCode.values()) {
            assertThat(page).contains("| " + c.number() + " | " + c.words() + " |");
        }
    }

    @Test
    void the_page_starts_with_the_cautions() {
        assertThat(page.lines().limit(8).toList()).anyMatch(l -> l.startsWith("> **Cautions.**"));
    }

    private static void check(Worked w) {
        Said said = Objects.requireNonNull(MEANT.get(w.name()), w.name());
        List<Arrival> arrived = new ArrayList<>();
        new FrameDecoder().feed(w.wire(), arrived::add);
        assertThat(arrived).singleElement().isInstanceOf(Arrival.Received.class);
        Frame frame = ((Arrival.Received) arrived.get(0)).frame();

        assertThat(frame.version()).isEqualTo(1);
        assertThat(frame.sequence()).isEqualTo(said.sequence());
        assertThat(frame.payload()).isEqualTo(w.payload());
        assertThat("%08x".formatted(Crc32c.of(headAndPayload(frame), 0, 4 + w.payload().length)))
                .isEqualTo(w.crc());
        Frame sent;
        Decoded<?> read;
        if (said.message() instanceof HostMessage m) {
            sent = MessageCodec.encode(m, said.sequence());
            read = MessageCodec.decodeHost(frame);
        } else {
            sent = MessageCodec.encode((RigMessage) said.message(), said.sequence());
            read = MessageCodec.decodeRig(frame);
        }
        assertThat(FrameCodec.encode(sent)).isEqualTo(w.wire());
        assertThat(read).usingRecursiveComparison().isEqualTo(new Decoded.Known<>(said.message()));
    }

    private static byte[] headAndPayload(Frame f) {
        return new Payload(4 + f.payload().length)
                .u8(f.version())
                .u8(f.type())
                .u16(f.sequence())
                .bytes(f.payload())
                .array();
    }

    private static String[] names(Class<?>[] classes) {
        return java.util.Arrays.stream(classes).map(Class::getSimpleName).toArray(String[]::new);
    }

    private static List<Worked> worked(String page) {
        List<Worked> found = new ArrayList<>();
        Matcher block = Pattern.compile("```frame\n(.*?)```", Pattern.DOTALL).matcher(page);
        while (block.find()) {
            Map<String, String> fields = new LinkedHashMap<>();
            String last = "";
            for (String line : block.group(1).lines().toList()) {
                int colon = line.indexOf(':');
                if (line.startsWith(" ")) {
                    fields.merge(last, line.strip(), (a, b) -> a + " " + b);
                } else {
                    last = line.substring(0, colon).toLowerCase(Locale.ROOT);
                    fields.put(last, line.substring(colon + 1).strip());
                }
            }
            found.add(new Worked(
                    field(fields, "frame"),
                    bytes(field(fields, "payload")),
                    field(fields, "crc"),
                    bytes(field(fields, "wire"))));
        }
        return found;
    }

    private static String field(Map<String, String> fields, String name) {
        return Objects.requireNonNull(fields.get(name), name);
    }

    private static byte[] bytes(String hex) {
        return hex.isEmpty() ? new byte[0] : HexFormat.ofDelimiter(" ").parseHex(hex);
    }

    private static String page() {
        try {
            return Files.readString(Path.of("rig", "WIRE.md"), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
