package org.shiftstand.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.bench.ProbeReportReader;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.bench.UnitLimitsReader;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.ParticularsReader;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.FrameDecoder;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.report.ShiftCsv;
import org.shiftstand.report.ShiftJson;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedRig;
import org.shiftstand.spec.SpecReader;

/** Every input, changed at random, is refused in clear words or gives a valid result: no other exception, no endless work. */
@Timeout(value = 3600)
class InputFuzzTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @TempDir
    private Path folder;

    @ParameterizedTest
    @CsvSource({"bench-a,40", "bench-b,40", "bench-c,40"})
    void a_capture(String name, int usual) {
        Bench bench = Bench.of(name, 1);
        byte[] sound =
                bench.csv(bench.rows().subList(0, Math.min(6000, bench.rows().size())));
        List<String> words = List.of(
                "\"",
                "\n",
                "\r\n",
                ",",
                "NaN",
                "1e308",
                "-",
                "0.0000000000000000000001",
                "hall_sin",
                "\uFEFF",
                "#",
                "1e-320");

        Fuzz.rounds("bytes of " + name, usual, random -> {
            Path file = Files.write(folder.resolve("bytes.csv"), Bytes.mutated(sound, random, words));
            try (SampleSource source = CsvCapture.open(file, CsvOptions.usual())) {
                Measurement measured = Measuring.measure(source, Optional.of(bench.profile()), JudgeOptions.defaults());
                var csv = new StringBuilder();
                ShiftCsv.write(measured.table(), csv);
                var json = new ByteArrayOutputStream();
                ShiftJson.write(measured, json);
                assertThat(csv + json.toString(StandardCharsets.UTF_8)).doesNotContain("NaN", "Infinity");
                return "measured";
            } catch (BadInput e) {
                return refused(e);
            }
        });
    }

    private interface Reader {
        void read(TextFile file);
    }

    @ParameterizedTest
    @CsvSource({
        "specs/tarn-drive-end-of-line.spec.yaml",
        "specs/tarn-drive.profile.yaml",
        "acceptance/end-of-line.yaml",
        "rig/bench-two.rig.yaml",
        "src/test/resources/schema/probed.limits.yaml",
        "src/test/resources/schema/everything.particulars.yaml",
        "src/test/resources/schema/everything.probe.yaml"
    })
    void a_file_that_people_write(String path) throws IOException {
        byte[] sound = Files.readAllBytes(Path.of(path));
        Reader reader = path.contains(".spec.")
                ? SpecReader::read
                : path.contains(".profile.")
                        ? ProfileReader::read
                        : path.contains(".rig.")
                                ? RigDescriptionReader::read
                                : path.contains(".limits.")
                                        ? UnitLimitsReader::read
                                        : path.contains(".particulars.")
                                                ? ParticularsReader::read
                                                : path.contains(".probe.")
                                                        ? ProbeReportReader::read
                                                        : file -> Script.layOut(ProcedureReader.read(file), TARN);
        List<String> words = List.of(
                "&a ",
                "*a",
                "<<: ",
                "[[[[[[[[",
                "{",
                "? ",
                "---\n",
                "!!int ",
                "\t",
                "1e309 deg",
                "-0 deg",
                ".nan",
                "NaN",
                "99999999999999999999",
                "2..6",
                "last",
                "true",
                "~",
                "'",
                "\"\\x",
                "|\n",
                "- ",
                ": ",
                "\u0000",
                "\uFEFF",
                "every",
                "percentile",
                "between: [",
                "0 s",
                "-3 V");

        Fuzz.rounds(path, 400, random -> {
            Path file = Files.write(folder.resolve("changed.yaml"), Bytes.mutated(sound, random, words));
            try {
                reader.read(TextFile.read("changed.yaml", file));
                return "read";
            } catch (BadInput e) {
                return refused(e);
            }
        });
    }

    @Test
    void bytes_to_a_host() {
        Fuzz.rounds("frames to the host", 400, random -> {
            var stream = new ByteArrayOutputStream();
            for (int i = 0; i < 20; i++) {
                stream.writeBytes(FrameCodec.encode(anyFrame(random, 0x81 + random.nextInt(6))));
            }
            List<Arrival> arrived = new ArrayList<>();
            byte[] bytes = random.nextBoolean()
                    ? stream.toByteArray()
                    : Bytes.mutated(stream.toByteArray(), random, List.of("\0", "\1\0"));
            new FrameDecoder().feed(bytes, arrived::add);
            for (Arrival arrival : arrived) {
                if (arrival instanceof Arrival.Received r) {
                    assertThat(MessageCodec.decodeRig(r.frame())).isNotNull();
                }
            }
            return "decoded";
        });
    }

    @Test
    void bytes_to_a_rig() {
        Fuzz.rounds("frames to the rig", 150, random -> {
            var rig = new SimulatedRig(TARN, SimOptions.seeded(random.nextInt(100)));
            FrameDecoder decoder = new FrameDecoder();
            List<Arrival> said = new ArrayList<>();
            int sequence = 0;
            for (int i = 0; i < 30; i++) {
                Frame frame =
                        random.nextInt(3) == 0 ? anyFrame(random, random.nextInt(14)) : command(random, sequence++);
                byte[] bytes = FrameCodec.encode(frame);
                if (random.nextInt(5) == 0) {
                    bytes = Bytes.mutated(bytes, random, List.of("\0"));
                }
                rig.onBytes(bytes, 0, bytes.length, out -> decoder.feed(out, said::add));
                rig.advanceTo(rig.nowMicros() + random.nextInt(400_000), out -> decoder.feed(out, said::add));
            }
            assertThat(said).allMatch(arrival -> arrival instanceof Arrival.Received);
            rig.portLost();
            assertThat(rig.supplyMv()).isZero();
            return "survived";
        });
    }

    private static HostMessage message(Random random) {
        return switch (random.nextInt(9)) {
            case 0 -> new HostMessage.Hello(1, 0);
            case 1 -> new HostMessage.Configure(1 + random.nextInt(5000), random.nextInt(130));
            case 2 -> new HostMessage.Arm(random.nextInt(10000));
            case 3 -> new HostMessage.ShiftRequest(random.nextInt(3) - 1, random.nextInt(14));
            case 4 -> new HostMessage.Limits(9000, 20, 0, 0, 4000, 9000, 0, 600);
            case 5 -> new HostMessage.SupplySet(random.nextInt(10000));
            case 6 -> new HostMessage.Cut();
            case 7 -> new HostMessage.Stop();
            default -> new HostMessage.Heartbeat();
        };
    }

    private static Frame command(Random random, int sequence) {
        return MessageCodec.encode(message(random), sequence);
    }

    private static Frame anyFrame(Random random, int type) {
        byte[] payload = new byte[random.nextBoolean() ? random.nextInt(30) : random.nextInt(FrameCodec.MOST_PAYLOAD)];
        random.nextBytes(payload);
        return new Frame(random.nextInt(8) == 0 ? random.nextInt(256) : 1, type, random.nextInt(0x10000), payload);
    }

    @Test
    void options_of_a_simulated_rig() {
        List<String> words = List.of(
                "seed=",
                ",",
                "=",
                "fault=",
                "jam",
                "pair=4-5",
                "amount=",
                "NaN",
                "1e309",
                "-1",
                "99999999999",
                "rate=",
                "+",
                "unplug-at=",
                "from-cycle=",
                "gated=",
                "true");
        byte[] sound = "seed=7,fault=jam,pair=4-5,from-cycle=1,amount=2,fault=ringing,rate=0.5,noise=2,unplug-at=9"
                .getBytes(StandardCharsets.UTF_8);

        Fuzz.rounds("options of a simulated rig", 2000, random -> {
            String text = new String(Bytes.mutated(sound, random, words), StandardCharsets.UTF_8);
            try {
                new SimulatedRig(TARN, SimOptions.parse(text));
                return "read";
            } catch (IllegalArgumentException e) {
                assertThat(e.getMessage()).isNotBlank();
                assertThat(e.getClass()).isEqualTo(IllegalArgumentException.class); // not a number format's own
                return "refused";
            }
        });
    }

    private static String refused(BadInput e) {
        assertThat(e.problems())
                .isNotEmpty()
                .allSatisfy(problem -> assertThat(problem.text()).isNotBlank());
        return "refused";
    }
}
