package org.shiftstand.stats;

import java.util.Arrays;
import java.util.Comparator;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/**
 * The slopes of all pairs of points with unlike abscissas, in ascending order; any of them by its rank.
 *
 * <p>Up to {@value #LISTED} points they are listed, and a rank is found by parting the list: exact. Beyond, where the list
 * would not fit, two slopes are sought that hold the wanted one between them and few others: first those that a sample of
 * the pairs suggests, then ever nearer ones, each step counting the pairs below in n log n; then those between are listed
 * ({@link SlopesBetween}) and parted. Level ones are counted exactly, and apart: quantised values have millions of them. Those
 * about the median are kept, since its interval is asked for next. A rank may be off by pairs that rounding cannot tell from the two slopes, by about a
 * unit in the last place of slope × span of the abscissas, over the distance of the nearest ones.
 */
final class PairSlopes {
    static final int LISTED = 1000;

    /** Beyond {@link #LISTED}: so many slopes are looked at to guess where a rank lies. */
    private static final int SAMPLED = 1024;

    /** … and so many between two slopes are listed; a megabyte. */
    private static final int FEW = 131_072;

    private final double[] x;
    private final double[] y;
    private final long count;
    /** How many fall, and how many are level; beyond {@link #LISTED}. */
    private final long falling;

    private final long level;
    private final double[] listed;
    private final double[] sampled;
    private final Few aboutMedian;

    PairSlopes(double[] x, double[] y) {
        int[] order = IntStream.range(0, x.length)
                .boxed()
                .sorted(Comparator.<Integer>comparingDouble(i -> x[i]).thenComparingDouble(i -> y[i]))
                .mapToInt(Integer::intValue)
                .toArray();
        this.x = Arrays.stream(order).mapToDouble(i -> x[i]).toArray();
        this.y = Arrays.stream(order).mapToDouble(i -> y[i]).toArray();
        int n = x.length;
        this.count = n * (n - 1L) / 2
                - Arrays.stream(Ordered.ties(x))
                        .mapToLong(t -> t * (t - 1L) / 2)
                        .sum();
        this.listed = n <= LISTED ? list() : new double[0];
        boolean searched = n > LISTED && count > 0;
        this.falling = searched ? Ordered.rising(negated()) : 0;
        this.level = searched ? upTo(0) - falling : 0;
        this.sampled = searched ? sample() : new double[0];
        this.aboutMedian = searched ? few((count + 1) / 2) : new Few(0, 0, new double[0]);
    }

    /** How many there are. */
    long count() {
        return count;
    }

    /**
     * The slope of this rank.
     *
     * @param rank 1…count
     */
    double at(long rank) {
        return x.length <= LISTED ? Parted.at(listed, Math.toIntExact(rank - 1)) : search(rank);
    }

    double median() {
        return (count & 1) == 1 ? at(count / 2 + 1) : (at(count / 2) + at(count / 2 + 1)) / 2;
    }

    private double[] list() {
        double[] slopes = new double[Math.toIntExact(count)];
        int k = 0;
        for (int i = 0; i < x.length; i++) {
            for (int j = i + 1; j < x.length; j++) {
                if (x[j] > x[i]) {
                    slopes[k++] = (y[j] - y[i]) / (x[j] - x[i]);
                }
            }
        }
        return slopes;
    }

    /** Slopes of pairs drawn evenly, in ascending order; the same for the same points. */
    private double[] sample() {
        SplittableRandom random = new SplittableRandom(x.length);
        double[] drawn = new double[SAMPLED];
        int k = 0;
        while (k < drawn.length) {
            int i = random.nextInt(x.length);
            int j = random.nextInt(x.length);
            if (x[i] != x[j]) {
                drawn[k++] = (y[j] - y[i]) / (x[j] - x[i]);
            }
        }
        Arrays.sort(drawn);
        return drawn;
    }

    private double search(long rank) {
        return (aboutMedian.holds(rank) ? aboutMedian : few(rank)).at(rank);
    }

    private Few few(long rank) {
        if (rank > falling && rank <= falling + level) {
            return new Few(falling, falling + level, new double[] {0});
        }
        Between between = guess(rank);
        for (int step = 0; between.slopes() > FEW && between.canPart(); step++) {
            between = between.parted(between.probe(rank, step), rank);
        }
        double[] slopes = between.slopes() > FEW ? new double[0] : SlopesBetween.list(x, y, between.low, between.high);
        // none: all of them are the one number that is left
        return new Few(between.below, between.upTo, slopes.length == 0 ? new double[] {between.high} : slopes);
    }

