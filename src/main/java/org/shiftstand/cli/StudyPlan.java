package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.bench.GaugeValue;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.shift.Measure;
import org.shiftstand.sim.FaultKind;
import org.shiftstand.sim.SimFault;
import org.shiftstand.sim.SimOptions;

/**
 * A gauge study that is to be run: every unit in every mount, sweeps of the whole cassette and back for each repeat.
 *
 * @param units ids, as they take turns within a mount
 * @param sweeps of one repeat; its value is the mean over all of them
 * @param pair only shifts from the first to the second of these sprockets; empty for all
 */
record StudyPlan(Measure measure, List<String> units, int mounts, int repeats, int sweeps, Optional<Pair> pair) {
    private static final int MOST = 100;

    /** Angles are aligned to the profile: what all sprockets have in common is not measured. */
    private static final Set<Measure> PLACES =
            Set.of(Measure.LANDING, Measure.LANDING_ERROR, Measure.EXTREME, Measure.CLEARANCE);

    private static final Pattern PAIR = Pattern.compile("([0-9]{1,3})-([0-9]{1,3})");

    /** Two neighbouring sprockets in the order of the shift. */
    record Pair(int from, int to) {
        boolean in(int sprockets) {
            return Math.min(from, to) >= 1 && Math.max(from, to) <= sprockets && Math.abs(from - to) == 1;
        }

        static Optional<Pair> parse(String text) {
            Matcher m = PAIR.matcher(text);
            return m.matches()
                    ? Optional.of(new Pair(Integer.parseInt(m.group(1)), Integer.parseInt(m.group(2))))
                    : Optional.empty();
        }
    }

    /** One unit in one mount. */
    record Mounting(String unit, int mount, int number, int of) {}

    StudyPlan {
        units = List.copyOf(units);
    }

    /** What keeps it from being a study; empty where nothing does. */
    List<Problem> problems() {
        var problems = new ArrayList<Problem>();
        long different = units.stream().distinct().count();
        if (units.size() < 2 || units.size() > MOST) {
            problems.add(new Problem(
                    "--units",
                    0,
                    0,
                    "names "
                            + (units.isEmpty()
                                    ? "no unit"
                                    : units.size() == 1 ? "one unit only" : units.size() + " units")
                            + "; expected 2 to " + MOST + ", 10 by common practice, such as TD-0101,TD-0102"));
        }
        if (different < units.size()) {
            problems.add(new Problem("--units", 0, 0, "names a unit twice; expected each once"));
        }
        count(problems, "--mounts", mounts, "the spread of mounting anew");
        count(problems, "--repeats", repeats, "the rig's own spread");
        if (sweeps < 1 || sweeps > MOST) {
            problems.add(new Problem("--sweeps " + sweeps, 0, 0, "is out of range; expected 1 to " + MOST));
        }
        if (pair.isEmpty() && PLACES.contains(measure)) {
            problems.add(new Problem(
                    "--pair",
                    0,
                    0,
                    "is missing; expected one pair of sprockets such as 3-4: angles are aligned to the profile, so that"
                            + " over a whole sweep next to nothing of a unit's or a mount's " + measure.key()
                            + " is left"));
        }
        return problems;
    }

    private static void count(List<Problem> problems, String option, int count, String tells) {
        if (count < 2 || count > MOST) {
            problems.add(new Problem(
                    option + " " + count,
                    0,
                    0,
                    "is outside 2 to " + MOST + "; expected 2 or more, since nothing else tells " + tells
                            + ", 3 by common practice"));
        }
    }

    /** All units once, then all of them once more: a unit comes off between two of its mounts. */
    List<Mounting> mountings() {
        var all = new ArrayList<Mounting>();
        for (int mount = 1; mount <= mounts; mount++) {
            for (String unit : units) {
                all.add(new Mounting(unit, mount, all.size() + 1, mounts * units.size()));
            }
        }
        return all;
    }

    /** Whether these values hold all repeats of a mounting. */
    boolean done(List<GaugeValue> values, Mounting mounting) {
        return values.stream()
                        .filter(v ->
                                v.unit().equals(mounting.unit()) && v.mount().equals(String.valueOf(mounting.mount())))
                        .count()
                >= repeats;
    }

    /** A sweep and back for each repeat, as the bundled procedures make them. */
    TextFile procedure() {
        return TextFile.of(
                "gauge-study",
                "procedure: gauge-study\nversion: 1\nsample-rate: 512 Hz\nsteps:\n  - supply: 8.2 V\n  - home: {}\n"
                        + "  - sweep: { from: 1, to: last, and-back: true, times: " + repeats * sweeps
                        + ", rest: 350 ms }\n"
                        + "stop-when: { outcome: [stalled], current-above: 9 A for 20 ms }\n");
    }

    /** What is said before a mounting. */
    static String request(Mounting m) {
        return String.format(
                Locale.ROOT,
                "Mounting %d of %d: clamp unit %s into the rig, mount %d, anew even where it is in already. The supply is"
                        + " off.",
                m.number(),
                m.of(),
                m.unit(),
                m.mount());
    }

    /** What a simulated unit does to this measure where it differs from others; empty where it cannot differ. */
    Optional<FaultKind> differing() {
        return PLACES.contains(measure)
                ? Optional.of(FaultKind.BIAS)
                : measure == Measure.OVERTRAVEL ? Optional.of(FaultKind.OVERTRAVEL_LONG) : Optional.empty();
    }

    /**
     * How a simulated unit behaves in a mount: a place of its own, another one for each mount of it, and noise of its own.
     *
     * @param unitSdDeg standard deviation of the units' places, degrees
     * @param mountSdDeg standard deviation of what a mounting adds, degrees
     */
    SimOptions simulated(SimOptions given, Mounting m, double unitSdDeg, double mountSdDeg) {
        int unit = units.indexOf(m.unit());
        double offset = unitSdDeg * drawn(given.seed(), unit, 0) + mountSdDeg * drawn(given.seed(), unit, m.mount());
        List<SimFault> faults = new ArrayList<>(given.faults());
        differing()
                .map(kind -> SimFault.of(kind).withAmount(offset))
                .map(fault -> pair.map(p -> fault.withPair(p.from(), p.to())).orElse(fault))
                .ifPresent(faults::add);
        return given.withFaults(faults)
                .withSeed(generator(given.seed(), unit, m.mount()).nextLong());
    }

    private static double drawn(long seed, int unit, int mount) {
        return generator(seed, unit, mount).nextGaussian();
    }

    private static RandomGenerator generator(long seed, int unit, int mount) {
        return RandomGeneratorFactory.of("L64X128MixRandom")
                .create((seed * 1_000_003 + unit) * 1_000_003 + mount); // one stream for each place in the plan
    }
}
