package org.shiftstand.archive.run;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.MappingFile;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeOptions;

/**
 * What a person said for a judgement beside the texts, so that it can be made again.
 *
 * @param unit id of the unit in a capture; a record says it itself
 * @param sense {@code forward} or {@code reversed}
 * @param firstSprocket number of the outermost sprocket in the file
 * @param bandDeg settle band, degrees
 * @param periodsPerTurn periods of the magnet's field in one turn of the shaft
 * @param columns {@code name=header}, as typed
 * @param scales {@code name=factor}, as typed
 * @param mapping how the captures of this logger are read, in place of columns and scales
 */
public record AsJudged(
        Optional<String> unit,
        Optional<String> sense,
        OptionalInt firstSprocket,
        OptionalDouble bandDeg,
        OptionalInt periodsPerTurn,
        List<String> columns,
        List<String> scales,
        Optional<TextFile> mapping) {
    public AsJudged {
        columns = List.copyOf(columns);
        scales = List.copyOf(scales);
    }

    /** How a capture is read; throws {@code BadInput} where the mapping or a column cannot be understood. */
    public CsvOptions csv() {
        return mapping.map(text -> CsvOptions.of(MappingFile.read(text)))
                .orElseGet(() -> CsvOptions.parse(columns, scales));
    }

    /** The same as options of a judgement. */
    public JudgeOptions options() {
        JudgeOptions options = JudgeOptions.defaults();
        if (unit.isPresent()) {
            options = options.withUnit(unit.get());
        }
        if (sense.isPresent()) {
            options = options.withSense(sense.get());
        }
        if (firstSprocket.isPresent()) {
            options = options.withFirstSprocket(firstSprocket.getAsInt());
        }
        if (bandDeg.isPresent()) {
            options = options.withBandDeg(bandDeg.getAsDouble());
        }
        return periodsPerTurn.isPresent() ? options.withPeriodsPerTurn(periodsPerTurn.getAsInt()) : options;
    }
}
