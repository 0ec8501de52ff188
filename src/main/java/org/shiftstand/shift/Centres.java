package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.shiftstand.quantity.Direction;

/** Where sprockets are, told by where the shaft came to rest. */
final class Centres {
    private Centres() {}

    /**
     * One place the shaft rested at.
     *
     * @param deg degrees
     * @param direction of the motion that led there
     * @param sprocket asked for; 0 where not known
     * @param doubtful whether it may be a plateau whose return nobody saw
     */
    record Place(double deg, Direction direction, int sprocket, boolean doubtful) {
        Place(double deg, Direction direction, int sprocket) {
            this(deg, direction, sprocket, false);
        }
    }

    /**
     * Groups of places, by angle: a new group begins where neighbours are more than a quarter of a pitch, and more than
     * 4 b, apart. A small or doubtful group closer than 0.6 pitch to another one is a stop between sprockets, and left out.
     *
     * @return places of each sprocket seen, outermost (smallest angle) first
     */
    static List<List<Place>> groups(List<Place> places, double bandDeg) {
        if (places.isEmpty()) {
            return List.of();
        }
        List<Place> sorted = new ArrayList<>(places);
        sorted.sort(java.util.Comparator.comparingDouble(Place::deg));
        List<List<Place>> groups = split(sorted, 4 * bandDeg);
        double pitch = medianStep(groups);
        if (pitch > 0) {
            groups = split(sorted, Math.max(4 * bandDeg, 0.25 * pitch));
            pitch = medianStep(groups);
        }
        return pitch > 0 ? withoutStops(groups, pitch) : groups;
    }

    private static List<List<Place>> split(List<Place> sorted, double apart) {
        List<List<Place>> groups = new ArrayList<>();
        List<Place> group = new ArrayList<>();
        for (Place p : sorted) {
            if (!group.isEmpty() && p.deg() - group.get(group.size() - 1).deg() > apart) {
                groups.add(group);
                group = new ArrayList<>();
            }
            group.add(p);
        }
        groups.add(group);
        return groups;
    }

    /** Median distance of neighbouring groups, of those that hold at least a quarter of the usual number. */
    private static double medianStep(List<List<Place>> groups) {
        int usual = usual(groups);
        List<List<Place>> large =
                groups.stream().filter(g -> 4 * g.size() >= usual).toList();
        if (large.size() < 2) {
            return 0;
        }
        double[] steps = new double[large.size() - 1];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = centre(large.get(i + 1)) - centre(large.get(i));
        }
        return median(steps);
    }

    private static int usual(List<List<Place>> groups) {
        int[] sizes = groups.stream().mapToInt(List::size).sorted().toArray();
        return sizes[sizes.length / 2];
    }

    private static List<List<Place>> withoutStops(List<List<Place>> groups, double pitch) {
        int usual = usual(groups);
        List<List<Place>> kept = new ArrayList<>();
        for (int i = 0; i < groups.size(); i++) {
            List<Place> g = groups.get(i);
            double c = centre(g);
            boolean small = 4 * g.size() < usual || g.stream().allMatch(Place::doubtful);
            boolean near = i > 0 && c - centre(groups.get(i - 1)) < 0.6 * pitch
                    || i + 1 < groups.size() && centre(groups.get(i + 1)) - c < 0.6 * pitch;
            if (!(small && near)) {
                kept.add(g);
            }
        }
        return kept;
    }

    /** Mean of the two directions' means; of one direction where there is only one. */
    static double centre(List<Place> group) {
        double inboard = mean(group, Direction.INBOARD);
        double outboard = mean(group, Direction.OUTBOARD);
        if (Double.isNaN(inboard)) {
            return outboard;
        }
        return Double.isNaN(outboard) ? inboard : (inboard + outboard) / 2;
    }

    private static double mean(List<Place> group, Direction direction) {
        double sum = 0;
        int n = 0;
        for (Place p : group) {
            if (p.direction() == direction) {
                sum += p.deg();
                n++;
            }
        }
        return n == 0 ? Double.NaN : sum / n;
    }

    /** Centres by the sprockets asked for; places far from the median of their sprocket are left out. */
    static SortedMap<Integer, Double> byTarget(List<Place> places, double bandDeg) {
        SortedMap<Integer, List<Place>> bySprocket = new TreeMap<>();
        for (Place p : places) {
            if (p.sprocket() > 0) {
                bySprocket.computeIfAbsent(p.sprocket(), s -> new ArrayList<>()).add(p);
            }
        }
        SortedMap<Integer, Double> centres = new TreeMap<>();
        bySprocket.forEach((sprocket, list) -> {
            double middle = median(list.stream().mapToDouble(Place::deg).toArray());
            List<Place> near = list.stream()
                    .filter(p -> Math.abs(p.deg() - middle) <= 8 * bandDeg)
                    .toList();
            centres.put(sprocket, near.isEmpty() ? middle : centre(near));
        });
        return centres;
    }

    static double median(double[] values) {
        double[] x = values.clone();
        Arrays.sort(x);
        int n = x.length;
        return n % 2 == 1 ? x[n / 2] : 0.5 * (x[n / 2 - 1] + x[n / 2]);
    }
}
