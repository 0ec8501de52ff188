package org.shiftstand.archive.run;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import tools.jackson.databind.JsonNode;

/**
 * Holds two results against each other, member by member; clauses are found by their id and groups by their key, whatever their
 * order.
 *
 * <p>Texts and verdicts must be the same. Numbers may differ by one part in 10⁹: Java lets sine and arc tangent differ in the last
 * bit from one kind of processor to another ({@link Math}: within 1 or 2 ulp), and sums over a run carry that on.
 */
final class ResultComparison {
    private static final double RELATIVE = 1e-9;

    private final boolean everyMember;
    private final List<Difference> differences = new ArrayList<>();

    /** @param everyMember whether a member that only one of them has is a difference; later versions add members */
    private ResultComparison(boolean everyMember) {
        this.everyMember = everyMember;
    }

    static List<Difference> of(JsonNode archived, JsonNode again, boolean everyMember) {
        ResultComparison comparison = new ResultComparison(everyMember);
        // the verdict comes first, then what it was made of
        for (String first : List.of("verdict", "reason", "unit")) {
            comparison.compare(first, archived.path(first), again.path(first));
        }
        comparison.members("", archived, again, Set.of("verdict", "reason", "unit", "tool"));
        return comparison.differences;
    }

    private void compare(String where, JsonNode archived, JsonNode again) {
        if (archived.isObject() && again.isObject()) {
            members(where + ", ", archived, again, Set.of());
        } else if (archived.isArray() && again.isArray()) {
            elements(where, archived, again);
        } else if (!same(archived, again)) {
            differences.add(new Difference(where, told(archived), told(again)));
        }
    }

    private void members(String prefix, JsonNode archived, JsonNode again, Set<String> but) {
        Set<String> names = new TreeSet<>(archived.propertyNames());
        names.addAll(again.propertyNames());
        names.removeAll(but);
        for (String name : names) {
            boolean both = archived.has(name) && again.has(name);
            // what a program reports of itself differs between versions
            if ((both || everyMember) && !(prefix.equals("identity, ") && name.equals("tool"))) {
                compare(prefix + name, archived.path(name), again.path(name));
            }
        }
    }

    private void elements(String where, JsonNode archived, JsonNode again) {
        Map<String, JsonNode> was = named(where, archived);
        Map<String, JsonNode> is = named(where, again);
        Set<String> names = new LinkedHashSet<>(was.keySet());
        names.addAll(is.keySet());
        JsonNode none = archived.path(-1);
        for (String name : names) {
            compare(name, was.getOrDefault(name, none), is.getOrDefault(name, none));
        }
    }

    /** Elements by what tells them apart: clause id, group key, else their place. */
    private static Map<String, JsonNode> named(String where, JsonNode array) {
        Map<String, JsonNode> named = new LinkedHashMap<>();
        int place = 0;
        for (JsonNode element : array) {
            place++;
            String name = name(where, element).orElse(where + " " + place);
            named.put(named.containsKey(name) ? where + " " + place : name, element);
        }
        return named;
    }

    private static java.util.Optional<String> name(String where, JsonNode element) {
        if (element.path("id").isString()) {
            return java.util.Optional.of((where.equals("clauses") ? "clause " : where + " ")
                    + element.path("id").stringValue());
        }
        if (element.path("key").isObject()) {
            List<String> key = new ArrayList<>();
            for (String name : element.path("key").propertyNames()) {
                key.add(name + " " + element.path("key").path(name).asString());
            }
            return java.util.Optional.of(where + (key.isEmpty() ? " of all shifts" : " " + String.join(" ", key)));
        }
        return java.util.Optional.empty();
    }

    private static boolean same(JsonNode one, JsonNode other) {
        if (one.isNumber() && other.isNumber()) {
            double a = one.doubleValue();
            double b = other.doubleValue();
            return a == b || Math.abs(a - b) <= RELATIVE * Math.max(1, Math.max(Math.abs(a), Math.abs(b)));
        }
        return one.equals(other);
    }

    private static String told(JsonNode node) {
        String text = node.isMissingNode() ? "nothing" : node.isContainer() ? node.toString() : node.asString();
        return text.length() > 120 ? text.substring(0, 117) + "…" : text.isEmpty() ? "''" : text;
    }
}
