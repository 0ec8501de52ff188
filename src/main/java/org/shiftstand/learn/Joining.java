package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;

/**
 * Finds one numbering for several captures: some may show a part of the cassette only.
 *
 * <p>The capture that shows most sprockets comes first. Every other is laid along what is known so far in each way that
 * overlaps by three sprockets or more; the way with the least residual of its centres is taken where the next best is at
 * least three times worse and it fits within half the settle band and what its own landings leave open. Else the number of
 * its outermost sprocket is asked for.
 *
 * @param firsts number of the outermost sprocket of each input
 * @param told for each input a sentence that says how it was found
 */
record Joining(int[] firsts, String[] told, int sprockets) {
    private static final int LEAST_OVERLAP = 3;
    /** As in aligning to a profile: the runner-up must be so many times worse. */
    private static final double CLEAR = 3;

    static Joining of(List<LearningInput> inputs) {
        List<double[]> centres = inputs.stream().map(Joining::centres).toList();
        int n = inputs.size();
        int[] firsts = new int[n];
        String[] told = new String[n];
        if (inputs.stream().allMatch(input -> input.measured().profile().isPresent())) {
            Arrays.fill(firsts, 1);
            Arrays.fill(told, "by its profile");
            int most = centres.stream().mapToInt(c -> c.length).max().orElse(0);
            return new Joining(firsts, told, most);
        }
        List<Problem> problems = new ArrayList<>();
        TreeMap<Integer, Double> known = new TreeMap<>();
        Arrays.fill(firsts, Integer.MIN_VALUE);
        for (int i = 0; i < n; i++) {
            if (fixed(inputs.get(i))) {
                firsts[i] = inputs.get(i).firstSprocket().orElse(1);
                told[i] = inputs.get(i).firstSprocket().isPresent() ? "as the user said" : "by its profile";
                add(known, centres.get(i), firsts[i]);
            }
        }
        List<Integer> order = order(centres);
        if (known.isEmpty()) {
            int start = order.get(0);
            firsts[start] = 1;
            told[start] = "its outermost sprocket is 1: it shows the most sprockets";
            add(known, centres.get(start), 1);
        }
        for (int i : order) {
            if (firsts[i] == Integer.MIN_VALUE) {
                place(inputs.get(i), i, centres.get(i), known, firsts, told, problems);
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return numbered(centres, firsts, told, inputs);
    }

    /** The outermost of all is 1 unless the user gave numbers. */
    private static Joining numbered(List<double[]> centres, int[] firsts, String[] told, List<LearningInput> inputs) {
        int least = Arrays.stream(firsts).min().orElse(1);
        boolean said = inputs.stream().anyMatch(Joining::fixed);
        int lift = said ? Math.max(0, 1 - least) : 1 - least;
        int most = 0;
        for (int i = 0; i < firsts.length; i++) {
            firsts[i] += lift;
            most = Math.max(most, firsts[i] + centres.get(i).length - 1);
        }
        return new Joining(firsts, told, most);
    }

    private static boolean fixed(LearningInput input) {
        return input.firstSprocket().isPresent() || input.measured().profile().isPresent();
    }

    private static List<Integer> order(List<double[]> centres) {
        List<Integer> order = new ArrayList<>();
        for (int i = 0; i < centres.size(); i++) {
            order.add(i);
        }
        order.sort(
                (a, b) -> Integer.compare(centres.get(b).length, centres.get(a).length)); // stable: first given first
        return order;
    }

    private static void place(
            LearningInput input,
            int i,
            double[] own,
            TreeMap<Integer, Double> known,
            int[] firsts,
            String[] told,
            List<Problem> problems) {
        double best = Double.POSITIVE_INFINITY;
        double next = Double.POSITIVE_INFINITY;
        int at = 0;
        int low = known.firstKey() - own.length + 1;
        for (int first = low; first <= known.lastKey(); first++) {
            double residual = residual(own, first, known);
            if (residual < best) {
                next = best;
                best = residual;
                at = first;
            } else if (residual < next) {
                next = residual;
            }
        }
        double fits = input.measured().table().bandDeg() / 2
                + 1.5 * input.measured().table().bandDeg();
        if (!(best <= fits) || next < CLEAR * best) {
            problems.add(new Problem(
                    input.name(),
                    0,
                    0,
                    own.length < LEAST_OVERLAP
                            ? "shows " + own.length + " sprockets; three that another capture shows as well would tell"
                                    + " which ones. Say it with --starts-at " + input.name() + "=K."
                            : "does not tell which sprockets it shows: the positions of its " + own.length
                                    + " sprockets fit the other captures in no way clearly better than in another (least"
                                    + " residual " + shown(best) + " deg, next " + shown(next)
                                    + " deg). Say it with --starts-at " + input.name() + "=K."));
            return;
        }
        firsts[i] = at;
        told[i] = "by its positions: residual " + shown(best) + " deg"
                + (Double.isInfinite(next) ? "" : ", next best " + shown(next) + " deg");
        add(known, own, at);
    }

    private static String shown(double deg) {
        return Double.isInfinite(deg) ? "-" : String.format(java.util.Locale.ROOT, "%.1f", deg);
    }

    /** Root mean square of what is left of the overlap after one offset; infinite where it is too short. */
    private static double residual(double[] own, int first, Map<Integer, Double> known) {
        List<Double> off = new ArrayList<>();
        for (int k = 0; k < own.length; k++) {
            Double other = known.get(first + k);
            if (other != null && !Double.isNaN(own[k])) {
                off.add(own[k] - other);
            }
        }
        if (off.size() < LEAST_OVERLAP) {
            return Double.POSITIVE_INFINITY;
        }
        double mean = off.stream().mapToDouble(d -> d).average().orElse(0);
        double squares = off.stream().mapToDouble(d -> (d - mean) * (d - mean)).sum();
        return Math.sqrt(squares / (off.size() - 1));
    }

    private static void add(TreeMap<Integer, Double> known, double[] own, int first) {
        double sum = 0;
        int n = 0;
        for (int k = 0; k < own.length; k++) {
            Double other = known.get(first + k);
            if (other != null && !Double.isNaN(own[k])) {
                sum += other - own[k];
                n++;
            }
        }
        double offset = n == 0 ? 0 : sum / n;
        for (int k = 0; k < own.length; k++) {
            if (!Double.isNaN(own[k])) {
                known.putIfAbsent(first + k, own[k] + offset);
            }
        }
    }

    /** Of each sprocket of its own numbering the mean of the two directions' mean landings, else where it was left. */
    static double[] centres(LearningInput input) {
        int n = input.measured().table().sprockets();
        double[] centres = new double[n];
        List<Shift> shifts = input.measured().table().shifts().stream()
                .filter(s -> s.cycle() > 0 && s.outcome() == Outcome.LANDED && s.from() != s.to())
                .toList();
        for (int k = 1; k <= n; k++) {
            int sprocket = k;
            double[] both = {
                mean(shifts, s -> s.to() == sprocket && s.direction() == Direction.INBOARD, Measure.LANDING),
                mean(shifts, s -> s.to() == sprocket && s.direction() == Direction.OUTBOARD, Measure.LANDING)
            };
            double landed =
                    Arrays.stream(both).filter(v -> !Double.isNaN(v)).average().orElse(Double.NaN);
            centres[k - 1] = Double.isNaN(landed) ? mean(shifts, s -> s.from() == sprocket, Measure.START) : landed;
        }
        return centres;
    }

    private static double mean(List<Shift> shifts, java.util.function.Predicate<Shift> which, Measure measure) {
        return shifts.stream()
                .filter(s -> !SeenShift.heldBack(s) && which.test(s))
                .map(s -> s.get(measure).number())
                .filter(java.util.OptionalDouble::isPresent)
                .mapToDouble(java.util.OptionalDouble::getAsDouble)
                .average()
                .orElse(Double.NaN);
    }
}
