package org.shiftstand.report;

import java.util.Optional;
import org.shiftstand.judge.AxisAccuracy;
import org.shiftstand.judge.Judgement;
import org.shiftstand.stats.Positioning.Approach;
import org.shiftstand.stats.Positioning.Position;

/** {@code positioning} of {@code result.json}: landings by the definitions of ISO 230-2. */
final class PositioningJson {
    private PositioningJson() {}

    static void write(Judgement judgement, JsonWriter json) {
        Optional<AxisAccuracy> found = AxisAccuracy.of(judgement.table(), judgement.profile());
        if (found.isEmpty()) {
            json.nothing("positioning");
            return;
        }
        AxisAccuracy axis = found.get();
        json.object("positioning");
        json.field("deviationsFrom", axis.placed() ? "nominal position" : "sprocket's own centre");
        json.field("leadMm", axis.leadMm());
        json.array("sprockets");
        for (int i = 0; i < axis.sprockets().size(); i++) {
            sprocket(axis.sprockets().get(i), axis.positioning().positions().get(i), json);
        }
        json.endArray();
        json.object("deg");
        axis.figures().forEach(figure -> json.field(figure.key(), figure.deg()));
        json.endObject();
        json.object("mm");
        axis.figures().forEach(figure -> json.field(figure.key(), axis.mm(figure.deg())));
        json.endObject();
        json.endObject();
    }

    private static void sprocket(int sprocket, Position position, JsonWriter json) {
        json.object()
                .field("sprocket", sprocket)
                .field("nInboard", position.forward().count())
                .field("meanInboardDeg", position.forward().mean())
                .field("sdInboardDeg", position.forward().standardDeviation())
                .field("nOutboard", position.backward().count())
                .field("meanOutboardDeg", position.backward().mean())
                .field("sdOutboardDeg", position.backward().standardDeviation())
                .field("reversalDeg", position.reversal())
                .field("repeatabilityInboardDeg", position.repeatability(Approach.FORWARD))
                .field("repeatabilityOutboardDeg", position.repeatability(Approach.BACKWARD))
                .field("repeatabilityDeg", position.repeatability(Approach.BOTH))
                .endObject();
    }
}
