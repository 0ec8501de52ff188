package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.SqliteRunWriter;

class ParticularsTest {
    @TempDir
    private Path folder;

    private Path record(String particulars) {
        Map<String, String> texts = new LinkedHashMap<>();
        texts.put(
                "spec",
                Bundled.find("tarn-drive-end-of-line", Bundled.Kind.SPEC).text());
        texts.put("profile", Bundled.find("tarn-drive", Bundled.Kind.PROFILE).text());
        texts.put(Particulars.ROLE, particulars);
        Map<String, String> names =
                Map.of("spec", "s.yaml", "profile", "tarn-drive.profile.yaml", Particulars.ROLE, "p.yaml");
        Path file = folder.resolve("td-0107.run");
        RunHeader header = new RunHeader(
                "TD-0107", Map.of(), texts, names, 1_953_125, 0.0012, 0.005, 1_790_000_000_000_000L, true);
        try (RunWriter writer = SqliteRunWriter.create(file, header)) {
            writer.block(0, 5_000_000, 1_953_125, new short[64 * 4]);
            writer.finish("");
        }
        return file;
    }

    private static Circumstances assembled(Path record, Named named) {
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            return input.assemble(named, JudgeOptions.defaults()).circumstances();
        }
    }

    @Nested
    class In_a_record {
        @Test
        void are_found_when_it_is_judged_again() {
            Circumstances found = assembled(record("place: hall 2\n"), Named.nothing());

            assertThat(found.stated().place()).contains("hall 2");
            assertThat(found.began()).contains(Instant.EPOCH.plusMillis(1_790_000_000_000L));
            assertThat(found.departures()).isEmpty();
        }

        @Test
        void yield_to_a_file_that_is_named_as_a_whole() throws IOException {
            Path named = Files.writeString(folder.resolve("other.yaml"), "authorised-by: head of the bench\n");

            Particulars stated = assembled(
                            record("place: hall 2\n"), Named.nothing().withParticulars(Optional.of(named.toString())))
                    .stated();

            assertThat(stated.authorisedBy()).contains("head of the bench");
            assertThat(stated.place()).isEmpty();
        }

        @Test
        void of_another_unit_are_refused() {
            assertThatThrownBy(() -> assembled(record("item: { unit: TD-0108 }\n"), Named.nothing()))
                    .isInstanceOf(BadInput.class)
                    .hasMessageStartingWith("p.yaml: is about unit TD-0108, and the unit is TD-0107; expected");
        }
    }

    @Test
    void another_spec_and_profile_than_the_records_own_are_departures() throws IOException {
        String text = Bundled.find("tarn-drive-end-of-line", Bundled.Kind.SPEC).text();
        Path spec = Files.writeString(folder.resolve("looser.spec.yaml"), text + "\n# another text\n");
        Path profile = Files.writeString(
                folder.resolve("mine.profile.yaml"),
                Bundled.find("tarn-drive", Bundled.Kind.PROFILE).text() + "\n# another text\n");
        Named named = new Named(Optional.of(spec.toString()), Optional.of(profile.toString()), Optional.empty());

        assertThat(assembled(record("{}\n"), named).departures())
                .containsExactly(
                        "judged by the spec " + spec + ", in place of the record's own",
                        "measured and judged by the profile " + profile
                                + ", not by tarn-drive.profile.yaml that the spec names");
    }

    @Test
    void every_problem_of_a_file_is_told_at_once() {
        String text = "laboratory: { nam: Quillmoor }\nitem: { received: yesterday }\nplace: 7\nworked: []\n";

        assertThatThrownBy(() -> ParticularsReader.read(TextFile.of("p.yaml", text)))
                .isInstanceOf(BadInput.class)
                .hasMessage("""
                        p.yaml:1:15: unknown key 'nam' in laboratory; expected one of name, address. Did you mean 'name'?
                        p.yaml:2:19: received is 'yesterday'; expected a date such as 2026-09-14
                        p.yaml:3:8: place is the number 7; expected words; leave the key out where nothing is to be stated
                        p.yaml:4:9: worked is an empty list; expected at least one""");
    }
}
