package org.shiftstand.angle;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * Knots of motion by blocks of 10 minutes, and from them how the offsets of the pair drift over hours.
 *
 * <p>A block ends after its time when it has {@value #FEWEST_KNOTS} knots. At most {@value #MOST_BLOCKS} are kept: then
 * neighbours are joined and blocks are twice as long. Within a block ρ / R − 1 = g + Σ a_k cos kφ + b_k sin kφ is fitted,
 * k from 1 to {@value #ORDERS}: a_1 and b_1 are its offset over the radius, the others keep a pair that is no ellipse, or
 * whose gain drifts, from looking like an offset where a block goes round unevenly. Gain, phase and radius of the whole
 * record stay. A drift is believed when there are
 * {@value #FEWEST_BLOCKS} blocks that have knots all round the circle, an offset ranges over {@value #LEAST_RANGE} of the
 * radius (0.1 degrees), and the blocks vary {@value #LEAST_RATIO} times as much, in variance, as the scatter of their
 * knots explains.
 */
final class OffsetBlocks {
    static final double BLOCK_S = 600;
    static final int FEWEST_BLOCKS = 4;
    static final double LEAST_RANGE = 0.002;
    static final double LEAST_RATIO = 25;
    private static final int MOST_BLOCKS = 256;
    private static final int FEWEST_KNOTS = 240;
    private static final int KEPT_KNOTS = 512;
    private static final int ROUNDS = 3;
    private static final int ORDERS = 4;
    private static final int UNKNOWNS = 1 + 2 * ORDERS;
    private static final int OCTANTS = 8;
    /** Knots in an octant, at least: a twentieth of those in a block. */
    private static final int OF_OCTANT = 20;

    private static final double OUTLIER = 0.1;

    private final List<Block> blocks = new ArrayList<>();
    private double blockS = BLOCK_S;

    private static final class Block {
        private final ThinnedPairs pairs = new ThinnedPairs(KEPT_KNOTS);
        private final double fromS;
        private double sumS;
        private long knots;

        Block(double fromS) {
            this.fromS = fromS;
        }

        void join(Block later) {
            pairs.append(later.pairs);
            sumS += later.sumS;
            knots += later.knots;
        }
    }

    /** Offsets of one block, beyond those of the ellipse. */
    private record Offset(double timeS, double cos, double sin, double variance, long knots) {}

    void add(double timeS, double x, double y) {
        Block last = blocks.isEmpty() ? null : blocks.get(blocks.size() - 1);
        if (last == null || (timeS - last.fromS >= blockS && last.knots >= FEWEST_KNOTS)) {
            if (blocks.size() == MOST_BLOCKS) {
                joinNeighbours();
            }
            last = new Block(timeS);
            blocks.add(last);
        }
        last.pairs.add(x, y);
        last.sumS += timeS;
        last.knots++;
    }

    private void joinNeighbours() {
        for (int i = 0; i < MOST_BLOCKS / 2; i++) {
            blocks.get(i).join(blocks.get(i + 1));
            blocks.remove(i + 1);
        }
        blockS *= 2;
    }

    /** Empty where the record is short, or its offsets stay. */
    Optional<OffsetDrift> drift(Ellipse ellipse) {
        if (blocks.size() < FEWEST_BLOCKS) {
            return Optional.empty();
        }
        List<Offset> offsets =
                blocks.stream().flatMap(b -> offset(b, ellipse).stream()).toList();
        if (offsets.size() < FEWEST_BLOCKS) {
            return Optional.empty();
        }
        double all = offsets.stream().mapToLong(Offset::knots).sum();
        double cos = offsets.stream().mapToDouble(o -> o.knots() * o.cos()).sum() / all;
        double sin = offsets.stream().mapToDouble(o -> o.knots() * o.sin()).sum() / all;
        double misfit = 0;
        for (Offset o : offsets) {
            misfit += (square(o.cos() - cos) + square(o.sin() - sin)) / o.variance();
        }
        var drift = new OffsetDrift(
                offsets.stream()
                        .map(o -> new OffsetDrift.Centre(o.timeS(), o.cos() - cos, o.sin() - sin))
                        .toList(),
                Double.NaN,
                Double.NaN);
        boolean significant = misfit >= LEAST_RATIO * 2 * (offsets.size() - 1);
        return significant && drift.range() >= LEAST_RANGE * ellipse.radius() ? Optional.of(drift) : Optional.empty();
    }

    private static double square(double value) {
        return value * value;
    }

    private static Optional<Offset> offset(Block block, Ellipse ellipse) {
        if (block.knots < FEWEST_KNOTS) {
            return Optional.empty();
        }
        double cos = 0;
        double sin = 0;
        double variance = 0;
        for (int round = 0; round < ROUNDS; round++) {
            var equations = equations(block, ellipse, cos, sin);
            var solution = equations.flatMap(NormalEquations::solve);
            if (solution.isEmpty()) {
                return Optional.empty();
            }
            double[] v = solution.get().values();
            double ofCos = v[1] * ellipse.radius();
            cos += ofCos;
            sin += (v[2] * ellipse.radius() * Math.cos(ellipse.phaseRad()) - ofCos * Math.sin(ellipse.phaseRad()))
                    / ellipse.gainRatio();
            double ofRow = solution.get().squaresLeft() / (equations.get().rows() - UNKNOWNS);
            variance = ofRow
                    * Math.max(solution.get().variances()[1], solution.get().variances()[2]);
        }
        double ofCounts = variance * ellipse.radius() * ellipse.radius();
        return Optional.of(new Offset(block.sumS / block.knots, cos, sin, ofCounts, block.knots));
    }

    /** Empty where the knots do not go round the circle. */
    private static Optional<NormalEquations> equations(Block block, Ellipse ellipse, double cos, double sin) {
        var equations = new NormalEquations(UNKNOWNS);
        int[] octants = new int[OCTANTS];
        double[] row = new double[UNKNOWNS];
        for (int i = 0; i < block.pairs.size(); i++) {
            double x = block.pairs.cos[i] - cos;
            double y = block.pairs.sin[i] - sin;
            double radial = ellipse.radius(x, y) / ellipse.radius() - 1;
            if (Math.abs(radial) > OUTLIER) {
                continue;
            }
            double phi = ellipse.phi(x, y);
            octants[Math.floorMod((int) Math.floor(phi / (2 * Math.PI) * OCTANTS), OCTANTS)]++;
            row[0] = 1;
            for (int k = 1; k <= ORDERS; k++) {
                row[2 * k - 1] = Math.cos(k * phi);
                row[2 * k] = Math.sin(k * phi);
            }
            equations.add(row, radial);
        }
        int share = block.pairs.size() / OF_OCTANT;
        return Arrays.stream(octants).allMatch(n -> n >= share) ? Optional.of(equations) : Optional.empty();
    }
}
