package org.shiftstand.faults;

import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/**
 * Each fault that a run must survive, a few times: the reduced form of the campaign ({@code src/bench/faults.sh}, table in
 * {@code src/bench/FAULTS.md}). Trials wait for rigs in real time most of the while, so that several run at once.
 */
class FaultsTest {
    /** Fewer than the campaign: other tests' timing is not to suffer. */
    private static final int AT_ONCE = 3;

    private static final long SEED = 9001; // none of the campaign's

    private static ExecutorService threads = Executors.newCachedThreadPool();

    @TempDir
    private static Path folder;

    private record Fault(String words, int trials, Trial trial) {}

    @BeforeAll
    static void begin() {
        threads = Executors.newFixedThreadPool(AT_ONCE);
    }

    @AfterAll
    static void end() {
        threads.shutdownNow();
    }

    @TestFactory
    Stream<DynamicTest> a_run_survives() {
        List<Fault> faults = new ArrayList<>();
        faults.add(new Fault("kill -9 over a pseudo-terminal, gone on with", 2, Kill::real));
        faults.add(new Fault("line torn, whole again after seconds", 2, TornLink::reconnected));
        for (SupplyOff fault : SupplyOff.values()) {
            faults.add(new Fault(fault.words, 1, fault::run));
        }
        faults.add(new Fault("two rigs, a check each, one fails", 1, TwoRigs::apart));
        faults.add(new Fault("two rigs, one check for both, one rig killed", 1, TwoRigs::together));
        faults.add(new Fault("kill -9 in simulated time, gone on with", 3, Kill::simulated));
        faults.add(new Fault("4 kHz over a pseudo-terminal", 1, (seed, at) -> FastLine.run(seed, at, 10)));
        if (FullDisk.possible()) { // only root can mount a small file system
            faults.add(new Fault("disk filled during a run", 1, FullDisk::filled));
            faults.add(new Fault("disk too small for the run", 1, FullDisk::tooSmall));
        }
        return started(faults).stream();
    }

    private static List<DynamicTest> started(List<Fault> faults) {
        List<DynamicTest> tests = new ArrayList<>();
        for (Fault fault : faults) {
            for (long seed = SEED; seed < SEED + fault.trials(); seed++) {
                long s = seed;
                Path own = folder.resolve(fault.words().replaceAll("[^A-Za-z0-9]+", "-") + "-" + s);
                Future<Seen> running =
                        threads.submit(() -> StoodStill.madeAgain(fault.trial()).run(s, Files.createDirectories(own)));
                tests.add(dynamicTest(fault.words() + ", seed " + s, () -> outcome(running)));
            }
        }
        return tests;
    }

    private static void outcome(Future<Seen> running) throws Throwable {
        try {
            running.get();
        } catch (ExecutionException e) {
            throw e.getCause() == null ? e : e.getCause();
        }
    }
}
