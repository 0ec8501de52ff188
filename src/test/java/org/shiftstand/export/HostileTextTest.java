package org.shiftstand.export;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Judgement;
import org.shiftstand.judge.Named;
import org.shiftstand.profile.Profile;

/** Texts of people in folder names and cells: none leaves its place, none is taken for something else. */
class HostileTextTest {
    @TempDir
    Path folder;

    @ParameterizedTest
    @ValueSource(
            strings = {
                "../../../etc/passwd",
                "..",
                "a/b\\c:d*e?f\"g<h>i|j",
                "kind=tarn/date=2026-01-01",
                "'; DROP TABLE shifts; --",
                "100 % größer — 試験",
                "__HIVE_DEFAULT_PARTITION__",
                "line\nbreak\ttab\u0000nul\u007f",
                "%2e%2e%2f",
                "=cmd|' /C calc'!A0",
                "~", // what a shell would expand
                " "
            })
    void comes_back_as_it_was_written(String text) throws IOException {
        write(text);

        List<Map<String, Object>> rows = DuckDb.query(
                folder,
                "SELECT DISTINCT kind, unit, unit_kind FROM"
                        + " read_parquet('fleet/shifts/*/*/*.parquet', hive_partitioning = true)");

        assertThat(rows).hasSize(1);
        assertThat(rows.get(0)).containsEntry("unit", text).containsEntry("unit_kind", text);
        assertThat(rows.get(0).get("kind")).isEqualTo(text);
        assertThat(places()).hasSize(2).allSatisfy(HostileTextTest::isTwoFoldersDeep);
    }

    @Test
    void of_any_length_makes_a_name_that_file_systems_bear() throws IOException {
        String text = "größer ".repeat(500);
        write(text);

        assertThat(places())
                .allSatisfy(
                        file -> assertThat(file.getName(1).toString().length()).isLessThan(200));
        assertThat(DuckDb.query(folder, "SELECT DISTINCT unit_kind FROM read_parquet('fleet/shifts/*/*/*.parquet')"))
                .containsExactly(Map.of("unit_kind", text));
    }

    @Test
    void of_two_long_kinds_that_begin_alike_has_two_folders() {
        Path one = place("k".repeat(400) + "1");
        Path two = place("k".repeat(400) + "2");

        assertThat(one).isNotEqualTo(two);
    }

    private Path place(String kind) {
        return new Partition(Optional.of(kind), Optional.of(Instant.EPOCH)).in(folder);
    }

    private static void isTwoFoldersDeep(Path file) {
        assertThat(file.getNameCount()).isEqualTo(4);
        assertThat(file.toString()).matches("[a-z]+/kind=[A-Za-z0-9._%-]+/date=[A-Za-z0-9_-]+/[0-9a-f-]+\\.parquet");
    }

    private List<Path> places() throws IOException {
        try (Stream<Path> files = Files.walk(folder)) {
            return files.filter(Files::isRegularFile).map(folder::relativize).toList();
        }
    }

    /** A capture judged as it is, but for the names of unit and kind. */
    private void write(String text) throws IOException {
        Path capture = Path.of("src", "test", "resources", "captures", "bench-a.csv.gz");
        try (JudgeInput input = JudgeInput.open(capture, CsvOptions.parse(List.of(), List.of()))) {
            Judged judged = Judge.judge(
                    input.source(),
                    input.assemble(
                            new Named(Optional.of("passive-capture"), Optional.of("tarn-drive"), Optional.empty()),
                            JudgeOptions.defaults().withUnit(text)));
            Judgement judgement = judged.judgement();
            new ParquetExport(folder).write(new Judged(kind(judgement, text), judged.track()), input.source(), false);
        }
    }

    private static Judgement kind(Judgement j, String text) {
        Profile p = j.profile().orElseThrow();
        Profile named = new Profile(
                text,
                p.version(),
                p.sprockets(),
                p.positionsDeg(),
                p.screwLeadMm(),
                p.outboardLimitDeg(),
                p.inboardLimitDeg(),
                p.holdS(),
                p.overtravelInboardDeg(),
                p.overtravelOutboardDeg(),
                p.cassette(),
                p.sha256());
        return new Judgement(
                j.verdict(),
                j.reason(),
                j.unit(),
                j.identity(),
                j.source(),
                j.spec(),
                Optional.of(named),
                j.correction(),
                j.table(),
                j.runEnd(),
                j.limitsFrom(),
                j.counts(),
                j.clauses(),
                j.notices());
    }
}
