package org.shiftstand.classification;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.sim.FaultKind;

/**
 * Units of every fault kind, and good ones, through the whole chain: the reduced form of the campaign
 * ({@code src/bench/classify.sh}, tables in {@code src/bench/CLASSIFICATION.md}).
 */
class ClassificationTest {
    /** None of the campaign's seeds. */
    private static final long BASE = 50_000_000;

    private static final int FAULTY_OF_EACH_KIND = 2;
    private static final int GOOD = 12;
    private static final int AT_ONCE = 2;

    private static ExecutorService threads = Executors.newCachedThreadPool();

    @TempDir
    private static Path folder;

    @BeforeAll
    static void begin() {
        threads = Executors.newFixedThreadPool(AT_ONCE);
    }

    @AfterAll
    static void end() {
        threads.shutdownNow();
    }

    @TestFactory
    Stream<DynamicTest> no_faulty_unit_passes_and_no_good_one_fails() {
        List<DynamicTest> tests = new ArrayList<>();
        for (Optional<FaultKind> kind : Fleet.kinds()) {
            int wanted = kind.isEmpty() ? GOOD : FAULTY_OF_EACH_KIND;
            Future<Fleet> running = threads.submit(
                    () -> Fleet.check(kind, BASE, wanted, Files.createDirectories(folder.resolve(Fleet.name(kind)))));
            tests.add(DynamicTest.dynamicTest(Fleet.name(kind), () -> verdictsAreRight(running.get(), wanted)));
        }
        return tests.stream();
    }

    private static void verdictsAreRight(Fleet fleet, int wanted) {
        assertThat(fleet.that(fleet.meant())).hasSize(wanted);
        assertThat(fleet.escapes()).extracting(CheckedUnit::words).isEmpty();
        assertThat(fleet.falseRejects()).extracting(CheckedUnit::words).isEmpty();
    }
}
