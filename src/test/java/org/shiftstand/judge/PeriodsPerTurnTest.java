package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.shift.Measure;

/** Where the magnet's periods come from when a run is measured: the option given, else the rig's description. */
class PeriodsPerTurnTest {
    private static final long INTERVAL_NANOS = 1_953_125; // 512 Hz
    private static final int MOVE = 400;

    @TempDir
    private Path folder;

    /** Moves of 450 degrees of shaft, out and back, under a magnet of two periods. */
    private static short[] samples(int moves) {
        short[] values = new short[4 * moves * MOVE];
        for (int i = 0; i < moves * MOVE; i++) {
            double part = Math.min(1, i % MOVE / 170.0);
            double smooth = part * part * (3 - 2 * part);
            double shaftDeg = 450 * (i / MOVE % 2 == 0 ? smooth : 1 - smooth);
            values[4 * i] = (short) Math.round(2100 + 1450 * Math.sin(Math.toRadians(2 * shaftDeg)));
            values[4 * i + 1] = (short) Math.round(2050 + 1450 * Math.cos(Math.toRadians(2 * shaftDeg)));
        }
        return values;
    }

    /** With a rig of these turns in a cycle; without a rig where they are empty. */
    private Path record(String turnsPerCycle) {
        Map<String, String> texts = new LinkedHashMap<>();
        if (!turnsPerCycle.isEmpty()) {
            texts.put("rig", """
                    rig: bench
                    drive: requests
                    channels: { hall: { turns-per-cycle: %s } }
                    guards: { current: 9 A for 20 ms, average-current: 2 A over 2 s, on-time: 20 min/h, temperature: 60 degC }
                    """.formatted(turnsPerCycle));
        }
        Map<String, String> names = new LinkedHashMap<>();
        texts.keySet().forEach(role -> names.put(role, role + ".yaml"));
        Path file = folder.resolve("unit.record");
        RunHeader header = new RunHeader(
                "TD-0107", Map.of(), texts, names, INTERVAL_NANOS, 0.0012, 0.005, 1_790_000_000_000_000L, true);
        try (RunWriter writer = SqliteRunWriter.create(file, header)) {
            short[] all = samples(20);
            for (int at = 0; at < all.length / 4; at += 64) {
                short[] block = new short[4 * Math.min(64, all.length / 4 - at)];
                System.arraycopy(all, 4 * at, block, 0, block.length);
                writer.block(at / 64, 5_000_000 + at * INTERVAL_NANOS / 1000, INTERVAL_NANOS, block);
            }
            writer.finish("complete");
        }
        return file;
    }

    private static Measurement measured(Path record, JudgeOptions options) {
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            var measuring = input.measuring(Named.nothing(), options);
            return Measuring.measure(input.source(), measuring.profile(), measuring.options());
        }
    }

    private static double travelDeg(Measurement measured) {
        var shift = measured.table().shifts().get(4);
        double start = shift.get(Measure.START).number().orElseThrow();
        return Math.abs(shift.get(Measure.LANDING).number().orElseThrow() - start);
    }

    @Test
    void the_rigs_description_in_the_record_tells() {
        Measurement measured = measured(record("0.5"), JudgeOptions.defaults());

        assertThat(travelDeg(measured)).isCloseTo(450, within(0.1));
        assertThat(measured.track().cycleDeg()).isEqualTo(180);
        assertThat(measured.notices())
                .contains(
                        "one electrical turn of the Hall pair is taken for 180 deg of the shaft, as the rig's description"
                                + " says; where a turn is not known, angles are known but for so much");
    }

    @Test
    void the_option_tells_where_the_record_does_not() {
        Measurement measured = measured(record(""), JudgeOptions.defaults().withPeriodsPerTurn(2));

        assertThat(travelDeg(measured)).isCloseTo(450, within(0.1));
        assertThat(measured.notices()).anyMatch(n -> n.contains("as the option given says"));
    }

    @Test
    void the_option_goes_before_the_rigs_description() {
        Measurement measured = measured(record("0.5"), JudgeOptions.defaults().withPeriodsPerTurn(1));

        assertThat(travelDeg(measured)).isCloseTo(900, within(0.1));
        assertThat(measured.notices()).noneMatch(n -> n.contains("electrical turn"));
    }

    @Test
    void nothing_is_said_and_nothing_changes_where_none_tells() {
        Measurement measured = measured(record(""), JudgeOptions.defaults());

        assertThat(travelDeg(measured)).isCloseTo(900, within(0.1));
        assertThat(measured.track().cycleDeg()).isEqualTo(360);
    }
}
