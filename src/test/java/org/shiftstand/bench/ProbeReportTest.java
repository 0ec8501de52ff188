package org.shiftstand.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.quantity.Quantity;

class ProbeReportTest {
    private static final Instant AT = Instant.parse("2026-09-14T08:30:00Z");

    private static ProbeReport report(String rig, Instant at) {
        return new ProbeReport(
                rig,
                "",
                "TD-0107",
                "tarn 2.3",
                "direct",
                at,
                "shiftstand 1",
                List.of(
                        new Finding(
                                Check.EMERGENCY_STOP,
                                Result.PASS,
                                "pressed",
                                Optional.of(at),
                                Map.of("supply-off-after", Quantity.parse("4.1 ms"))),
                        new Finding(Check.COAST, Result.NOT_MEASURED, "a \"reason\": none")));
    }

    private static String problems(String text) {
        BadInput thrown =
                catchThrowableOfType(BadInput.class, () -> ProbeReportReader.read(TextFile.of("x.probe.yaml", text)));
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    @Test
    void what_is_written_reads_back_the_same() {
        ProbeReport written = report("bench \u201ctwo\u201d", AT);

        assertThat(ProbeReportReader.read(TextFile.of("x", written.toYaml()))).isEqualTo(written);
    }

    @Test
    void everything_wrong_is_told_at_once() {
        assertThat(problems("""
                rig: bench-two
                firmware: "1"
                unit: TD-0107
                unit-firmware: not said
                drive: direkt
                at: yesterday
                tool: t
                findings:
                  - { check: coast, result: passed, text: x }
                  - { check: noise, result: pass, text: x, values: { Sine: 1, cosine: much } }
                  - { check: noise, result: pass, text: x }
                """)).isEqualTo("""
                x.probe.yaml:5:8: unknown drive 'direkt'; expected one of requests, direct. Did you mean 'direct'?
                x.probe.yaml:6:5: at is 'yesterday'; expected a time in UTC such as 2026-09-14T08:30:00Z
                x.probe.yaml:9:29: unknown result 'passed'; expected one of pass, attention, not measured. Did you mean 'pass'?
                x.probe.yaml:10:60: a value's name is 'Sine'; expected letters a-z, digits and '-'
                x.probe.yaml:10:71: cosine: 'much' is no number with a unit; expected one such as '18 deg' or '700 ms'
                x.probe.yaml:11:5: check noise is there twice; expected each check once""");
    }

    @Nested
    class In_a_folder {
        @TempDir
        private Path folder;

        private void file(String name, String text) {
            try {
                Files.writeString(folder.resolve(name), text);
            } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
            }
        }

        @Test
        void the_newest_probe_of_the_rig_counts_whatever_the_files_are_called() {
            file("z.probe.yaml", report("bench-two", AT).toYaml());
            file("a.probe.yaml", report("bench-two", AT.plusSeconds(1)).toYaml());
            file("b.probe.yaml", report("bench-one", AT.plusSeconds(9)).toYaml());
            file("c.yaml", report("bench-two", AT.plusSeconds(9)).toYaml());

            ProbeFiles.Newest newest = ProbeFiles.newest(folder, "bench-two");

            assertThat(newest.report()).contains(report("bench-two", AT.plusSeconds(1)));
            assertThat(newest.unreadable()).isEmpty();
        }

        @Test
        void a_damaged_file_is_told_and_hides_no_other() {
            file("a.probe.yaml", report("bench-two", AT).toYaml());
            file("b.probe.yaml", "rig: [");

            ProbeFiles.Newest newest = ProbeFiles.newest(folder, "bench-two");

            assertThat(newest.report()).isPresent();
            assertThat(newest.unreadable()).hasSize(1).allMatch(text -> text.contains("b.probe.yaml:1"));
        }

        @Test
        void that_is_not_there_has_no_probes() {
            assertThat(ProbeFiles.newest(folder.resolve("none"), "bench-two"))
                    .isEqualTo(new ProbeFiles.Newest(Optional.empty(), List.of()));
        }

        @Test
        void a_new_file_takes_no_place_and_its_name_stays_in_the_folder() {
            assertThat(ProbeFiles.free(folder, "../two wide", AT).getFileName())
                    .hasToString("__two_wide-20260914T083000Z.probe.yaml");
            file("two-20260914T083000Z.probe.yaml", "");
            assertThat(ProbeFiles.free(folder, "two", AT).getFileName())
                    .hasToString("two-20260914T083000Z-2.probe.yaml");
        }
    }
}
