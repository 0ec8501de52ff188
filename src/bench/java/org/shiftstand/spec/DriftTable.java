package org.shiftstand.spec;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.LongStream;
import org.shiftstand.stats.Holm;
import org.shiftstand.stats.MannKendall;

/**
 * How often a unit without drift is blamed, and how often a drift is found: prints the tables of {@code src/bench/DRIFT.md}.
 *
 * <p>Runs of forty groups with seeds 1 to {@code RUNS}, for drifts to a quarter of it; a seed gives the same run on every machine.
 */
public final class DriftTable {
    private static final int[] CYCLES = {20, 50, 100, 200, 500};
    private static final double[] CHANGES = {0.5, 1, 1.5, 2, 3};

    private final int runs;

    private DriftTable(int runs) {
        this.runs = runs;
    }

    /** {@code RUNS}. */
    public static void main(String[] args) {
        DriftTable table = new DriftTable(Integer.parseInt(args[0]));
        table.falseAlarms();
        table.eachAlone();
        System.out.println("\n## Power\n");
        System.out.println(
                "Share of runs in which a group that drifts is found, by the size of the drift over the whole run in standard");
        System.out.println(
                "deviations of one value: landings of a usual unit have an sd of about 10 deg, so that 2 sd are 20 deg.");
        table.power("a straight drift of one group", NoisyRun::line, 1);
        table.power("a straight drift of all 18 pairs of one measure", NoisyRun::line, 18);
        table.power("a step of one group half way", NoisyRun::step, 1);
    }

    private void falseAlarms() {
        System.out.println("| values | cycles | trend or step | trend | step | weighted means | cumulative sums |");
        System.out.println("|---|---:|---:|---:|---:|---:|---:|");
        for (NoisyRun.Noise noise : NoisyRun.Noise.values()) {
            for (int cycles : CYCLES) {
                int[] any = new int[5];
                LongStream.rangeClosed(1, runs).parallel().forEach(seed -> {
                    List<TestedGroup> groups = new NoisyRun(seed, cycles).looked(noise, NoisyRun.LEVEL, 0);
                    boolean[] seen = {
                        groups.stream().anyMatch(TestedGroup::significant),
                        groups.stream().anyMatch(g -> g.trendP() <= DriftAnalysis.ALPHA),
                        groups.stream().anyMatch(g -> g.changeP() <= DriftAnalysis.ALPHA),
                        groups.stream().anyMatch(g -> g.weightedSignal().isPresent()),
                        groups.stream().anyMatch(g -> g.sumSignal().isPresent())
                    };
                    synchronized (any) {
                        for (int i = 0; i < any.length; i++) {
                            any[i] += seen[i] ? 1 : 0;
                        }
                    }
                });
                StringBuilder row = new StringBuilder("| " + noise.words() + " | " + cycles + " |");
                for (int count : any) {
                    row.append(' ').append(share(count, runs)).append(" |");
                }
                System.out.println(row);
            }
        }
    }

    /** The published correction, each group by itself: what the groups taken together are compared with. */
    private void eachAlone() {
        int each = Math.max(1, runs / 4);
        System.out.println("\nTrend by Hamed and Rao (1998), each group corrected by itself, for comparison; " + each
                + " runs a row:\n");
        System.out.println("| values | cycles | trend |");
        System.out.println("|---|---:|---:|");
        for (int cycles : new int[] {20, 50, 100}) {
            long blamed = LongStream.rangeClosed(1, each)
                    .parallel()
                    .filter(seed -> {
                        double[] p = new NoisyRun(seed, cycles)
                                .looked(NoisyRun.Noise.FOLLOWING, NoisyRun.LEVEL, 0).stream()
                                        .mapToDouble(group -> MannKendall.hamedRao(
                                                        group.series().values())
                                                .p())
                                        .toArray();
                        return Arrays.stream(Holm.adjusted(p)).min().orElse(1) <= DriftAnalysis.ALPHA;
                    })
                    .count();
            System.out.println(
                    "| " + NoisyRun.Noise.FOLLOWING.words() + " | " + cycles + " | " + share(blamed, each) + " |");
        }
    }

    private interface Courses {
        NoisyRun.Course of(double change);
    }

    private void power(String what, Courses courses, int drifting) {
        int each = Math.max(1, runs / 4);
        System.out.println("\n" + Character.toUpperCase(what.charAt(0)) + what.substring(1) + ":\n");
        System.out.println("| values | cycles | 0.5 sd | 1 sd | 1.5 sd | 2 sd | 3 sd |");
        System.out.println("|---|---:|---:|---:|---:|---:|---:|");
        for (NoisyRun.Noise noise : List.of(NoisyRun.Noise.WHITE, NoisyRun.Noise.FOLLOWING)) {
            for (int cycles : CYCLES) {
                StringBuilder row = new StringBuilder("| " + noise.words() + " | " + cycles + " |");
                for (double change : CHANGES) {
                    long found = LongStream.rangeClosed(1, each)
                            .parallel()
                            .filter(seed -> new NoisyRun(seed, cycles)
                                    .looked(noise, courses.of(change), drifting).stream()
                                            .limit(drifting)
                                            .anyMatch(TestedGroup::significant))
                            .count();
                    row.append(' ').append(share(found, each)).append(" |");
                }
                System.out.println(row);
            }
        }
    }

    private static String share(long count, int of) {
        return String.format(Locale.ROOT, "%.1f %%", 100.0 * count / of);
    }
}
