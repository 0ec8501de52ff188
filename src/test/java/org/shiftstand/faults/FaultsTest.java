package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** A few trials of each fault; {@code src/bench/faults.sh} does them by the hundred. */
@EnabledOnOs(OS.LINUX)
@Timeout(300)
class FaultsTest {
    private static final int AT_ONCE = 4;

    @TempDir
    private Path folder;

    private void survives(int trials, Trial trial) {
        Tally tally = Tally.of("fault", 1, trials, AT_ONCE, folder, trial);
        System.out.println(tally.row());
        assertThat(tally.failures()).isEmpty();
    }

    @Test
    void a_killed_run_in_simulated_time_opens_and_goes_on() {
        survives(3, Kill::simulated);
    }

    @Test
    void a_killed_run_over_a_serial_line_opens_and_goes_on() {
        survives(4, Kill::real);
    }

    /** All at once: what is waited for here is the rig's watchdog, in real time. */
    @Test
    void whatever_becomes_of_the_host_the_supply_goes_off() {
        SupplyOff[] faults = SupplyOff.values();
        survives(faults.length, (seed, at) -> faults[(int) seed - 1].run(seed, at));
    }

    @Test
    void a_torn_line_that_is_whole_again_is_gone_on_with() {
        survives(2, TornLink::reconnected);
    }

    @Test
    void one_of_two_rigs_fails_and_the_other_does_not_notice() {
        survives(2, (seed, at) -> seed == 1 ? TwoRigs.apart(seed, at) : TwoRigs.together(seed, at));
    }

    @Test
    void a_disk_that_fills_during_a_run_ends_it_safely() {
        assumeTrue(FullDisk.possible(), "mounting a small file system needs root");

        survives(1, FullDisk::filled);
    }

    @Test
    void a_disk_too_small_for_the_run_lets_nothing_start() {
        assumeTrue(FullDisk.possible(), "mounting a small file system needs root");

        survives(1, FullDisk::tooSmall);
    }

    @Test
    void seconds_at_4_kHz_lose_nothing() {
        survives(1, (seed, at) -> FastLine.run(seed, at, 10));
    }
}
