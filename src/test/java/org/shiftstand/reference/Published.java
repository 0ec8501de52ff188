package org.shiftstand.reference;

/** A published source whose figures this project must give as well. */
interface Published {
    /** The reference, source and label: {@code REF-POS-01}, {@code ISO 230-2 …}, {@code VERIFIED}. */
    Source source();

    /** Computes each of the source's figures from the source's own data and puts both side by side. */
    void compare(Comparisons comparisons);

    /**
     * Where figures come from.
     *
     * @param id as in {@code src/test/resources/README.md}
     * @param title publication, with section or table
     * @param label {@code VERIFIED}, {@code COMPUTED}, {@code RECALL} or a mixture, as that page explains
     */
    record Source(String id, String title, String label) {}
}
