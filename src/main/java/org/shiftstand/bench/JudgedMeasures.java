package org.shiftstand.bench;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.quantity.Dimension;

/**
 * The measures that an uncertainty can be declared for. Rigs are described without knowing shifts; a test holds this list
 * to the measures that clauses may use.
 */
final class JudgedMeasures {
    private static final Map<String, Dimension> ALL = new LinkedHashMap<>();

    static {
        List.of(
                        "landing",
                        "landing-error",
                        "overtravel",
                        "ringing",
                        "return-ringing",
                        "extreme",
                        "clearance",
                        "creep",
                        "wake-up-error")
                .forEach(key -> ALL.put(key, Dimension.ANGLE));
        List.of("hold", "rest-hold", "travel-time", "settle-time").forEach(key -> ALL.put(key, Dimension.TIME));
        ALL.put("peak-current", Dimension.CURRENT);
        ALL.put("charge", Dimension.CHARGE);
        ALL.put("energy", Dimension.ENERGY);
    }

    private JudgedMeasures() {}

    static List<String> keys() {
        return List.copyOf(ALL.keySet());
    }

    /** Of a key in the list. */
    static Dimension dimension(String key) {
        Dimension dimension = ALL.get(key);
        if (dimension == null) {
            throw new IllegalArgumentException("no measure that a clause may use: key=" + key);
        }
        return dimension;
    }
}
