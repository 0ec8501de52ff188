package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.export.DuckDb;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Judgement;
import org.shiftstand.judge.Named;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;

/** An export, held against the judgement by a real DuckDB: one simulated run and two captures, one with damaged evidence. */
class ExportTest {
    private static final String SHIFTS =
            "read_parquet('fleet/shifts/*/*/*.parquet', hive_partitioning = true, hive_types_autocast = false)";
    private static final String CLAUSES =
            "read_parquet('fleet/clauses/*/*/*.parquet', hive_partitioning = true, hive_types_autocast = false)";
    private static final String SAMPLES =
            "read_parquet('fleet/samples/*/*/*.parquet', hive_partitioning = true, hive_types_autocast = false)";
    private static final String BENCH_A = "src/test/resources/captures/bench-a.csv.gz";
    private static final String BENCH_F = "src/test/resources/captures/bench-f.csv.gz";
    private static final String UNIT = "TD-0101";

    @TempDir
    static Path folder;

    private static Path record;
    private static Path fleet;
    private static Cli.Result exported;

    @BeforeAll
    static void export() throws IOException {
        Cli.Result checked = Commands.run(
                "check",
                "--rig",
                "sim:seed=7",
                "--unit",
                UNIT,
                "--procedure",
                "acceptance/end-of-line.yaml",
                "--spec",
                "specs/tarn-drive-end-of-line.spec.yaml",
                "--out",
                folder.resolve("reports").toString());
        assertThat(checked.exitCode()).as(checked.err()).isZero();
        try (Stream<Path> files = Files.walk(folder.resolve("reports"))) {
            record = files.filter(file -> file.endsWith(UNIT + ".run"))
                    .findFirst()
                    .orElseThrow();
        }
        fleet = folder.resolve("fleet");
        exported = Commands.run(
                "export",
                "--parquet",
                fleet.toString(),
                record.resolveSibling("").toString());
        assertThat(exported.exitCode()).as(exported.err()).isZero();
        for (String capture : List.of(BENCH_A, BENCH_F)) {
            Cli.Result also =
                    Commands.run("export", "--parquet", fleet.toString(), capture, "--spec", "passive-capture");
            assertThat(also.exitCode()).as(also.err()).isZero();
        }
    }

    @Nested
    class the_worked_query {
        @Test
        void gives_the_landing_spread_that_was_judged() {
            var spreads = new TreeMap<String, Double>();
            for (Map<String, Object> row : DuckDb.query(fleet, DuckDb.ofPage("landing-spread"))) {
                assertThat(row).containsEntry("unit", UNIT);
                spreads.put(row.get("sprocket") + " " + row.get("direction"), (Double) row.get("landing_spread_deg"));
            }

            ClauseResult judged = clause(ofRecord().judgement(), "landing-spread");

            assertThat(spreads).hasSize(judged.groups().size()).hasSize(18);
            for (GroupResult group : judged.groups()) {
                String key = group.key().get("sprocket") + " " + group.key().get("direction");
                assertThat(spreads.get(key)).as(key).isCloseTo(group.value().orElseThrow(), within(1e-9));
            }
        }

        @Test
        void has_siblings_that_run_as_they_stand_on_the_page() {
            assertThat(DuckDb.query(fleet, DuckDb.ofPage("worst-clauses")))
                    .hasSize(16)
                    .allSatisfy(row -> assertThat(row).containsEntry("runs", 1L).containsEntry("fails", 0L));
            assertThat(DuckDb.query(fleet, DuckDb.ofPage("not-measured"))).isNotEmpty();
            assertThat(DuckDb.query(fleet, DuckDb.ofPage("samples-of-a-shift"))).hasSizeGreaterThan(100);
        }
    }

    @Nested
    class every_shift {
        @Test
        void of_the_run_has_its_numbers_in_full() {
            sameShifts(ofRecord());
        }

        @Test
        void of_a_capture_with_damage_is_null_where_it_is_not_measured_and_says_why() {
            sameShifts(ofCapture(BENCH_F));

            assertThat(DuckDb.query(
                            fleet,
                            "SELECT 1 FROM " + SHIFTS + " WHERE outcome <> 'landed' AND run = '"
                                    + ofCapture(BENCH_F).judgement().source().sha256() + "'"))
                    .hasSize(1);
        }

        private void sameShifts(Judged judged) {
            List<Map<String, Object>> rows = rows(SHIFTS, judged, "shift");
            List<Shift> shifts = judged.judgement().table().shifts();
            assertThat(rows).hasSameSizeAs(shifts);
            for (int i = 0; i < shifts.size(); i++) {
                same(rows.get(i), shifts.get(i));
            }
        }

