package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Shift;

/**
 * What the shifts of one group have in common. Ordered by number, inboard before outboard, in the order of {@code per}.
 *
 * @param order one number for each name, for sorting
 * @param names such as {@code sprocket → 4, direction → inboard}
 */
record GroupKey(List<Integer> order, Map<String, String> names) implements Comparable<GroupKey> {
    /** The group of a shift. */
    static GroupKey of(List<Per> per, Shift shift, int sprockets) {
        boolean impossible = per.contains(Per.SPROCKET)
                && per.contains(Per.DIRECTION)
                && !canArrive(shift.to(), shift.direction(), sprockets);
        int asked = shift.to() + shift.direction().sign();
        // a shift that did not move counts as 'to' its own sprocket, where no target is known; beyond the ends that is
        // no group, so the sprocket it was asked to reach decides: a missed shift must not fall out of judgement
        boolean standing = shift.to() == shift.from() && asked >= 1 && asked <= sprockets;
        int to = standing && (impossible || per.contains(Per.PAIR)) ? asked : shift.to();
        return of(per, shift.cycle(), shift.from(), to, shift.direction(), shift.number());
    }

    /** The group of a planned shift; empty where it is no group: its pair is none, or {@code per} asks what is not planned. */
    static Optional<GroupKey> of(List<Per> per, PlannedShift planned, int sprockets) {
        boolean possible = planned.from() != planned.to()
                && canArrive(planned.to(), planned.direction(), sprockets)
                && planned.from() >= 1
                && planned.from() <= sprockets;
        boolean unknown = per.contains(Per.EACH) || (per.contains(Per.CYCLE) && planned.cycle() == 0);
        if (!possible || unknown) {
            return Optional.empty();
        }
        return Optional.of(of(per, planned.cycle(), planned.from(), planned.to(), planned.direction(), 0));
    }

    /** The group of a planned shift that was not made, where each shift is its own group. */
    static GroupKey notMade(PlannedShift planned, int place) {
        return new GroupKey(
                List.of(Integer.MAX_VALUE, place),
                named(
                        "cycle",
                        String.valueOf(planned.cycle()),
                        "pair",
                        pair(planned.from(), planned.to()),
                        "planned-shift",
                        String.valueOf(place)));
    }

    /** Sprocket 1 is never reached inboard, sprocket N never outboard. */
    static boolean canArrive(int to, Direction direction, int sprockets) {
        return to >= 1 && to <= sprockets && to != (direction == Direction.INBOARD ? 1 : sprockets);
    }

    private static GroupKey of(List<Per> per, int cycle, int from, int to, Direction direction, int number) {
        List<Integer> order = new ArrayList<>();
        Map<String, String> names = new LinkedHashMap<>();
        for (Per by : per) {
            switch (by) {
                case SPROCKET -> {
                    order.add(to);
                    names.put(by.word(), String.valueOf(to));
                }
                case PAIR -> {
                    order.add(from);
                    order.add(to);
                    names.put(by.word(), pair(from, to));
                }
                case DIRECTION -> {
                    order.add(-direction.sign()); // inboard first
                    names.put(by.word(), direction.word());
                }
                case CYCLE -> {
                    order.add(cycle);
                    names.put(by.word(), String.valueOf(cycle));
                }
                case EACH -> {
                    order.add(number);
                    names.put("shift", String.valueOf(number));
                }
            }
        }
        return new GroupKey(order, names);
    }

    private static String pair(int from, int to) {
        return from + "→" + to;
    }

    private static Map<String, String> named(String... namesAndValues) {
        Map<String, String> names = new LinkedHashMap<>();
        for (int i = 0; i < namesAndValues.length; i += 2) {
            names.put(namesAndValues[i], namesAndValues[i + 1]);
        }
        return names;
    }

    /** For sentences: {@code sprocket 4 inboard}; {@code the whole run} without names. */
    String words() {
        return names.isEmpty()
                ? "the whole run"
                : names.entrySet().stream()
                        .map(name -> name.getKey().equals(Per.DIRECTION.word())
                                ? name.getValue()
                                : name.getKey().replace('-', ' ') + " " + name.getValue())
                        .collect(Collectors.joining(" "));
    }

    @Override
    public int compareTo(GroupKey other) {
        for (int i = 0; i < Math.min(order.size(), other.order.size()); i++) {
            int compared = Integer.compare(order.get(i), other.order.get(i));
            if (compared != 0) {
                return compared;
            }
        }
        return Integer.compare(order.size(), other.order.size());
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof GroupKey key && order.equals(key.order) && names.equals(key.names);
    }

    @Override
    public int hashCode() {
        return order.hashCode();
    }
}
