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
 * @param decision what holds for every clause that does not say otherwise
 * @param sha256 digest of the file's text
 */
public record Spec(
        String name,
        int version,
        String title,
        Optional<String> profile,
        double bandDeg,
        OptionalDouble stallCurrentA,
        Decision decision,
        List<Clause> clauses,
        String sha256) {
    public Spec {
        clauses = List.copyOf(clauses);
    }

    /** A spec without a stall current and with the usual decision. */
    public Spec(
            String name,
            int version,
            String title,
            Optional<String> profile,
            double bandDeg,
            List<Clause> clauses,
            String sha256) {
        this(name, version, title, profile, bandDeg, OptionalDouble.empty(), Decision.USUAL, clauses, sha256);
    }

    /** The spec's own rule, as files write it. */
    public String rule() {
        return decision.rule().word();
    }

    /** The spec's own claim, as files write it. */
    public String claim() {
        return decision.claim().word();
    }

    /** The same with one clause alone. */
    public Spec only(Clause clause) {
        return new Spec(name, version, title, profile, bandDeg, stallCurrentA, decision, List.of(clause), sha256);
    }
}