        private void same(Map<String, Object> row, Shift shift) {
            assertThat(row)
                    .containsEntry("shift", shift.number())
                    .containsEntry("cycle", shift.cycle())
                    .containsEntry("from", shift.from())
                    .containsEntry("to", shift.to())
                    .containsEntry("direction", shift.direction().word())
                    .containsEntry("displaced", shift.displaced())
                    .containsEntry("evidence", shift.evidence().word());
            for (Measure measure : Measure.values()) {
                Measured measured = shift.get(measure);
                Object number = row.get(measure.column());
                if (measured.number().isPresent()) {
                    assertThat(number).isEqualTo(measured.number().getAsDouble());
                } else {
                    assertThat(number).as(measure.column()).isNull();
                }
                if (measured instanceof Measured.NotMeasured missing) {
                    assertThat((String) row.get("not_measured"))
                            .contains("\"" + measure.column() + "\":\"" + missing.reason() + "\"");
                }
            }
        }
    }

    @Nested
    class every_clause {
        @Test
        void of_the_run_and_each_of_its_groups_is_a_row() {
            sameClauses(ofRecord());
        }

        @Test
        void of_a_capture_without_a_verdict_says_so() {
            sameClauses(ofCapture(BENCH_F));

            assertThat(rows(CLAUSES, ofCapture(BENCH_F), "clause_number"))
                    .anySatisfy(row -> assertThat(row).containsEntry("verdict", "no-verdict"));
        }

        private void sameClauses(Judged judged) {
            var expected = new ArrayList<String>();
            for (ClauseResult result : judged.judgement().clauses()) {
                String id = result.clause().id();
                expected.add(String.join(
                        "|",
                        List.of(
                                id,
                                "clause",
                                result.verdict().word(),
                                result.reason(),
                                number(result.value()),
                                number(result.margin()),
                                "null")));
                for (GroupResult group : result.groups()) {
                    expected.add(String.join(
                            "|",
                            List.of(
                                    id,
                                    "group",
                                    group.verdict().word(),
                                    group.reason(),
                                    number(group.value()),
                                    number(group.margin()),
                                    String.valueOf(group.n()))));
                }
            }
            List<String> cells = List.of("clause", "level", "verdict", "reason", "value", "margin", "n");
            assertThat(rows(CLAUSES, judged, "clause_number, group_number").stream()
                            .map(row -> cells.stream()
                                    .map(cell -> String.valueOf(row.get(cell)))
                                    .collect(Collectors.joining("|"))))
                    .containsExactlyElementsOf(expected);
        }

        private static String number(OptionalDouble value) {
            return value.isPresent() ? String.valueOf(value.getAsDouble()) : "null";
        }
    }

    @Nested
    class samples {
        @Test
        void carry_the_angles_that_were_measured() {
            Judged judged = ofCapture(BENCH_A);
            var angles = new ArrayList<Double>();
            var times = new ArrayList<Double>();
            AngleBlock block = new AngleBlock(1000);
            double sign = judged.judgement().table().sense().equals("reversed") ? -1 : 1;
            double offset = judged.judgement().table().alignmentDeg().orElse(0);
            try (AngleReader reader = judged.track().open()) {
                while (reader.next(block)) {
                    for (int i = 0; i < block.size(); i++) {
                        times.add(block.timeS[i]);
                        angles.add(block.state[i] == AngleBlock.GOOD ? sign * block.angleDeg[i] + offset : null);
                    }
                }
            }

            List<Map<String, Object>> rows = rows(SAMPLES, judged, "sample");

            assertThat(rows.stream().map(row -> row.get("time_s"))).containsExactlyElementsOf(times);
            assertThat(rows.stream().map(row -> row.get("angle_deg"))).containsExactlyElementsOf(angles);
        }

        @Test
        void rest_where_the_shift_table_says_the_shaft_landed() {
            List<Map<String, Object>> apart = DuckDb.query(
                    fleet,
                    "SELECT max(abs(m.angle_deg - s.landing_deg)) AS apart, count(*) AS n FROM " + SHIFTS + " s JOIN "
                            + SAMPLES + " m ON m.run = s.run AND m.time_s BETWEEN s.settled_s AND s.settled_s + 0.01"
                            + " WHERE s.unit = '" + UNIT + "' AND s.outcome = 'landed'");

            assertThat((Long) apart.get(0).get("n")).isGreaterThan(432L);
            assertThat((Double) apart.get(0).get("apart")).isLessThan(25.0); // the settle band is 20 deg, and noise
        }

