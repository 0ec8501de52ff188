package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.shiftstand.record.RunRecord;

/** The line torn at random moments and whole again seconds later: the run goes on by its procedure's policy. */
final class TornLink {
    private static final Duration ENDS = Duration.ofSeconds(240);

    private static final String RECONNECT = Check.SHORT + "on-link-loss: { reconnect: 30 s }\n";

    /** Says that somebody is there, who says that the unit may move again: what the launcher would say on a terminal. */
    private static final List<String> TERMINAL = List.of("-Dshiftstand.terminal=true", "-Dshiftstand.keyboard=true");

    private TornLink() {}

    static Seen reconnected(long seed, Path folder) throws Exception {
        Random random = new Random(seed);
        List<String> options = new ArrayList<>(List.of("seed=" + seed));
        double at = 4;
        int tears = 1 + random.nextInt(2);
        for (int i = 0; i < tears; i++) {
            at += random.nextDouble() * 9;
            options.add(String.format(Locale.ROOT, "unplug-at=%.3f", at));
            at += 6;
        }
        options.add(String.format(Locale.ROOT, "replug-after=%.1f", 0.5 + random.nextInt(4)));
        if (random.nextBoolean()) {
            options.add("reboot=true");
        }
        try (Rig rig = Rig.start(folder, "rig", String.join(",", options));
                Check check = Check.start(
                        folder, "check", rig.address(), "TD-" + seed, RECONNECT, TERMINAL.toArray(String[]::new))) {
            Left left = check.left();
            sayGo(check.child());
            check.ended(ENDS, 0, 1, 3);
            List<SupplyLog.Change> lost = rig.log().changes().stream()
                    .filter(change -> change.cause().equals("port-lost"))
                    .toList();
            try (RunRecord record = RunRecord.open(left.file())) {
                assertThat(record.end()).contains("");
                assertThat(record.breaks())
                        .as("as many breaks as tears with the supply on")
                        .hasSize(lost.size());
                assertThat(record.gaps()).as("gaps beside the breaks").isEmpty();
            }
            assertThat(rig.log().on()).isFalse();
            boolean again = Kill.planned(left.judged().judgement().table(), Check.SHORT, folder);
            return Seen.survived()
                    .withRemark(lost.size()
                            + (lost.size() == 1 ? " tear" : " tears")
                            + " in the run"
                            + (again ? ", a shift made again" : ""));
        }
    }

    /** Answers each question whether the unit may move, once it is asked; until the program ends. */
    private static void sayGo(Child child) {
        int answered = 0;
        long until = System.nanoTime() + ENDS.toNanos();
        while (child.alive() && System.nanoTime() < until) {
            int asked = child.err().split("Type 'go'", -1).length - 1;
            if (asked > answered) {
                answered++;
                child.type("go");
            }
            Wait.pause(Duration.ofMillis(100));
        }
    }
}
