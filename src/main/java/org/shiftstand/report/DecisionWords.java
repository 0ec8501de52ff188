package org.shiftstand.report;

import org.shiftstand.spec.Spec;

/**
 * A decision rule and a claim in words, with the risk that they leave: ISO/IEC 17025:2017, 7.8.6.
 *
 * @param rule how a value and its bound become met or not met
 * @param claim what the statement is about
 * @param risk of a false accept and a false reject
 */
record DecisionWords(String rule, String claim, String risk) {
    static DecisionWords of(Spec spec) {
        return new DecisionWords(rule(spec.rule()), claim(spec.claim()), risk(spec.rule()));
    }

    private static String rule(String word) {
        return switch (word) {
            case "simple" ->
                "simple: a value inside its bound or on it is met, one outside is not met; no guard band is taken off"
                        + " for measurement uncertainty";
            default -> word;
        };
    }

    private static String claim(String word) {
        return switch (word) {
            case "observed" ->
                "observed: the statement is about the shifts that were recorded, not about what the unit does in the"
                        + " long run";
            default -> word;
        };
    }

    private static String risk(String rule) {
        return switch (rule) {
            // JCGM 106:2012, 8.2: simple acceptance; a symmetric distribution about a value on its bound
            case "simple" ->
                "false accept or false reject of up to 50 %, reached by a measured value on its bound; it falls with the"
                        + " margin, counted in standard uncertainties (simple acceptance, JCGM 106)";
            default -> "not stated for this rule";
        };
    }
}