        @Test
        void may_be_left_out() {
            Path lean = folder.resolve("lean");

            Commands.run("export", "--parquet", lean.toString(), record.toString(), "--no-samples");

            assertThat(lean.resolve("samples")).doesNotExist();
            assertThat(lean.resolve("shifts")).exists();
        }
    }

    @Nested
    class partitions {
        @Test
        void say_so_where_kind_or_date_is_not_known() {
            assertThat(DuckDb.query(
                            fleet,
                            "SELECT DISTINCT kind, date, unit_kind, started IS NULL AS undated FROM " + SHIFTS
                                    + " ORDER BY kind"))
                    .extracting(Object::toString)
                    .containsExactly(
                            "{kind=tarn-drive, date=2026-01-01, unit_kind=tarn-drive, undated=false}",
                            "{kind=unknown, date=undated, unit_kind=null, undated=true}");
        }

        @Test
        void of_other_days_and_kinds_are_not_opened() {
            List<Map<String, Object>> plan = DuckDb.query(
                    fleet,
                    "EXPLAIN SELECT sum(landing_deg) FROM " + SHIFTS
                            + " WHERE kind = 'tarn-drive' AND date BETWEEN '2026-01-01' AND '2026-12-31'");

            assertThat(plan.toString()).contains("Scanning Files: 1/3");
        }
    }

    @Nested
    class exported_again {
        @Test
        void a_run_gives_the_same_bytes_in_the_same_files() throws IOException {
            Path second = folder.resolve("second");
            Commands.run("export", "--parquet", second.toString(), record.toString());
            Map<String, String> before = content(second);

            // another machine would have other memory: row groups must not follow it
            Cli.Result again = Cli.in(Path.of("").toAbsolutePath())
                    .java("-Xmx128m")
                    .run("export", "--parquet", second.toString(), record.toString());

            assertThat(again.exitCode()).as(again.err()).isZero();
            assertThat(again.err()).isEmpty();
            assertThat(before).hasSize(3);
            assertThat(content(second)).isEqualTo(before);
        }

        @Test
        void as_another_kind_it_moves_and_counts_once() throws IOException {
            Path moved = folder.resolve("moved");
            Path profile = folder.resolve("other.profile.yaml");
            Files.writeString(
                    profile,
                    Files.readString(Path.of("specs", "tarn-drive.profile.yaml"))
                            .replaceFirst("profile: tarn-drive", "profile: tarn-drive-two"));
            Commands.run("export", "--parquet", moved.toString(), record.toString(), "--no-samples");

            Commands.run(
                    "export",
                    "--parquet",
                    moved.toString(),
                    record.toString(),
                    "--no-samples",
                    "--profile",
                    profile.toString());

            assertThat(content(moved).keySet())
                    .hasSize(2)
                    .allSatisfy(file -> assertThat(file).contains("kind=tarn-drive-two"));
        }
    }

    @Nested
    class a_program_that_is_killed {
        @Test
        void leaves_no_file_that_is_not_whole() throws IOException {
            Path broken = folder.resolve("broken");
            try (Cli.Running running = Cli.in(Path.of("").toAbsolutePath())
                    .start("export", "--parquet", broken.toString(), record.toString())) {
                await().atMost(Duration.ofSeconds(60)).until(() -> hidden(broken) || !running.alive());
                running.kill();
            }

            assertThat(content(broken).keySet())
                    .isNotEmpty()
                    .noneMatch(file -> file.startsWith("samples") && file.endsWith(".parquet"));
            assertThat(Commands.run("export", "--parquet", broken.toString(), record.toString())
                            .exitCode())
                    .isZero();
            assertThat(DuckDb.query(broken, "SELECT count(*) AS n FROM " + SAMPLES))
                    .isEqualTo(DuckDb.query(
                            fleet, "SELECT count(*) AS n FROM " + SAMPLES + " WHERE unit = '" + UNIT + "'"));
        }

        private static boolean hidden(Path folder) throws IOException {
            if (!Files.exists(folder)) {
                return false;
            }
            try (Stream<Path> files = Files.walk(folder)) {
                return files.anyMatch(file -> file.getFileName().toString().startsWith(".partial-"));
            }
        }
    }

    @Nested
    class compaction {
        @Test
        void of_a_day_keeps_every_row() throws IOException {
            Files.createDirectories(fleet.resolve("compact"));
            DuckDb.query(fleet, DuckDb.ofPage("compact"));

            assertThat(
                            DuckDb.query(
                                    fleet,
                                    "SELECT count(*) AS n, sum(landing_deg) AS deg FROM read_parquet('fleet/compact/shifts-tarn-drive-2026-01-01.parquet')"))
                    .isEqualTo(DuckDb.query(
                            fleet,
                            "SELECT count(*) AS n, sum(landing_deg) AS deg FROM " + SHIFTS
                                    + " WHERE kind = 'tarn-drive' AND date = DATE '2026-01-01'"));
        }
    }

