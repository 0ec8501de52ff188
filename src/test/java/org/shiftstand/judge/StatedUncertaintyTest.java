package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.bench.Budget;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.document.TextFile;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/**
 * What a run says of its own uncertainty, against the errors that its measures really have: their root mean square is within
 * the stated standard uncertainty, as far as so many shifts can tell, and no smaller than a tenth of it. Nothing is declared
 * here, so that only the derived part is on trial.
 */
class StatedUncertaintyTest {
    private static final TextFile BARE_RIG = TextFile.of("bare.rig.yaml", """
            rig: bare
            drive: requests
            guards: { current: 9 A for 20 ms, average-current: 2 A over 2 s, on-time: 20 min/h, temperature: 60 degC }
            """);

    private static JudgeOptions options(String capture) {
        JudgeOptions options =
                JudgeOptions.defaults().withBench(BenchFacts.NONE.with(RigDescriptionReader.read(BARE_RIG)));
        return capture.equals("bench-d") ? options.withSense("reversed") : options; // it must be told, see its page
    }

    @ParameterizedTest
    @CsvSource({
        "bench-a, landing",
        "bench-b, landing",
        "bench-c, landing",
        "bench-d, landing",
        "bench-e, landing",
        "bench-f, landing",
        "bench-g, landing",
        "bench-h, landing",
        "bench-a, overtravel",
        "bench-b, overtravel",
        "bench-c, overtravel",
        "bench-d, overtravel",
        "bench-e, overtravel",
        "bench-f, overtravel",
        "bench-g, overtravel",
        "bench-h, overtravel",
        "bench-a, hold",
        "bench-b, hold",
        "bench-d, hold",
        "bench-e, hold",
        "bench-f, hold",
        "bench-g, hold",
        "bench-h, hold",
        "bench-a, travel-time",
        "bench-b, travel-time",
        "bench-d, travel-time",
        "bench-g, travel-time",
        "bench-a, ringing",
        "bench-b, ringing",
        "bench-e, ringing",
        "bench-h, ringing"
    })
    void covers_the_errors_of_a_capture_and_not_many_times_them(String capture, String key) {
        BenchRun run = BenchRun.of(capture);
        Judgement judgement = run.judge(options(capture), Optional.of(run.profile()));
        Measure measure = measure(key);
        double[] errors = errors(run, judgement, measure);

        double rms = Math.sqrt(Sample.of(squares(errors)).mean().orElseThrow());
        double stated = judgement
                .budgets()
                .orElseThrow()
                .of(key)
                .orElseThrow()
                .combined(0)
                .standard();

        // an rms of n values is uncertain by 1/√(2n) of itself; three of those
        assertThat(rms)
                .as("%s of %s, %d shifts", key, capture, errors.length)
                .isLessThan(stated * (1 + 3 / Math.sqrt(2.0 * errors.length)))
                .isGreaterThan(stated / 10);
    }

    private static Measure measure(String key) {
        for (Measure m : Measure.values()) {
            if (m.key().equals(key)) {
                return m;
            }
        }
        throw new IllegalArgumentException("no such measure: key=" + key);
    }

    private static double[] errors(BenchRun run, Judgement judgement, Measure measure) {
        List<Double> errors = new ArrayList<>();
        for (Shift shift : judgement.table().shifts()) {
            JsonNode truth = run.trueShifts().get(shift.number() - 1).get(measure.column());
            OptionalDouble number = shift.get(measure).number();
            if (truth != null && !truth.isNull() && number.isPresent()) {
                errors.add(number.getAsDouble() - truth.asDouble());
            }
        }
        double[] all = errors.stream().mapToDouble(e -> e).toArray();
        // a capture fixes angles only up to one offset of the whole
        double offset = measure == Measure.LANDING ? Sample.of(all).mean().orElseThrow() : 0;
        return errors.stream().mapToDouble(e -> e - offset).toArray();
    }

