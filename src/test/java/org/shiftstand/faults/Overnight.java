package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.record.RunRecord;

/** A night's run in simulated time, in the launcher's heap: its memory stays flat, and judging again gives the same. */
final class Overnight {
    private static final Duration ENDS = Duration.ofMinutes(15);

    // [12.345s][info][gc] GC(7) Pause Young (Allocation Failure) 71M->4M(247M) 3.456ms
    private static final Pattern COLLECTED = Pattern.compile("\\[([0-9.]+)s\\].*?(\\d+)M->(\\d+)M\\((\\d+)M\\)");

    /** How much more the last third may hold after a collection than the first: what grows by the hour is far above. */
    private static final int MORE_MIB = 24;

    private Overnight() {}

    /** @param procedure a bundled name or a file */
    static Seen run(long seed, Path folder, String procedure, double leastHours) throws Exception {
        Path collections = folder.resolve("gc.log");
        long started = System.nanoTime();
        try (Child check = Child.start(
                folder,
                "check",
                List.of(Child.LONG_RUN, "-Xlog:gc:file=" + collections),
                "check",
                "--rig",
                "sim:seed=" + seed,
                "--procedure",
                procedure,
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "TD-" + seed,
                "--unattended",
                "--out",
                folder.resolve("out").toString())) {
            Check run = new Check(check, folder.resolve("out"));
            run.ended(ENDS, 0, 1, 3);
            double tookS = (System.nanoTime() - started) / 1e9;
            Left left = Left.in(run.out()).orElseThrow();
            double hours;
            try (RunRecord record = RunRecord.open(left.file())) {
                assertThat(record.end()).contains("");
                hours = record.samples() * record.intervalS() / 3600;
                assertThat(record.gaps()).isEmpty();
            }
            assertThat(hours).isGreaterThanOrEqualTo(leastHours);
            String flat = flat(collections);
            long size = Files.size(left.file());
            String again = again(folder, left);
            return Seen.survived()
                    .withRemark(String.format(
                            Locale.ROOT, "%.2f h in %.0f s, %.0f MB; %s; %s", hours, tookS, size / 1e6, flat, again));
        }
    }

    /** Live memory after collections, by thirds of the run. */
    private static String flat(Path log) throws Exception {
        List<Integer> live = new ArrayList<>();
        for (String line : Files.readAllLines(log)) {
            Matcher m = COLLECTED.matcher(line);
            if (m.find()) {
                live.add(Integer.parseInt(m.group(3)));
            }
        }
        assertThat(live).as("collections").hasSizeGreaterThan(9);
        int third = live.size() / 3;
        int first = most(live.subList(third / 2, third)); // not while it still starts
        int last = most(live.subList(live.size() - third, live.size()));
        assertThat(last)
                .as("MiB after collections in the last third, %d in the first", first)
                .isLessThanOrEqualTo(first + MORE_MIB);
        return "at most " + first + " MiB after a collection in the first third, " + last + " MiB in the last";
    }

    private static int most(List<Integer> values) {
        return values.stream().mapToInt(v -> v).max().orElse(0);
    }

    /** Judged again from the record: the same result to the last digit. */
    private static String again(Path folder, Left left) throws Exception {
        long started = System.nanoTime();
        try (Child judge = Child.start(
                folder, "judge", List.of(Child.LONG_RUN), "judge", left.file().toString(), "--json")) {
            assertThat(judge.exit(Duration.ofMinutes(2))).as(judge.said()).isIn(0, 1, 3);
            double tookS = (System.nanoTime() - started) / 1e9;
            String before = Files.readString(left.file().resolveSibling("result.json"));
            assertThat(judge.out().strip()).isEqualTo(before.strip());
            return String.format(Locale.ROOT, "judged again in %.1f s, the same result", tookS);
        }
    }
}
