package org.shiftstand.classification;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.shiftstand.sim.FaultKind;
import org.shiftstand.spec.Verdict;

/**
 * Units of one kind, drawn from seeds in a row and checked: with one fault, or good.
 *
 * @param kind empty for good units
 */
record Fleet(Optional<FaultKind> kind, List<CheckedUnit> units) {
    /** Seeds of a kind: so many from the kind's number on. */
    private static final long SEEDS_A_KIND = 100_000;

    /** Drawn at most so many times as many units as wanted: faults too mild to break the spec do not count as faulty. */
    private static final int MOST_DRAWS = 5;

    Fleet {
        units = List.copyOf(units);
    }

    /** Good units first, then every fault kind. */
    static List<Optional<FaultKind>> kinds() {
        return Stream.concat(
                        Stream.of(Optional.<FaultKind>empty()),
                        Stream.of(FaultKind.values()).map(Optional::of))
                .toList();
    }

    static String name(Optional<FaultKind> kind) {
        return kind.map(FaultKind::word).orElse("good");
    }

    String name() {
        return name(kind);
    }

    /** What these units were drawn as: what those that count are, by the truth. */
    Truth.State meant() {
        return kind.isEmpty() || damagesEvidenceOnly() ? Truth.State.GOOD : Truth.State.FAULTY;
    }

    /** The unit does all it should; what is wrong is what can be seen of it. */
    boolean damagesEvidenceOnly() {
        return kind.map(k -> k == FaultKind.SENSOR_DROPOUT || k == FaultKind.LOST_FRAMES)
                .orElse(false);
    }

    static long seed(long base, Optional<FaultKind> kind, int i) {
        return base + SEEDS_A_KIND * kind.map(k -> k.ordinal() + 1).orElse(0) + i;
    }

    static String rig(Optional<FaultKind> kind, long seed) {
        return kind.map(k -> FaultyUnit.rig(k, seed, new Demands(CheckedUnit.SPEC, CheckedUnit.PROFILE)))
                .orElseGet(() -> GoodUnit.rig(seed));
    }

    /**
     * Draws and checks until so many are what they were meant to be.
     *
     * @throws IllegalStateException where the draws do not give as many
     */
    static Fleet check(Optional<FaultKind> kind, long base, int wanted, Path folder) throws IOException {
        List<CheckedUnit> units = new ArrayList<>();
        for (int i = 1; ; i++) {
            Fleet fleet = new Fleet(kind, units);
            if (fleet.that(fleet.meant()).size() == wanted) {
                return fleet;
            }
            if (i > MOST_DRAWS * wanted + 20) {
                throw new IllegalStateException(fleet.name() + ": too few of " + i + " units are " + fleet.meant());
            }
            units.add(CheckedUnit.check(rig(kind, seed(base, kind, i)), folder));
        }
    }

    /** Those that really are of this state. */
    List<CheckedUnit> that(Truth.State state) {
        return units.stream().filter(u -> u.truth().state() == state).toList();
    }

    /** Faulty units that pass. */
    List<CheckedUnit> escapes() {
        return that(Truth.State.FAULTY).stream()
                .filter(u -> u.verdict() == Verdict.PASS)
                .toList();
    }

    /** Good units that fail, whatever they were drawn as. */
    List<CheckedUnit> falseRejects() {
        return that(Truth.State.GOOD).stream()
                .filter(u -> u.verdict() == Verdict.FAIL)
                .toList();
    }

    static long count(List<CheckedUnit> units, Verdict verdict) {
        return units.stream().filter(u -> u.verdict() == verdict).count();
    }

    String seeds(long base) {
        return String.format(Locale.ROOT, "%d to %d", seed(base, kind, 1), seed(base, kind, units.size()));
    }
}
