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
 * <p>The capture that shows most sprockets comes first. Every other is laid along what is known so far in each way; how much
 * likelier its distances are from the same sprockets (normal, half the settle band, which leaves room for reversal) than from
 * others (normal, as uneven as the pitches are) is weighed over all ways, also those without an overlap, each as likely
 * beforehand. A way that is surer than the confidence is taken; else the number of its outermost sprocket is asked for.
 *
 * @param firsts number of the outermost sprocket of each input
 * @param told for each input a sentence that says how it was found
 */
record Joining(int[] firsts, String[] told, int sprockets) {
    static Joining of(List<LearningInput> inputs, double confidence) {
        List<double[]> centres = inputs.stream().map(Joining::centres).toList();
        int n = inputs.size();
        int[] firsts = new int[n];
        String[] told = new String[n];
        if (inputs.stream().allMatch(Joining::numberedItself)) {
            Arrays.fill(firsts, 1);
            Arrays.fill(told, "by its profile or its script");
            int most = centres.stream().mapToInt(c -> c.length).max().orElse(0);
            return new Joining(firsts, told, most);
        }
        List<Problem> problems = new ArrayList<>();
        TreeMap<Integer, Double> known = new TreeMap<>();
        Arrays.fill(firsts, Integer.MIN_VALUE);
        for (int i = 0; i < n; i++) {
            if (fixed(inputs.get(i))) {
                firsts[i] = inputs.get(i).firstSprocket().orElse(1);
                told[i] =
                        inputs.get(i).firstSprocket().isPresent() ? "as the user said" : "by its profile or its script";
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
                place(inputs.get(i), i, centres.get(i), known, firsts, told, confidence, problems);
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
        return input.firstSprocket().isPresent() || numberedItself(input);
    }

    /** A script or a profile has told which sprockets are meant. */
    private static boolean numberedItself(LearningInput input) {
        return input.measured().profile().isPresent()
                || input.measured().track().requests().stream()
                        .anyMatch(request -> request.to().isPresent());
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
            double confidence,
            List<Problem> problems) {
        double same = input.measured().table().bandDeg() / 2;
        double unlike = Math.max(2 * same, unevenness(known, own));
        double all = 0;
        double best = Double.NEGATIVE_INFINITY;
        int at = 0;
        for (int first = known.firstKey() - own.length + 1; first <= known.lastKey(); first++) {
            double gain = gain(own, first, known, same, unlike);
            all += Math.exp(gain);
            if (gain > best) {
                best = gain;
                at = first;
            }
        }
        double sure = Math.exp(best) / all;
        if (best <= 0 || sure < confidence) {
            problems.add(new Problem(
                    input.name(),
                    0,
                    0,
                    "does not tell which sprockets it shows: by the positions of its " + seen(own)
                            + " the likeliest place among the other captures is "
                            + (best <= 0
                                    ? "no better than any other"
                                    : percent(sure) + " sure, and " + percent(confidence) + " is wanted")
                            + "; four or five sprockets in common usually do. Say the number of its outermost sprocket"
                            + " with --starts-at " + input.name() + "=K."));
            return;
        }
        firsts[i] = at;
        told[i] = "by its positions, " + percent(sure) + " sure";
        add(known, own, at);
    }

    private static String seen(double[] own) {
        long n = Arrays.stream(own).filter(v -> !Double.isNaN(v)).count();
        return n + (n == 1 ? " sprocket" : " sprockets");
    }

    private static String percent(double share) {
        return String.format(
                java.util.Locale.ROOT, share > 0.995 ? "over %.0f %%" : "%.0f %%", share > 0.995 ? 99 : share * 100);
    }

    /** How much the distances between places that belong to different sprockets differ: sd of pitches times √2. */
    private static double unevenness(TreeMap<Integer, Double> known, double[] own) {
        List<Double> pitches = new ArrayList<>();
        for (int k : known.keySet()) {
            Double next = known.get(k + 1);
            if (next != null) {
                pitches.add(next - known.getOrDefault(k, Double.NaN));
            }
        }
        for (int k = 1; k < own.length; k++) {
            if (!Double.isNaN(own[k] - own[k - 1])) {
                pitches.add(own[k] - own[k - 1]);
            }
        }
        double mean = pitches.stream().mapToDouble(p -> p).average().orElse(0);
        double squares =
                pitches.stream().mapToDouble(p -> (p - mean) * (p - mean)).sum();
        return Math.sqrt(2 * squares / Math.max(1, pitches.size() - 1));
    }

    /** Logarithm of how much likelier what is left of the overlap is from the same sprockets than from others; 0 without one. */
    private static double gain(double[] own, int first, Map<Integer, Double> known, double same, double unlike) {
        List<Double> off = new ArrayList<>();
        for (int k = 0; k < own.length; k++) {
            Double other = known.get(first + k);
            if (other != null && !Double.isNaN(own[k])) {
                off.add(own[k] - other);
            }
        }
        if (off.size() < 2) {
            return 0;
        }
        double mean = off.stream().mapToDouble(d -> d).average().orElse(0);
        double squares = off.stream().mapToDouble(d -> (d - mean) * (d - mean)).sum();
        return (off.size() - 1) * Math.log(unlike / same) - squares / 2 * (1 / (same * same) - 1 / (unlike * unlike));
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
