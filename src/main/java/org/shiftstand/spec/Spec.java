package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The clauses that a unit must meet.
 *
 * @param profile path of the profile as written, relative to the spec; empty where none
 * @param bandDeg settle band, degrees
 * @param stallCurrentA current above which a shift that stops short has stalled, ampere; empty never calls it stalled
 * @param rule {@code simple}; others are refused while reading until they exist
 * @param claim {@code observed}; others are refused while reading until they exist
 * @param sha256 digest of the file's text
 */
public record Spec(
        String name,
        int version,
        String title,
        Optional<String> profile,
        double bandDeg,
        OptionalDouble stallCurrentA,
        String rule,
        String claim,
        List<Clause> clauses,
        String sha256) {
    public Spec {
        clauses = List.copyOf(clauses);
    }

    /** A spec without a stall current. */
    public Spec(
            String name,
            int version,
            String title,
            Optional<String> profile,
            double bandDeg,
            String rule,
            String claim,
            List<Clause> clauses,
            String sha256) {
        this(name, version, title, profile, bandDeg, OptionalDouble.empty(), rule, claim, clauses, sha256);
    }

    /** The same with one clause alone. */
    public Spec only(Clause clause) {
        return new Spec(
                name, version, title, profile, bandDeg, stallCurrentA, rule, claim, List.of(clause), sha256);
    }
}
