package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.DoubleStream;
import org.shiftstand.quantity.Direction;

/**
 * Finds electrical turns, with the usual magnet whole turns, that were lost in damaged motions again: between two such motions all angles are right but for a
 * multiple of the angle of one, and the places where the shaft rests tell which.
 */
final class Turns {
    /** As far as stretches may be apart, degrees: 24 turns. */
    private static final double FARTHEST_DEG = 24 * 360;

    /** A stretch whose best and next best fit are closer than this ratio stays uncertain. */
    private static final double CLEAR = 2;
    /** Rests scatter: a fit better than this many b, times the root of their number, is as good as one can be. */
    private static final double SCATTER = 1;

    /**
     * Where no profile tells all sprockets, rests lie on average no more than this many b from those of others, or they are not at
     * the same; and fewer rests than these fit too often by chance.
     */
    private static final double NEAR = 0.5;

    private static final int LEAST_RESTS = 3;

    private Turns() {}

    /**
     * Adds whole turns to the shifts of each stretch so that they rest where those of the longest stretch rest, or, at
     * sprockets that it did not visit, where a profile laid over it has them.
     *
     * @param shifts those that the places are taken from
     * @param all those that turns are added to
     * @param nominal where a profile has its sprockets, degrees of the track, when laid over the shifts given; empty
     *     where it cannot be
     * @param cycleDeg one electrical turn, degrees of the shaft
     * @param reference the stretch that keeps its angles; empty takes the longest
     */
    static Anchored anchor(
            List<RawShift> shifts,
            List<RawShift> all,
            double bandDeg,
            double cycleDeg,
            Function<List<RawShift>, double[]> nominal,
            OptionalInt reference) {
        SortedMap<Integer, List<Centres.Place>> byStretch = rests(shifts);
        Set<Integer> undecided = new TreeSet<>();
        if (byStretch.size() < 2) {
            return new Anchored(undecided, new int[0]);
        }
        List<Integer> order = new ArrayList<>(byStretch.keySet());
        order.sort(Comparator.<Integer>comparingInt(k -> -listOf(byStretch, k).size())
                .thenComparingInt(k -> k));
        reference.ifPresent(first -> {
            if (order.remove((Integer) first)) {
                order.add(0, first);
            }
        });
        int longest = order.get(0);
        double[] expected = nominal.apply(shifts.stream()
                .filter(s -> s.startStretch == longest && s.landingStretch == longest)
                .toList());
        List<Centres.Place> anchored = new ArrayList<>(listOf(byStretch, longest));
        int[] turns = new int[byStretch.lastKey() + 1];
        for (int stretch : order.subList(1, order.size())) {
            List<Centres.Place> own = listOf(byStretch, stretch);
            OptionalInt fit = fit(own, anchored, expected, bandDeg, cycleDeg);
            if (fit.isEmpty()) {
                undecided.add(stretch);
                continue;
            }
            turns[stretch] = fit.getAsInt();
            own.forEach(p ->
                    anchored.add(new Centres.Place(p.deg() + cycleDeg * fit.getAsInt(), p.direction(), p.sprocket())));
        }
        apply(all, turns, cycleDeg);
        return new Anchored(undecided, turns);
    }

    /**
     * What was found.
     *
     * @param undecided stretches whose whole turns could not be told
     * @param turns added to each stretch; those behind the end have none
     */
    record Anchored(Set<Integer> undecided, int[] turns) {
        int of(int stretch) {
            return turnsOf(turns, stretch);
        }

        /** Whether there is an angle, but whole turns of it could not be told. */
        boolean unplaced(double deg, int stretch) {
            return !Double.isNaN(deg) && undecided.contains(stretch);
        }
    }