    /**
     * Slopes of some neighbouring ranks.
     *
     * @param below how many slopes lie below them
     * @param upTo how many lie below and among them
     */
    private record Few(long below, long upTo, double[] slopes) {
        private boolean holds(long rank) {
            return rank > below && rank <= upTo;
        }

        private double at(long rank) {
            return Parted.at(slopes, (int) Math.min(rank - below - 1, slopes.length - 1));
        }
    }

    /** Two slopes that the sample puts about the rank, wide enough to hold it nearly always. */
    private Between guess(long rank) {
        double share = (double) rank / count;
        double place = share * SAMPLED;
        double room = 3 * Math.sqrt(SAMPLED * share * (1 - share)) + 2;
        int from = (int) Math.floor(place - room);
        int to = (int) Math.ceil(place + room);
        double steepest = steepest();
        Between all = rank <= falling
                ? new Between(-steepest, 0, 0, falling)
                : new Between(0, falling + level, steepest, count);
        Between above = from < 0 ? all : all.parted(sampled[from], rank);
        return to >= SAMPLED ? above : above.parted(sampled[to], rank);
    }

    /** The slopes above {@code low}, up to {@code high}; {@code below} and {@code upTo} of all are not above them. */
    private final class Between {
        private final double low;
        private final long below;
        private final double high;
        private final long upTo;

        private Between(double low, long below, double high, long upTo) {
            this.low = low;
            this.below = below;
            this.high = high;
            this.upTo = upTo;
        }

        private long slopes() {
            return upTo - below;
        }

        /** Whether a number lies between the two. */
        private boolean canPart() {
            return key(high) - 1 > key(low);
        }

        /** The half about the rank; this itself where the number is not inside. */
        private Between parted(double at, long rank) {
            if (!(at > low && at < high)) {
                return this;
            }
            // so near 0 that rounding cannot tell level ones from it: they are counted apart
            long to = Math.min(upTo, Math.max(below, PairSlopes.this.upTo(at)));
            return to >= rank ? new Between(low, below, at, to) : new Between(at, to, high, upTo);
        }

        /**
         * A number inside: near the wanted one, in turns beyond it on either side, so that both ends come in; every third
         * time half way, which ends the search however the slopes lie.
         */
        private double probe(long rank, int step) {
            double share = (rank - below) / (double) slopes() + (step % 3 == 0 ? 1 / 16.0 : -1 / 16.0);
            double at = low + Math.max(0, Math.min(1, share)) * (high - low);
            return step % 3 < 2 && at > low && at < high ? at : middle();
        }

        /** Half way in the order of the numbers. */
        private double middle() {
            long from = key(low);
            long to = key(high);
            return number(Math.floorDiv(from, 2) + Math.floorDiv(to, 2) + (from & to & 1));
        }
    }

    private double[] negated() {
        return Arrays.stream(y).map(v -> -v).toArray();
    }

    /** No slope is steeper. */
    private double steepest() {
        double nearest = Double.MAX_VALUE;
        for (int i = 1; i < x.length; i++) {
            nearest = x[i] > x[i - 1] ? Math.min(nearest, x[i] - x[i - 1]) : nearest;
        }
        double range = Arrays.stream(y).max().orElse(0) - Arrays.stream(y).min().orElse(0);
        return 2 * range / nearest;
    }

    /** How many slopes do not exceed b: pairs whose ordinates, less b times the abscissa, do not rise. */
    private long upTo(double b) {
        long unlike = x.length * (x.length - 1L) / 2;
        return unlike - Ordered.rising(SlopesBetween.levels(x, y, b)) - alike();
    }

    /** Pairs of points that are the same point: neither rising nor a slope. */
    private long alike() {
        long same = 0;
        int begin = 0;
        for (int i = 1; i <= x.length; i++) {
            if (i == x.length || x[i] != x[begin] || y[i] != y[begin]) {
                same += (i - begin) * (i - begin - 1L) / 2;
                begin = i;
            }
        }
        return same;
    }

    /** Whole numbers in the order of the doubles. */
    private static long key(double value) {
        long bits = Double.doubleToLongBits(value);
        return bits < 0 ? Long.MIN_VALUE - bits : bits;
    }

    private static double number(long key) {
        return Double.longBitsToDouble(key < 0 ? Long.MIN_VALUE - key : key);
    }
}
