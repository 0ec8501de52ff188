package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.SampleSource.Break;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Judged;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunRecord;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** SIGKILL at a random moment of a run; then the record is opened, gone on with, finished and compared. */
final class Kill {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final Duration RUN = Duration.ofSeconds(180);
    private static final int SAMPLES_A_SECOND = 512;
    private static final int BLOCK = 64;
    private static final double SIMULATED_RUN_S = 1.2;
    private static final double REAL_RUN_S = 12;

    private Kill() {}

    /** In simulated time: how many samples the rig had taken nobody knows who comes from outside. */
    static Seen simulated(long seed, Path folder) throws Exception {
        Random random = new Random(seed);
        double after = random.nextDouble() * SIMULATED_RUN_S;
        while (true) {
            try (Check check = Check.start(folder, "check", "sim:seed=" + seed, "TD-" + seed, Check.LONG)) {
                Left left = check.left();
                Wait.pause(Duration.ofNanos((long) (after * 1e9)));
                check.child().kill();
                if (finished(left)) { // too late: the run was quicker than usual
                    clear(check.out());
                    after *= random.nextDouble();
                    continue;
                }
                return goneOn(folder, left, false, Check.LONG);
            }
        }
    }

    /** Over a pseudo-terminal, in real time, with the rig in a process of its own. */
    static Seen real(long seed, Path folder) throws Exception {
        Random random = new Random(seed);
        try (Rig rig = Rig.start(folder, "rig", "seed=" + seed);
                Check check = Check.start(folder, "check", rig.address(), "TD-" + seed, Check.SHORT)) {
            Left left = check.left();
            Wait.pause(Duration.ofNanos((long) (random.nextDouble() * REAL_RUN_S * 1e9)));
            long killed = System.nanoTime();
            boolean on = rig.log().onAt(killed);
            check.child().kill();
            if (finished(left)) {
                return Seen.survived().withRemark("the run was over before");
            }
            Seen seen = Seen.survived();
            if (on) {
                SupplyLog.Change off = rig.log().awaitOffAfter(killed, Duration.ofSeconds(5));
                seen = seen.withSupplyOff((off.nanos() - killed) / 1e9);
                long taken = off.rigMicrosAt(killed);
                long lost = Math.max(0, Math.round((taken - lastMicros(left)) * 1e-6 * SAMPLES_A_SECOND));
                assertThat(lost).as("lost samples: at most those of a second").isLessThanOrEqualTo(SAMPLES_A_SECOND);
                seen = seen.withLost(lost, Math.min(lost, 2 * BLOCK));
            }
            Seen after = goneOn(folder, left, true, Check.SHORT);
            return seen.withRemark(after.remark());
        }
    }

    private static boolean finished(Left left) {
        try (RunRecord record = RunRecord.open(left.file())) {
            return record.end().isPresent();
        }
    }

    private static long lastMicros(Left left) {
        try (RunRecord record = RunRecord.open(left.file())) {
            return record.lastMicros();
        }
    }

    private static void clear(Path out) throws IOException {
        try (var files = java.nio.file.Files.walk(out)) {
            for (Path file : files.sorted(java.util.Comparator.reverseOrder()).toList()) {
                java.nio.file.Files.delete(file);
            }
        }
    }

    private static Seen goneOn(Path folder, Left left, boolean real, String procedure) throws Exception {
        Left copy = left.copiedTo(folder.resolve("copy"));
        String remark = "";
        try {
            copy.judged();
        } catch (BadInput e) {
            try (RunRecord record = RunRecord.open(copy.file())) {
                assertThat(record.samples()).as("judging: %s", e.getMessage()).isZero();
            }
            remark = "before the first sample";
        }
        try (Check resumed = Check.resume(folder, "resume", left, real)) {
            resumed.ended(RUN, 0, 1, 3);
        }
        compare(copy, left, procedure, folder);
        return Seen.survived().withRemark(remark);
    }

    private static void compare(Left copy, Left whole, String procedure, Path folder) throws IOException, SQLException {
        copy.isBeginningOf(whole, "gone on with");
        Judged judged = whole.judged();
        Break torn;
        try (RunRecord record = RunRecord.open(whole.file())) {
            assertThat(record.end()).contains("");
            assertThat(record.sessions()).hasSize(2);
            assertThat(record.breaks()).as("breaks").hasSize(1);
            torn = record.breaks().get(0);
            assertThat(record.notices()).noneMatch(notice -> notice.contains("changed or damaged"));
        }
        List<Shift> all = judged.judgement().table().shifts();
        for (Shift shift : all) {
            double request = shift.get(Measure.REQUEST).number().orElse(0);
            double settled = shift.get(Measure.SETTLED).number().orElse(request);
            assertThat(request <= torn.fromS() + 1e-9 && settled >= torn.toS() - 1e-9)
                    .as("shift %d spans the break from %f s to %f s", shift.number(), torn.fromS(), torn.toS())
                    .isFalse();
        }
        assertThat(judged.judgement().notices())
                .as("told")
                .anyMatch(notice ->
                        notice.contains("break") || notice.contains("broken off") || notice.contains("resumed"));
        planned(all, procedure, folder);
        same(copy, whole, judged.judgement().correction(), torn);
    }

    /** Every shift that the procedure asks for was made and counts once. */
    static void planned(List<Shift> shifts, String procedure, Path folder) throws IOException {
        Map<String, Integer> left = new TreeMap<>();
        Path file = java.nio.file.Files.writeString(folder.resolve("asked.yaml"), procedure);
        for (Action action : Script.layOut(ProcedureReader.read(TextFile.read("asked.yaml", file)), TARN)) {
            if (action instanceof Action.RequestShift r && r.cycle() > 0) {
                left.merge(r.cycle() + ": " + r.from() + ">" + r.to(), 1, Integer::sum);
            }
        }
        for (Shift shift : shifts) {
            if (shift.cycle() > 0) {
                left.merge(shift.cycle() + ": " + shift.from() + ">" + shift.to(), -1, Integer::sum);
            }
        }
        left.values().removeIf(n -> n == 0);
        assertThat(left)
                .as("shifts asked for and not there, or there too often (below 0)")
                .isEmpty();
    }

    /** All shifts that had come to rest are the same to the last digit, measured with one correction. */
    private static void same(Left copy, Left whole, Correction correction, Break torn) {
        List<Shift> before = Left.completed(copy.measured(correction));
        List<Shift> after = whole.measured(correction).shifts();
        List<String> wrong = new ArrayList<>();
        for (Shift was : before) {
            Optional<Shift> is = after.stream()
                    .filter(shift -> shift.number() == was.number())
                    .findFirst();
            if (is.isEmpty()) {
                wrong.add("shift " + was.number() + " is no longer there");
                continue;
            }
            for (Measure measure : Measure.values()) {
                // without a profile it is the distance from the mean of all landings, later ones too
                if (measure != Measure.LANDING_ERROR
                        && !was.get(measure).equals(is.get().get(measure))) {
                    wrong.add("shift " + was.number() + " " + measure.key() + " was " + was.get(measure) + " and is "
                            + is.get().get(measure));
                }
            }
            if (was.outcome() != is.get().outcome()
                    || was.from() != is.get().from()
                    || was.to() != is.get().to()) {
                wrong.add("shift " + was.number() + " was " + was.from() + ">" + was.to() + " " + was.outcome()
                        + " and is " + is.get().from() + ">" + is.get().to() + " "
                        + is.get().outcome());
            }
        }
        assertThat(wrong)
                .as("of %d shifts before the break at %f s", before.size(), torn.fromS())
                .isEmpty();
    }
}
