package org.shiftstand.report;

import java.util.List;

/**
 * A drawing and the notes beside it.
 *
 * @param svg well-formed, escaped
 * @param notes how to read it, and what it leaves out
 */
record Plate(String svg, List<String> notes) {
    Plate {
        notes = List.copyOf(notes);
    }
}
