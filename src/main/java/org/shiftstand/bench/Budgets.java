package org.shiftstand.bench;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * The budgets of one run, by the measure's key; a measure without one is of unknown uncertainty.
 *
 * @param byMeasure in the order that tables print
 */
public record Budgets(Map<String, Budget> byMeasure) {
    public Budgets {
        byMeasure = Collections.unmodifiableMap(new LinkedHashMap<>(byMeasure));
    }

    /** By key, such as {@code landing}. */
    public Optional<Budget> of(String measureKey) {
        return Optional.ofNullable(byMeasure.get(measureKey));
    }
}
