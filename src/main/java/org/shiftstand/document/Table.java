package org.shiftstand.document;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A mapping of keys to values, in the order written. */
public final class Table extends Node {
    private final Map<String, Node> values;
    private final Map<String, Place> keys;

    Table(Problems problems, String name, Place place, Map<String, Node> values, Map<String, Place> keys) {
        super(problems, name, place);
        this.values = new LinkedHashMap<>(values);
        this.keys = new LinkedHashMap<>(keys);
    }

    @Override
    public Optional<Table> table(String expected) {
        return Optional.of(this);
    }

    /** Keys in the order written. */
    public List<String> keys() {
        return List.copyOf(values.keySet());
    }

    /** Where a key stands; the table's own place for a key that is not there. */
    public Place keyPlace(String key) {
        return keys.getOrDefault(key, place());
    }

    /** Notes every key that is none of these, with the nearest that is not used yet. */
    public void only(String... known) {
        List<String> free = new ArrayList<>(Arrays.asList(known));
        free.removeAll(values.keySet());
        for (Map.Entry<String, Node> entry : values.entrySet()) {
            String key = entry.getKey();
            if (!Arrays.asList(known).contains(key)) {
                problems()
                        .add(
                                keyPlace(key),
                                "unknown key '" + Scalar.shortened(key) + "' in " + name() + "; expected one of "
                                        + String.join(", ", known) + "." + Nearest.hint(key, free));
            }
        }
    }

    /** The value of a key, where it is there. */
    public Optional<Node> find(String key) {
        return Optional.ofNullable(values.get(key));
    }

    /** The value of a key that must be there; its absence is noted at the table's place. */
    public Optional<Node> need(String key, String expected) {
        Optional<Node> found = find(key);
        if (found.isEmpty()) {
            problem("key '" + key + "' is missing in " + name() + "; expected " + expected);
        }
        return found;
    }

    @Override
    String described() {
        return values.isEmpty() ? "an empty mapping" : "a mapping of keys";
    }
}
