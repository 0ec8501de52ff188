package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.shiftstand.capture.SampleSource.Break;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Judgement;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunRecord;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Resumption;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** SIGKILL at a random moment of a run; then the record is opened, gone on with, finished and compared. */
final class Kill {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final Duration RUN = Duration.ofSeconds(180);
    private static final int SAMPLES_A_SECOND = 512;
    private static final int BLOCK = 64;
    private static final double SIMULATED_RUN_S = 1.2;
    private static final double REAL_RUN_S = 26;

    private Kill() {}

    /** In simulated time: how many samples the rig had taken nobody knows who comes from outside. */
    static Seen simulated(long seed, Path folder) throws Exception {
        Random random = Moments.of(seed);
        double after = random.nextDouble() * SIMULATED_RUN_S;
        try (Check check = Check.start(folder, "check", "sim:seed=" + seed, "TD-" + seed, Check.LONG)) {
            Left left = check.left();
            Wait.pause(Duration.ofNanos((long) (random.nextDouble() * SIMULATED_RUN_S * 1e9)));
            check.child().kill();
            return finished(left) ? over(left, folder) : goneOn(folder, left, false, Check.LONG);
        }
    }

    /** Over a pseudo-terminal, in real time, with the rig in a process of its own. */
    static Seen real(long seed, Path folder) throws Exception {
        Random random = Moments.of(seed);
        try (Rig rig = Rig.start(folder, "rig", "seed=" + seed);
                Check check = Check.start(folder, "check", rig.address(), "TD-" + seed, Check.SHORT)) {
            Left left = check.left();
            Wait.pause(Duration.ofNanos((long) (random.nextDouble() * REAL_RUN_S * 1e9)));
            long killed = System.nanoTime();
            boolean on = rig.log().onAt(killed);
            check.child().kill();
            if (finished(left)) {
                return over(left, folder);
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

    /** Killed when the script was done: while it was sealed, judged or reported. */
    private static Seen over(Left left, Path folder) throws IOException {
        try (RunRecord record = RunRecord.open(left.file())) {
            assertThat(record.end()).as("the run had ended by itself").contains("");
        }
        left.copiedTo(folder.resolve("copy")).judged();
        return Seen.survived().withRemark("after the end of the script");
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
        return Seen.survived().withRemark(remark + compare(copy, left, procedure, folder));
    }

    /** @return what is worth a remark */
    private static String compare(Left copy, Left whole, String procedure, Path folder)
            throws IOException, SQLException {
        copy.isBeginningOf(whole, "gone on with");
        Judged judged = whole.judged();
        ShiftTable table = judged.judgement().table();
        List<Break> breaks;
        try (RunRecord record = RunRecord.open(whole.file());
                RunRecord before = RunRecord.open(copy.file())) {
            assertThat(record.end()).contains("");
            assertThat(record.sessions()).hasSize(2);
            breaks = record.breaks();
            assertThat(breaks).as("breaks").hasSize(before.samples() == 0 ? 0 : 1);
            assertThat(record.notices()).noneMatch(notice -> notice.contains("changed or damaged"));
        }
        for (Break torn : breaks) {
            for (Shift shift : table.shifts()) {
                double request = shift.get(Measure.REQUEST).number().orElse(0);
                double settled = shift.get(Measure.SETTLED).number().orElse(request);
                assertThat(request <= torn.fromS() + 1e-9 && settled >= torn.toS() - 1e-9)
                        .as("shift %d spans the break from %f s to %f s", shift.number(), torn.fromS(), torn.toS())
                        .isFalse();
            }
            assertThat(judged.judgement().notices())
                    .as("told")
                    .anyMatch(notice -> notice.contains("the run was broken off at"));
            same(copy, whole, judged.judgement(), torn);
        }
        return planned(table, procedure, folder) ? "the last shift before it had come to rest and was made again" : "";
    }

    /**
     * Every shift that the procedure asks for was made and counts once; but for one that had come to rest before a break when
     * the runner had not yet seen that it would stay there: it counts, and is made again.
     *
     * @return whether there is such a one
     */
    static boolean planned(ShiftTable table, String procedure, Path folder) throws IOException {
        Map<String, Integer> left = new TreeMap<>();
        Path file = Files.writeString(folder.resolve("asked.yaml"), procedure);
        for (Action action : Script.layOut(ProcedureReader.read(TextFile.read("asked.yaml", file)), TARN)) {
            if (action instanceof Action.RequestShift r && r.cycle() > 0) {
                left.merge(r.cycle() + ": " + r.from() + ">" + r.to(), 1, Integer::sum);
            }
        }
        for (Shift shift : table.shifts()) {
            if (shift.cycle() > 0) {
                left.merge(name(shift), -1, Integer::sum);
            }
        }
        boolean again = false;
        for (Resumption torn : table.resumptions()) {
            if (torn.shiftsBefore() > 0 && torn.brokenOff().isEmpty()) {
                String last = name(table.shifts().get(torn.shiftsBefore() - 1));
                if (left.getOrDefault(last, 0) == -1) {
                    left.merge(last, 1, Integer::sum);
                    again = true;
                }
            }
        }
        left.values().removeIf(n -> n == 0);
        assertThat(left)
                .as("shifts asked for and not there, or there too often (below 0)")
                .isEmpty();
        return again;
    }

    private static String name(Shift shift) {
        return shift.cycle() + ": " + shift.from() + ">" + shift.to();
    }

    /** All shifts that had come to rest are the same to the last digit, measured with one correction. */
    private static void same(Left copy, Left whole, Judgement judgement, Break torn) {
        List<Shift> before = Left.completed(copy.measured(judgement.correction()));
        ShiftTable after = whole.measured(judgement.correction());
        List<String> wrong = new ArrayList<>();
        for (Shift was : before) {
            if (was.number() > after.shifts().size()) {
                wrong.add("shift " + was.number() + " is no longer there");
                continue;
            }
            Shift is = after.shifts().get(was.number() - 1);
            if (after.brokenOff(is) || judgement.table().brokenOff(is)) {
                continue; // it may still have come back from a plateau: nobody saw that it did not
            }
            for (Measure measure : Measure.values()) {
                // without a profile it is the distance from the mean of all landings, later ones too
                if (measure != Measure.LANDING_ERROR && !was.get(measure).equals(is.get(measure))) {
                    wrong.add("shift " + was.number() + " " + measure.key() + " was " + was.get(measure) + " and is "
                            + is.get(measure));
                }
            }
            if (was.outcome() != is.outcome() || was.from() != is.from() || was.to() != is.to()) {
                wrong.add("shift " + was.number() + " was " + was.from() + ">" + was.to() + " " + was.outcome()
                        + " and is " + is.from() + ">" + is.to() + " " + is.outcome());
            }
        }
        assertThat(wrong)
                .as("of %d shifts before the break at %f s", before.size(), torn.fromS())
                .isEmpty();
    }
}
