package org.shiftstand.judge;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * What a report must say and only people know: who tested what, for whom, where, and what was out of the ordinary. In
 * their words; what they left out is empty here and "not stated" in the report, never filled in.
 *
 * @param laboratory its name
 * @param address its address
 * @param place where the work was done, at another site as well
 * @param customer name of whom the work was done for
 * @param contact how the customer is reached
 * @param unit the one unit that the item's lines are about; empty where they hold for any
 * @param description what the item is
 * @param condition in which condition it was
 * @param received the day it came
 * @param sampled the day it was taken out of a lot
 * @param method how the shifts were made and captured, where no procedure tells
 * @param worked the days of the work, for captures, which do not tell
 * @param samplingPlan by which plan items or shifts were chosen
 * @param environment conditions of the surroundings and of the test
 * @param deviations departures from the method, additions to it, exclusions from it
 * @param externalResults which results others provided
 * @param authorisedBy who answers for the report
 * @param sha256 digest of the file's text; empty where there is no file
 */
public record Particulars(
        Optional<String> laboratory,
        Optional<String> address,
        Optional<String> place,
        Optional<String> customer,
        Optional<String> contact,
        Optional<String> unit,
        Optional<String> description,
        Optional<String> condition,
        Optional<LocalDate> received,
        Optional<LocalDate> sampled,
        Optional<String> method,
        List<LocalDate> worked,
        Optional<String> samplingPlan,
        Optional<String> environment,
        List<String> deviations,
        List<String> externalResults,
        Optional<String> authorisedBy,
        Optional<String> sha256) {
    /** The role of a particulars file among the texts of a record. */
    public static final String ROLE = "particulars";

    public Particulars {
        worked = List.copyOf(worked);
        deviations = List.copyOf(deviations);
        externalResults = List.copyOf(externalResults);
    }

    /** Nobody stated anything. */
    public static Particulars none() {
        return new Particulars(
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(),
                Optional.empty(),
                Optional.empty(),
                List.of(),
                List.of(),
                Optional.empty(),
                Optional.empty());
    }
}
