package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Course;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.quantity.Unit;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.rig.RigRunner;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.rig.RunPlan;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.SpecReader;
import org.shiftstand.spec.Verdict;

@Timeout(120)
class LiveProgressTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final Clock CLOCK = Clock.fixed(Instant.parse("2026-11-25T22:00:00Z"), ZoneOffset.UTC);

    @TempDir
    private Path folder;

    private final StringWriter printed = new StringWriter();
    private final PrintWriter err = new PrintWriter(printed, true);

    private Path record() {
        return folder.resolve("TD-0107.run");
    }

    private static RunMonitor.Progress at(String phase, int shifts, double elapsedS) {
        return new RunMonitor.Progress(phase, shifts, 108, 1 + shifts / 18, elapsedS, OptionalDouble.empty());
    }

    private static Course quickLook() {
        return Course.of(Script.layOut(ProcedureReader.find("quick-look"), TARN), TARN);
    }

    @Nested
    class A_run {
        private final Procedure procedure = ProcedureReader.find("quick-look");
        private final List<Action> actions = Script.layOut(procedure, TARN);

        private RunPlan plan() {
            TextFile script = Bundled.find("quick-look", Bundled.Kind.PROCEDURE);
            TextFile spec = Bundled.find("tarn-drive-end-of-line", Bundled.Kind.SPEC);
            TextFile profile = Bundled.find("tarn-drive", Bundled.Kind.PROFILE);
            return new RunPlan(
                    "TD-0107",
                    actions,
                    procedure,
                    Optional.of(TARN),
                    RunPlan.SIMULATED_GUARDS,
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    Map.of(),
                    Map.of("procedure", script.text(), "spec", spec.text(), "profile", profile.text()),
                    Map.of(),
                    true);
        }

        private RunEnd run(
                RunMonitor monitor, java.util.function.UnaryOperator<org.shiftstand.record.RunWriter> watched) {
            try (var link = new SimulatedLink(TARN, SimOptions.parse("seed=7"))) {
                return RigRunner.run(
                        link,
                        plan(),
                        header -> watched.apply(SqliteRunWriter.create(record(), header)),
                        monitor,
                        () -> false);
            }
        }

        @Test
        void is_told_in_a_log_without_a_terminal_and_not_disturbed_by_being_judged() throws Exception {
            RunEnd end;
            try (var live = new LiveProgress(
                    "TD-0107",
                    Course.of(actions, TARN),
                    false,
                    new Progress(err),
                    err,
                    CLOCK,
                    new LiveProgress.Cadence(5, 20, 0, 1))) {
                end = run(live, writer -> live.recording(record(), writer));
            }

            assertThat(end).isEqualTo(new RunEnd.Completed());
            List<String> lines = Files.readAllLines(folder.resolve(LiveProgress.LOG));
            assertThat(lines)
                    .hasSizeGreaterThan(3)
                    .allSatisfy(line -> assertThat(line)
                            .matches(
                                    "2026-11-25T22:00:00Z TD-0107: (homing|running|done), shift \\d+ of 108, cycle \\d+"
                                            + "(, .* left)?; provisional.*")
                            .doesNotContain("\u001b"));
            assertThat(lines.get(lines.size() - 1))
                    .startsWith("2026-11-25T22:00:00Z TD-0107: done, shift 108 of 108, cycle 6; ");
            assertThat(printed.toString()).as("no terminal").isEmpty();
            try (RunRecord closed = RunRecord.open(record())) {
                assertThat(closed.end()).contains("");
                assertThat(closed.gaps()).isEmpty();
            }
            assertThat(record().resolveSibling("TD-0107.run-wal"))
                    .as("whoever read the record let go of it")
                    .doesNotExist();
        }

        /** Told at every block: also while the shaft rests at a plateau, 300 deg from where the shift will land. */
        @Test
        void never_takes_the_shift_under_way_for_one_that_has_landed() {
            var misled = new java.util.ArrayList<String>();
            var blocks = new java.util.concurrent.atomic.AtomicInteger();
            run(RunMonitor.SILENT, writer -> new WatchedWriter(writer, () -> {}) {
                @Override
                public void block(long number, long firstMicros, long intervalNanos, short[] samples) {
                    super.block(number, firstMicros, intervalNanos, samples);
                    int n = blocks.incrementAndGet();
                    if (n >= 100 && n < 130) {
                        Provisional seen = LiveFigures.judged(record(), () -> false);
                        boolean farOff =
                                seen.worst().filter(w -> w.margin() < -1).isPresent();
                        if (!seen.counts().keySet().equals(java.util.Set.of("landed")) || farOff) {
                            misled.add(n + ": " + seen);
                        }
                    }
                }
            });

            assertThat(blocks.get()).isGreaterThan(130);
            assertThat(misled).isEmpty();
        }

        @Test
        void is_judged_while_it_is_recorded() throws Exception {
            var writer = new java.util.concurrent.CompletableFuture<LiveFigures>();
            RunMonitor halfWay = new RunMonitor() {
                @Override
                public void progress(RunMonitor.Progress p) {
                    if (p.shifts() == 40) { // the run stands still meanwhile, so that there is one answer
                        try (var figures = new LiveFigures(record(), 0, 1)) {
                            await().atMost(Duration.ofSeconds(60))
                                    .until(() -> figures.latest().isPresent());
                            writer.complete(figures);
                        }
                    }
                }
            };

            assertThat(run(halfWay, w -> w)).isEqualTo(new RunEnd.Completed());

            Provisional seen = writer.get().latest().orElseThrow();
            // up to the last request: that of the fortieth shift
            assertThat(seen.counts()).containsEntry("landed", 39).hasSize(1);
            assertThat(seen.toString()).startsWith("provisional: 39 landed; worst clause ");
        }
    }

    @Test
    void a_record_that_cannot_be_judged_is_not_known_now_and_harms_nobody() throws Exception {
        Files.writeString(record(), "no record");
        var line = new Progress(err);

        try (var live = new LiveProgress(
                "TD-0107", quickLook(), true, line, err, CLOCK, new LiveProgress.Cadence(5, 60, 0, 1))) {
            live.progress(at("running", 20, 60));
            live.recording(record(), new NoWriter());
            await().until(() -> Files.exists(folder.resolve(LiveProgress.LOG)) || hasWaited(live));
        }

        assertThat(Files.readString(folder.resolve(LiveProgress.LOG)))
                .contains("over, shift 20 of 108, cycle 2; provisional outcomes: not known now");
    }

    private static boolean hasWaited(LiveProgress live) {
        return live.shareLeft() < 1;
    }

    @Test
    void what_a_person_should_read_is_printed_and_logged() throws Exception {
        try (var live = new LiveProgress(
                "TD-0107", quickLook(), true, new Progress(err), err, CLOCK, new LiveProgress.Cadence(5, 60, 0, 1))) {
            live.recording(record(), new NoWriter());
            live.notice("the shift from 2 to 3 did not come to rest");
        }

        assertThat(printed).hasToString("TD-0107: the shift from 2 to 3 did not come to rest" + System.lineSeparator());
        assertThat(Files.readAllLines(folder.resolve(LiveProgress.LOG)))
                .containsExactly("2026-11-25T22:00:00Z TD-0107: the shift from 2 to 3 did not come to rest");
    }

    @Nested
    class Time_left {
        @Test
        void goes_by_the_script_at_first() {
            var left = new TimeLeft(quickLook());

            assertThat(left.seconds()).isEqualTo(quickLook().totalS());
            left.over(54, 150);
            assertThat(left.seconds()).isCloseTo(quickLook().totalS() / 2, within(10.0));
            assertThat(left.share()).isCloseTo(0.5, within(0.05));
        }

        @Test
        void then_by_the_pace_and_a_cut_in_between_does_no_harm() {
            Course course = quickLook();
            var atScript = new TimeLeft(course);
            var slower = new TimeLeft(course);
            double elapsed = 6;
            for (int shift = 1; shift <= 54; shift++) {
                double before = atScript.doneS();
                atScript.over(shift, 0);
                elapsed += 1.2 * (atScript.doneS() - before);
                elapsed = shift == 30 ? 4 : elapsed; // the supply was off, and time is counted anew
                slower.over(shift, elapsed);
            }

            assertThat(slower.seconds()).isCloseTo(1.2 * atScript.seconds(), within(1.0));
        }
    }

    @Nested
    class The_worst_clause {
        private static final List<Clause> CLAUSES =
                SpecReader.read(TextFile.of("x.spec.yaml", """
                spec: x
                version: 1
                clauses:
                  - { id: lands, measure: outcome, is-not: landed, statistic: count, at-most: 0 }
                  - { id: travels, measure: travel-time, statistic: maximum, at-most: 300 ms }
                  - { id: clear, measure: clearance, statistic: minimum, at-least: 60 deg }
                  - { id: holds, measure: hold, statistic: every, between: [600 ms, 800 ms] }
                """)).clauses();

        private static ClauseResult result(int clause, Unit unit, double value, double margin) {
            return new ClauseResult(
                    CLAUSES.get(clause),
                    margin < 0 ? Verdict.FAIL : Verdict.PASS,
                    "",
                    unit,
                    OptionalDouble.of(value),
                    OptionalDouble.of(margin),
                    List.of());
        }

        @Test
        void is_the_one_with_the_least_margin_for_its_bound() {
            assertThat(Provisional.worst(List.of(
                            result(0, Unit.SHIFTS, 0, 0), // nothing beyond a bound of 0: no margin to speak of
                            result(1, Unit.MS, 231, 69), // 23 % of 300 ms
                            result(2, Unit.DEG, 90, 30), // 50 % of 60 deg
                            result(3, Unit.MS, 690, 90)))) // 90 % of 100 ms, half the width
                    .hasValueSatisfying(worst -> assertThat(worst).hasToString("travels, 231 ms, 23 % inside"));
        }

        @Test
        void is_one_that_is_broken_before_all_others() {
            assertThat(Provisional.worst(List.of(
                            result(1, Unit.MS, 299, 1), result(0, Unit.SHIFTS, 2, -2), result(2, Unit.DEG, 57, -3))))
                    .hasValueSatisfying(worst -> assertThat(worst).hasToString("lands, 2 shifts, 100 % outside"));
        }

        @Test
        void is_none_before_anything_is_measured() {
            assertThat(Provisional.worst(List.of())).isEmpty();
            assertThat(new Provisional(Map.of(), Optional.empty())).hasToString("provisional: no shift yet");
        }
    }

    @Test
    void a_line_on_a_terminal_never_wraps() {
        assertThat(Progress.shortened("shift 4 of 108", 79)).isEqualTo("shift 4 of 108");
        assertThat(Progress.shortened("shift 4 of 108", 8)).isEqualTo("shift 4…");
    }

    /** Nothing is written in these tests. */
    private static final class NoWriter implements org.shiftstand.record.RunWriter {
        @Override
        public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {}

        @Override
        public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {}

        @Override
        public void event(org.shiftstand.record.RunEvent event) {}

        @Override
        public void gap(long fromMicros, long toMicros, long samples, String cause) {}

        @Override
        public void anchor(long rigMicros, long utcMicros) {}

        @Override
        public void place(int action, long atMicros) {}

        @Override
        public void counter(String name, long value) {}

        @Override
        public void finish(String end) {}

        @Override
        public void close() {}
    }
}
