package org.shiftstand.reference;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.stats.Positioning;
import org.shiftstand.stats.Positioning.Position;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** Two positions, three runs from either side: arithmetic that fits in the head. */
final class PositioningByHand implements Published {
    @Override
    public Source source() {
        return new Source("REF-POS-02", "ISO 230-2 definitions, hand-checkable set", "COMPUTED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode hand = Reference.json("reference/stats/iso230_hand.json");
        double[] targets = Reference.numbers(hand.get("targets"));
        List<Position> positions = new ArrayList<>();
        for (int i = 0; i < targets.length; i++) {
            positions.add(new Position(
                    deviations(hand.get("fwd").get(i), targets[i]),
                    deviations(hand.get("bwd").get(i), targets[i])));
        }
        PositioningOfAnAxis.figures(comparisons, hand.get("expected"), new Positioning(positions), 1e-12);
    }

    private static Sample deviations(JsonNode attained, double target) {
        double[] deviations = Reference.numbers(attained);
        for (int i = 0; i < deviations.length; i++) {
            deviations[i] -= target;
        }
        return Sample.of(deviations);
    }
}
