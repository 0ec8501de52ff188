package org.shiftstand.report;

import java.util.List;
import java.util.Optional;

/**
 * Everything that the page of what was learned shows, in reading order, as text and finished drawings. Texts are not
 * escaped yet, drawings and symbols are.
 *
 * @param nothingOpen said where nothing is left undecided
 * @param missing why there is no number, for places that show none
 */
record LearnedSheet(
        Head head,
        List<Sheet.Cell> options,
        List<String> gaps,
        Optional<Table> undecided,
        String nothingOpen,
        List<Proved> proofs,
        Plate overtravel,
        Table overtravels,
        Optional<Table> jumps,
        List<String> stopping,
        Plate ladder,
        Table positions,
        OverlayPanels.Panels overlays,
        Optional<Plate> dwell,
        List<String> dwells,
        Table measures,
        List<String> missing,
        List<String> signatures,
        Optional<Plate> units,
        String noUnits,
        Optional<Table> variations,
        Table sources,
        List<String> notices,
        List<String> cautions,
        String version,
        String generated,
        String pageStyle) {

    /**
     * What was learned and how far it goes.
     *
     * @param symbol of the verdict on the draft spec
     * @param word that verdict in words
     * @param reach how far it holds for other units; empty where it does
     */
    record Head(
            String symbol,
            String tone,
            String name,
            String word,
            String reason,
            String reach,
            String count,
            List<Sheet.Cell> facts) {}

    /** How the draft spec stands against shifts of one source that nothing was learned from. */
    record Proved(String symbol, String tone, String verdict, String source, String reason, Optional<Table> clauses) {}

    /** @param label for those who hear the page, not in use twice */
    record Table(String label, String caption, List<Column> heads, List<Row> rows) {
        Table {
            heads = List.copyOf(heads);
            rows = List.copyOf(rows);
        }
    }

    /** @param face class name: {@code n} for numbers, empty for text */
    record Column(String text, String face) {}

    /** @param head what the row is of; the first column */
    record Row(Value head, List<Value> values) {
        Row {
            values = List.copyOf(values);
        }
    }

    record Value(String text, String face) {}
}