    @Nested
    class what_cannot_be_exported {
        @Test
        void is_named_at_the_end_and_keeps_nothing_else_from_being_exported() throws IOException {
            Path nonsense = Files.writeString(folder.resolve("nonsense.csv"), "no,capture\nat,all\n");
            Path some = folder.resolve("some");

            Cli.Result result = Commands.run(
                    "export",
                    "--parquet",
                    some.toString(),
                    "--no-samples",
                    nonsense.toString(),
                    record.toString(),
                    folder.resolve("missing.run").toString(),
                    Files.createDirectories(folder.resolve("empty")).toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.out()).startsWith(UNIT + "  PASS  432 shifts, ");
            assertThat(result.err())
                    .contains("nonsense.csv")
                    .contains("missing.run")
                    .contains("empty: holds no run record");
            assertThat(content(some)).hasSize(2);
        }

        @Test
        void for_want_of_the_library_is_told_without_a_stack_trace() {
            Cli.Result result = Cli.in(Path.of("").toAbsolutePath())
                    .without("parquet", "zstd-jni")
                    .run("export", "--parquet", folder.resolve("none").toString(), record.toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err())
                    .isEqualTo(
                            "export: needs the Parquet library, which only this command loads and which is not there;"
                                    + " start it by ./shiftstand, or add target/export-lib/* to the class path\n");
            assertThat(folder.resolve("none")).doesNotExist();
        }

        @Test
        void because_the_folder_is_a_file_is_told_before_any_work() throws IOException {
            Path file = Files.writeString(folder.resolve("file"), "");

            Cli.Result result = Commands.run("export", "--parquet", file.toString(), record.toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.out()).isEmpty();
            assertThat(result.err()).contains(file + ": cannot be written");
        }
    }

    @Nested
    class without_an_input {
        @Test
        void every_run_below_reports_is_exported() {
            Cli.Result result = Cli.in(folder).run("export", "--parquet", "all", "--no-samples");

            assertThat(result.exitCode()).as(result.err()).isZero();
            assertThat(result.lines()).hasSize(1).first().asString().startsWith(UNIT);
        }
    }

    @Nested
    class other_commands {
        @Test
        void load_no_class_of_parquet() {
            Cli.Result judged = Cli.in(Path.of("").toAbsolutePath())
                    .java("-Xlog:class+load")
                    .run("judge", record.toString());

            assertThat(judged.out()).contains("org.shiftstand.judge.Judge ");
            assertThat(judged.out()).doesNotContain("org.apache.parquet", "org.apache.hadoop", "org.shiftstand.export");
        }

        @Test
        void work_without_the_library() {
            assertThat(Cli.in(Path.of("").toAbsolutePath())
                            .without("parquet", "zstd-jni")
                            .run("judge", record.toString())
                            .exitCode())
                    .isZero();
        }
    }

    @Test
    void what_was_written_is_told_as_json() {
        Path told = folder.resolve("told");

        Cli.Result result =
                Commands.run("export", "--parquet", told.toString(), record.toString(), "--no-samples", "--json");

        assertThat(result.out())
                .startsWith("{\n  \"runs\": [\n    {\n      \"input\": ")
                .contains("\"unit\": \"TD-0101\"", "\"dataset\": \"shifts\"", "\"rows\": 432");
    }

    private static Judged ofRecord() {
        return judged(record, Optional.empty());
    }

    private static Judged ofCapture(String capture) {
        return judged(Path.of(capture), Optional.of("passive-capture"));
    }

    private static Judged judged(Path file, Optional<String> spec) {
        JudgeInput input = JudgeInput.open(file, CsvOptions.parse(List.of(), List.of()));
        return Judge.judge(
                input.source(),
                input.assemble(new Named(spec, Optional.empty(), Optional.empty()), JudgeOptions.defaults()));
    }

    private static ClauseResult clause(Judgement judgement, String id) {
        return judgement.clauses().stream()
                .filter(result -> result.clause().id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    private static List<Map<String, Object>> rows(String dataset, Judged judged, String order) {
        return DuckDb.query(
                fleet,
                "SELECT * FROM " + dataset + " WHERE run = '"
                        + judged.judgement().source().sha256() + "' ORDER BY " + order);
    }

    private static Map<String, String> content(Path folder) throws IOException {
        Map<String, String> content = new TreeMap<>();
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                byte[] digest = sha256().digest(Files.readAllBytes(file));
                content.put(folder.relativize(file).toString(), HexFormat.of().formatHex(digest));
            }
        }
        return content;
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
