package org.shiftstand.export;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import org.apache.parquet.io.api.Binary;
import org.jspecify.annotations.Nullable;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.export.Column.Kind;
import org.shiftstand.shift.ShiftTable;

/** The samples of one run: channels as captured, and the angle that the shift table was measured by. */
final class SampleRows {
    static final List<Column> COLUMNS = List.of(
            new Column("unit", Kind.TEXT, "", "id of the unit; null for a capture that does not say"),
            new Column("run", Kind.TEXT, "", "SHA-256 of record or capture, lower-case hex: the run's id everywhere"),
            new Column("sample", Kind.LONG, "", "number in the run, from 0, in time order"),
            new Column("time_s", Kind.NUMBER, "s", "on the clock of the rig or logger"),
            new Column("hall_sin", Kind.NUMBER, "as captured", "Hall output, counts or volts"),
            new Column("hall_cos", Kind.NUMBER, "as captured", "Hall output, counts or volts"),
            new Column("powered", Kind.FLAG, "", "whether the sensors were powered; null where not captured"),
            new Column("window", Kind.WHOLE, "", "number of the sensors' power-up; null where not captured"),
            new Column("current_a", Kind.NUMBER, "A", "supply current; null where not captured"),
            new Column("supply_v", Kind.NUMBER, "V", "supply voltage; null where not captured"),
            new Column("angle_deg", Kind.NUMBER, "deg", "output shaft, as in the shift table; null unless good"),
            new Column("state", Kind.TEXT, "", "good, fault (radius far from 1) or off (sensors without power)"),
            new Column("edge", Kind.TEXT, "", "what lies before this sample; null for a neighbour"),
            new Column("radius", Kind.NUMBER, "1", "corrected radius of the Hall pair over its mean"));

    private static final int BLOCK = 4096;
    private static final Binary GOOD = Cells.shared("good");
    private static final Binary FAULT = Cells.shared("fault");
    private static final Binary OFF = Cells.shared("off");

    private final SampleSource source;
    private final AngleTrack track;
    private final double sign;
    private final double offsetDeg;
    private final SampleSource.Channels channels;
    private final @Nullable Binary unit;
    private final Binary run;
    private final SampleBlock raw = new SampleBlock(BLOCK);
    private final AngleBlock decoded = new AngleBlock(BLOCK);
    private int rawAt;
    private int decodedAt;
    private long sample;

    SampleRows(SampleSource source, AngleTrack track, ShiftTable table, RunFacts facts) {
        this.source = source;
        this.track = track;
        sign = table.sense().equals("reversed") ? -1 : 1;
        offsetDeg = table.alignmentDeg().orElse(0);
        channels = source.channels();
        unit = facts.unit().map(Cells::shared).orElse(null);
        run = Cells.shared(facts.run());
    }

    /** Reads the source twice side by side, a block at a time. */
    void write(ParquetFile file) throws IOException {
        try (SampleReader captured = source.open();
                AngleReader angles = track.open()) {
            while (more(captured, angles)) {
                file.row(this::row);
                rawAt++;
                decodedAt++;
                sample++;
            }
        }
    }

    private boolean more(SampleReader captured, AngleReader angles) {
        if (rawAt == raw.size()) {
            captured.next(raw);
            rawAt = 0;
        }
        if (decodedAt == decoded.size()) {
            angles.next(decoded);
            decodedAt = 0;
        }
        boolean both = raw.size() > 0 && decoded.size() > 0;
        boolean together = both ? raw.timeS[rawAt] == decoded.timeS[decodedAt] : raw.size() == decoded.size();
        if (!together) {
            throw new IllegalStateException("channels and angles are not of the same sample: sample=" + sample);
        }
        return both;
    }

    private void row(Cells cells) {
        if (unit == null) {
            cells.text(Optional.empty());
        } else {
            cells.text(unit);
        }
        cells.text(run).whole(sample).number(raw.timeS[rawAt]);
        cells.number(raw.hallSin[rawAt]).number(raw.hallCos[rawAt]);
        cells.flag(channels.hallPower(), raw.powered[rawAt]);
        cells.whole(channels.window(), raw.window[rawAt]);
        cells.number(channels.current() ? raw.currentA[rawAt] : Double.NaN);
        cells.number(channels.supply() ? raw.supplyV[rawAt] : Double.NaN);
        boolean good = decoded.state[decodedAt] == AngleBlock.GOOD;
        cells.number(good ? sign * decoded.angleDeg[decodedAt] + offsetDeg : Double.NaN);
        cells.text(state(decoded.state[decodedAt]));
        cells.text(edge(decoded.edge[decodedAt]));
        cells.number(decoded.radius[decodedAt]);
    }

    private static Binary state(byte state) {
        return switch (state) {
            case AngleBlock.GOOD -> GOOD;
            case AngleBlock.FAULT -> FAULT;
            case AngleBlock.OFF -> OFF;
            default -> throw new IllegalStateException("no such state of a sample: state=" + state);
        };
    }

    private static Optional<String> edge(byte edge) {
        return switch (edge) {
            case AngleBlock.NONE -> Optional.empty();
            case AngleBlock.START -> Optional.of("start");
            case AngleBlock.GAP -> Optional.of("gap");
            case AngleBlock.WINDOW -> Optional.of("window");
            case AngleBlock.CLOCK_STOPPED -> Optional.of("clock-stopped");
            case AngleBlock.AMBIGUOUS -> Optional.of("ambiguous");
            case AngleBlock.BREAK -> Optional.of("break");
            default -> throw new IllegalStateException("no such edge of a sample: edge=" + edge);
        };
    }
}
