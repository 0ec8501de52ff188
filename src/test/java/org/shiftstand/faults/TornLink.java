package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import org.shiftstand.record.RunRecord;

/** The line torn at random moments and whole again seconds later: the run goes on by its procedure's policy. */
final class TornLink {
    private static final Duration ENDS = Duration.ofSeconds(240);

    private static final String RECONNECT = Check.SHORT + "on-link-loss: { reconnect: 30 s }\n";

    /** Why the rig switched the supply off: it lost the port, or its host was silent for too long. */
    private static final Set<String> LOST = Set.of("port-lost", "watchdog");

    private TornLink() {}

    /**
     * A person at the terminal, who lets the unit move again each time that they are asked: also where a busy machine was
     * late with a heartbeat, which the rig takes for a torn line.
     */
    private static void letMove(Check check) {
        for (int asked = 0; check.child().alive(); asked++) {
            int answered = asked;
            Wait.until(ENDS, () -> !check.child().alive() || questions(check) > answered);
            if (check.child().alive()) {
                check.child().type("go");
            }
        }
    }

    private static int questions(Check check) {
        return check.child().err().split("Hands off the drive\\?", -1).length - 1;
    }

    static Seen reconnected(long seed, Path folder) throws Exception {
        Random random = Moments.of(seed);
        List<String> options = new ArrayList<>(List.of("seed=" + seed));
        double at = 10; // by the rig's clock: the host starts after it
        int tears = 1 + random.nextInt(2);
        for (int i = 0; i < tears; i++) {
            at += random.nextDouble() * 14;
            options.add(String.format(Locale.ROOT, "unplug-at=%.3f", at));
            at += 6;
        }
        options.add(String.format(Locale.ROOT, "replug-after=%.1f", 0.5 + random.nextInt(4)));
        if (random.nextBoolean()) {
            options.add("reboot=true");
        }
        try (Rig rig = Rig.start(folder, "rig", String.join(",", options));
                Check check = Check.start(
                        folder, "check", rig.address(), "TD-" + seed, RECONNECT, Child.TERMINAL, Child.KEYBOARD)) {
            Left left = check.left();
            letMove(check);
            check.ended(ENDS, 0, 1, 3);
            List<SupplyLog.Change> lost = rig.log().changes().stream()
                    .filter(change -> LOST.contains(change.cause()))
                    .toList();
            try (RunRecord record = RunRecord.open(left.file())) {
                assertThat(record.end()).contains("");
                assertThat(record.sessions())
                        .as("as many as tears with the supply on, and one")
                        .hasSize(1 + lost.size());
                assertThat(record.breaks().size()).isLessThanOrEqualTo(lost.size()); // none before the first sample
                assertThat(record.gaps()).as("gaps beside the breaks").isEmpty();
            }
            assertThat(rig.log().on()).isFalse();
            boolean again = Kill.planned(left.judged().judgement().table(), Check.SHORT, folder);
            return Seen.survived()
                    .withRemark(lost.size() + (lost.size() == 1 ? " tear" : " tears") + " in the run"
                            + (again ? ", a shift that had come to rest made again" : ""));
        }
    }
}