    private static double[] squares(double[] errors) {
        double[] squares = errors.clone();
        for (int i = 0; i < squares.length; i++) {
            squares[i] *= squares[i];
        }
        return squares;
    }

    @Test
    void there_is_none_without_a_rig_description() {
        BenchRun run = BenchRun.of("bench-a");

        assertThat(run.judge(JudgeOptions.defaults(), Optional.of(run.profile()))
                        .budgets())
                .isEmpty();
    }

    @Test
    void a_current_has_none_where_nobody_says_how_good_its_channel_is() {
        BenchRun run = BenchRun.of("bench-a");
        var budgets = run.judge(options("bench-a"), Optional.of(run.profile()))
                .budgets()
                .orElseThrow();

        assertThat(budgets.of("peak-current")).isEmpty();
        assertThat(budgets.of("energy")).isEmpty();
        assertThat(budgets.of("landing")).isPresent();
    }

    @Test
    void what_is_declared_of_a_reading_gets_into_its_measures_as_it_goes_together() {
        var rig = RigDescriptionReader.read(TextFile.of("x.rig.yaml", BARE_RIG.text() + """
                uncertainty:
                  - { what: backlash, of: angle, standard: 3 deg, nature: each, from: x }
                  - { what: mounting, of: angle, standard: 4 deg, nature: common, from: y }
                  - { what: reference, of: angle, standard: 1 %, nature: scale, from: z }
                study: { on: 2026-09-14, measure: hold, units: 5, mounts: 3, repeats: 2, shifts: 4, repeatability: 1 ms,
                  reproducibility: 2 ms }
                """));
        BenchRun run = BenchRun.of("bench-a");
        var budgets = run.judge(
                        JudgeOptions.defaults().withBench(BenchFacts.NONE.with(rig)), Optional.of(run.profile()))
                .budgets()
                .orElseThrow();

        Budget overtravel = budgets.of("overtravel").orElseThrow();
        assertThat(of(overtravel, "backlash (angle)")).hasValue(3 * Math.sqrt(2)); // two places, each its own
        assertThat(of(overtravel, "mounting (angle)")).isEmpty(); // the same at both: it cancels
        assertThat(of(overtravel, "reference (angle)")).hasValue(0.01);
        assertThat(of(budgets.of("landing").orElseThrow(), "mounting (angle)")).hasValue(4);
        Budget hold = budgets.of("hold").orElseThrow();
        assertThat(of(hold, "repeatability")).hasValue(0.002); // of one shift: a mean of four has half of it
        assertThat(of(hold, "reproducibility")).hasValue(0.002);
        assertThat(of(hold, "Hall noise")).isEmpty(); // in the repeats already
        assertThat(hold.contributions())
                .filteredOn(c -> c.name().equals("reproducibility"))
                .allSatisfy(c -> {
                    assertThat(c.nature()).isEqualTo(Nature.COMMON);
                    assertThat(c.degreesOfFreedom()).isEqualTo(2);
                });
    }

    private static OptionalDouble of(Budget budget, String name) {
        return budget.contributions().stream()
                .filter(c -> c.name().equals(name))
                .mapToDouble(c -> c.standardUncertainty())
                .findFirst();
    }

    /** A rig is described without knowing shifts: the list of measures there is held to the one here. */
    @Test
    void an_uncertainty_can_be_declared_for_every_measure_that_a_clause_may_use() {
        for (Measure measure : Measure.values()) {
            String entry = "uncertainty: [ { what: other, measure: " + measure.key() + ", standard: 1 "
                    + measure.unit().symbol() + ", nature: each, from: x } ]\n";
            TextFile text = TextFile.of("x.rig.yaml", BARE_RIG.text() + entry);
            if (measure.judged()) {
                assertThat(RigDescriptionReader.read(text).uncertainties())
                        .as(measure.key())
                        .hasSize(1);
            }
            assertThat(measure.unit()).isNotEqualTo(Unit.ONE);
        }
    }
}