    /** Every rest that was seen, once, by the stretch it lies in. */
    private static SortedMap<Integer, List<Centres.Place>> rests(List<RawShift> shifts) {
        SortedMap<Integer, List<Centres.Place>> byStretch = new TreeMap<>();
        int landedIn = -1;
        int part = 0;
        for (RawShift s : shifts) {
            // behind a break it may have been found anywhere
            boolean restsAtPlace = s.part == part;
            part = s.part;
            if (restsAtPlace && !Double.isNaN(s.startDeg) && s.startStretch != landedIn) {
                byStretch
                        .computeIfAbsent(s.startStretch, k -> new ArrayList<>())
                        .add(new Centres.Place(s.startDeg, Direction.of(-s.motionSign), 0));
            }
            landedIn = -1;
            if (!Double.isNaN(s.landingDeg)) {
                byStretch
                        .computeIfAbsent(s.landingStretch, k -> new ArrayList<>())
                        .add(new Centres.Place(s.landingDeg, Direction.of(s.motionSign), 0));
                landedIn = s.landingStretch;
            }
        }
        return byStretch;
    }

    /** The whole turns that lay one stretch over the places known so far; empty where another number fits nearly as well. */
    private static OptionalInt fit(
            List<Centres.Place> own, List<Centres.Place> anchored, double[] expected, double bandDeg, double cycleDeg) {
        double[] seen = Centres.groups(anchored, bandDeg).stream()
                .mapToDouble(Centres::centre)
                .toArray();
        double scale = scale(expected.length > 1 ? expected : seen, bandDeg);
        double[] places = DoubleStream.concat(
                        Arrays.stream(seen), Arrays.stream(expected).filter(deg -> nearest(seen, deg) > scale))
                .toArray();
        double best = Double.MAX_VALUE;
        double next = Double.MAX_VALUE;
        int bestTurns = 0;
        int most = (int) Math.ceil(FARTHEST_DEG / cycleDeg);
        for (int i = 0; i <= 2 * most; i++) {
            int k = i % 2 == 0 ? -i / 2 : (i + 1) / 2;
            double cost = 0;
            for (Centres.Place p : own) {
                cost += Math.min(nearest(places, p.deg() + cycleDeg * k), scale);
            }
            if (cost < best) {
                next = best;
                best = cost;
                bestTurns = k;
            } else {
                next = Math.min(next, cost);
            }
        }
        boolean clear = next >= CLEAR * Math.max(best, SCATTER * bandDeg * Math.sqrt(own.size()));
        // without a profile it may have rested at sprockets that no other stretch has been to, and fits those nearby
        // badly
        boolean near = expected.length > 1 || own.size() >= LEAST_RESTS && best <= NEAR * bandDeg * own.size();
        return clear && near ? OptionalInt.of(bestTurns) : OptionalInt.empty();
    }

    private static int turnsOf(int[] turns, int stretch) {
        return stretch < turns.length ? turns[stretch] : 0;
    }

    private static void apply(List<RawShift> shifts, int[] turns, double cycleDeg) {
        for (RawShift s : shifts) {
            add(s, cycleDeg * turnsOf(turns, s.startStretch), cycleDeg * turnsOf(turns, s.landingStretch));
            if (s.turnUncertain && !Double.isNaN(s.landingDeg) && !Double.isNaN(s.startDeg)) {
                s.motionSign = (int) Math.signum(s.landingDeg - s.startDeg);
            }
        }
    }

    /** Adds turns, degrees, to where a shift starts, and to where it leads. */
    static void add(RawShift s, double start, double after) {
        s.startDeg += start;
        s.landingDeg += after;
        s.extremeDeg += after;
        add(s, Measure.START, start);
        for (Measure m : List.of(Measure.PLATEAU, Measure.LANDING, Measure.EXTREME)) {
            add(s, m, after);
        }
    }

    private static void add(RawShift shift, Measure measure, double deg) {
        Measured now = shift.get(measure);
        if (now != null && now.number().isPresent() && deg != 0) {
            shift.put(measure, now.number().getAsDouble() + deg);
        }
    }

    private static List<Centres.Place> listOf(SortedMap<Integer, List<Centres.Place>> byStretch, int stretch) {
        return byStretch.getOrDefault(stretch, List.of());
    }

    private static double scale(double[] centres, double bandDeg) {
        if (centres.length < 2) {
            return 4 * bandDeg;
        }
        double[] steps = new double[centres.length - 1];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = Math.abs(centres[i + 1] - centres[i]);
        }
        return 0.25 * Centres.median(steps);
    }

    private static double nearest(double[] centres, double deg) {
        double best = Double.MAX_VALUE;
        for (double c : centres) {
            best = Math.min(best, Math.abs(c - deg));
        }
        return best;
    }
}
