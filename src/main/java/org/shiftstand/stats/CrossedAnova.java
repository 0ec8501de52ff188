package org.shiftstand.stats;

/**
 * Two-way crossed analysis of variance of a gauge study, all effects random (AIAG Measurement Systems Analysis).
 *
 * @param unit between units
 * @param mount between mounts
 * @param interaction of unit and mount
 * @param error within cells
 * @param units how many, with {@code mounts} and {@code repeats}
 */
public record CrossedAnova(Line unit, Line mount, Line interaction, Line error, int units, int mounts, int repeats) {
    /** An interaction less sure than this is pooled with the error (convention of the source). */
    public static final double POOLING_ALPHA = 0.25;

    /**
     * One line of the table.
     *
     * @param squares sum of squares
     * @param freedom degrees of freedom, above 0
     */
    public record Line(double squares, int freedom) {
        /** Mean square. */
        public double mean() {
            return squares / freedom;
        }

        Line pooled(Line other) {
            return new Line(squares + other.squares, freedom + other.freedom);
        }
    }

    /** Analyses; every sum of squares from deviations, none as a difference of large sums. */
    public static CrossedAnova of(CrossedStudy study) {
        int p = study.units();
        int o = study.mounts();
        int r = study.repeats();
        double mean = study.mean();
        double unit = 0;
        double mount = 0;
        double interaction = 0;
        double error = 0;
        for (int j = 0; j < o; j++) {
            mount += square(study.mountMean(j) - mean);
        }
        for (int i = 0; i < p; i++) {
            unit += square(study.unitMean(i) - mean);
            for (int j = 0; j < o; j++) {
                double cell = study.cellMean(i, j);
                interaction += square(cell - study.unitMean(i) - study.mountMean(j) + mean);
                for (int k = 0; k < r; k++) {
                    error += square(study.value(i, j, k) - cell);
                }
            }
        }
        return new CrossedAnova(
                new Line(unit * o * r, p - 1),
                new Line(mount * p * r, o - 1),
                new Line(interaction * r, (p - 1) * (o - 1)),
                new Line(error, p * o * (r - 1)),
                p,
                o,
                r);
    }

    /** Sum of all squares. */
    public double totalSquares() {
        return unit.squares() + mount.squares() + interaction.squares() + error.squares();
    }

    /** F of the interaction against the error; 0 where both are none. */
    public double interactionF() {
        return ratio(interaction, error);
    }

    /** F of the units against the interaction. */
    public double unitF() {
        return ratio(unit, interaction);
    }

    /** F of the mounts against the interaction. */
    public double mountF() {
        return ratio(mount, interaction);
    }

    /** How likely an interaction at least as large would be if there was none. */
    public double interactionP() {
        return VarianceRatio.pValue(interactionF(), interaction.freedom(), error.freedom());
    }

    /** Whether the convention pools the interaction: its p is above {@link #POOLING_ALPHA}. */
    public boolean pools() {
        return interactionP() > POOLING_ALPHA;
    }

    /** By the convention: pooled, or with the interaction told apart. */
    public GaugeVariation variation() {
        return pools() ? pooled() : withInteraction();
    }

    /** The interaction told apart. */
    public GaugeVariation withInteraction() {
        return GaugeVariation.ofVariances(
                error.mean(),
                (mount.mean() - interaction.mean()) / (units * repeats),
                (interaction.mean() - error.mean()) / repeats,
                (unit.mean() - interaction.mean()) / (mounts * repeats));
    }

    /** The interaction taken into the error. */
    public GaugeVariation pooled() {
        double within = pooledError().mean();
        return GaugeVariation.ofVariances(
                within, (mount.mean() - within) / (units * repeats), 0, (unit.mean() - within) / (mounts * repeats));
    }

    /** Error and interaction in one line. */
    public Line pooledError() {
        return error.pooled(interaction);
    }

    private static double ratio(Line above, Line below) {
        if (below.squares() == 0) {
            return above.squares() == 0 ? 0 : Double.POSITIVE_INFINITY;
        }
        return above.mean() / below.mean();
    }

    private static double square(double x) {
        return x * x;
    }
}
