package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.shiftstand.quantity.Direction;

/**
 * Finds whole turns that were lost in damaged motions again: between two such motions all angles are right but for a
 * multiple of 360 degrees, and the places where the shaft rests tell which.
 */
final class Turns {
    private static final int MOST_TURNS = 24;
    /** A stretch whose best and next best fit are closer than this ratio stays uncertain. */
    private static final double CLEAR = 2;

    private Turns() {}

    /**
     * Adds whole turns to the shifts of each stretch so that they rest where those of the longest stretch rest.
     *
     * @param shifts those that the places are taken from
     * @param all those that turns are added to
     * @return stretches that could not be decided
     */
    static List<Integer> anchor(List<RawShift> shifts, List<RawShift> all, double bandDeg) {
        SortedMap<Integer, List<RawShift>> byStretch = new TreeMap<>();
        for (RawShift s : shifts) {
            if (!Double.isNaN(s.landingDeg)) {
                byStretch
                        .computeIfAbsent(s.landingStretch, k -> new ArrayList<>())
                        .add(s);
            }
        }
        List<Integer> undecided = new ArrayList<>();
        if (byStretch.size() < 2) {
            return undecided;
        }
        List<Integer> order = new ArrayList<>(byStretch.keySet());
        order.sort(Comparator.<Integer>comparingInt(k -> -sizeOf(byStretch, k)).thenComparingInt(k -> k));
        List<RawShift> anchored = new ArrayList<>(listOf(byStretch, order.get(0)));
        int[] turns = new int[order.stream().mapToInt(k -> k).max().getAsInt() + 1];
        for (int stretch : order.subList(1, order.size())) {
            List<RawShift> own = listOf(byStretch, stretch);
            double[] centres = centres(anchored, bandDeg);
            double scale = scale(centres, bandDeg);
            double best = Double.MAX_VALUE;
            double next = Double.MAX_VALUE;
            int bestTurns = 0;
            for (int i = 0; i <= 2 * MOST_TURNS; i++) {
                int k = i % 2 == 0 ? -i / 2 : (i + 1) / 2;
                double cost = 0;
                for (RawShift s : own) {
                    cost += Math.min(nearest(centres, s.landingDeg + 360.0 * k), scale);
                }
                if (cost < best) {
                    next = best;
                    best = cost;
                    bestTurns = k;
                } else {
                    next = Math.min(next, cost);
                }
            }
            if (next < CLEAR * best) {
                undecided.add(stretch);
                continue;
            }
            turns[stretch] = bestTurns;
            for (RawShift s : own) {
                s.landingDeg += 360.0 * bestTurns;
                s.startDeg += s.startStretch == stretch ? 360.0 * bestTurns : 0;
            }
            anchored.addAll(own);
        }
        own(shifts, turns, -1);
        apply(all, turns);
        return undecided;
    }

    /** Takes back what was added to find the next stretch. */
    private static void own(List<RawShift> shifts, int[] turns, int sign) {
        for (RawShift s : shifts) {
            s.landingDeg += sign * 360.0 * turnsOf(turns, s.landingStretch);
            boolean same = s.startStretch == s.landingStretch;
            s.startDeg += same ? sign * 360.0 * turnsOf(turns, s.startStretch) : 0;
        }
    }

    private static int turnsOf(int[] turns, int stretch) {
        return stretch < turns.length ? turns[stretch] : 0;
    }

    private static void apply(List<RawShift> shifts, int[] turns) {
        for (RawShift s : shifts) {
            double start = 360.0 * turnsOf(turns, s.startStretch);
            double after = 360.0 * turnsOf(turns, s.landingStretch);
            s.startDeg += start;
            s.landingDeg += after;
            s.extremeDeg += after;
            add(s, Measure.START, start);
            for (Measure m : List.of(Measure.PLATEAU, Measure.LANDING, Measure.EXTREME)) {
                add(s, m, after);
            }
            if (s.turnUncertain && !Double.isNaN(s.landingDeg) && !Double.isNaN(s.startDeg)) {
                s.motionSign = (int) Math.signum(s.landingDeg - s.startDeg);
            }
        }
    }

    private static void add(RawShift shift, Measure measure, double deg) {
        Measured now = shift.measures.get(measure);
        if (now != null && now.number().isPresent() && deg != 0) {
            shift.put(measure, now.number().getAsDouble() + deg);
        }
    }

    private static int sizeOf(SortedMap<Integer, List<RawShift>> byStretch, int stretch) {
        return listOf(byStretch, stretch).size();
    }

    private static List<RawShift> listOf(SortedMap<Integer, List<RawShift>> byStretch, int stretch) {
        return byStretch.getOrDefault(stretch, List.of());
    }

    private static double[] centres(List<RawShift> anchored, double bandDeg) {
        List<Centres.Place> places = new ArrayList<>();
        for (RawShift s : anchored) {
            places.add(new Centres.Place(s.landingDeg, Direction.of(s.motionSign), 0));
            if (!Double.isNaN(s.startDeg) && s.startStretch == s.landingStretch) {
                places.add(new Centres.Place(s.startDeg, Direction.of(-s.motionSign), 0));
            }
        }
        return Centres.groups(places, bandDeg).stream()
                .mapToDouble(Centres::centre)
                .toArray();
    }

    private static double scale(double[] centres, double bandDeg) {
        if (centres.length < 2) {
            return 4 * bandDeg;
        }
        double[] steps = new double[centres.length - 1];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = centres[i + 1] - centres[i];
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
