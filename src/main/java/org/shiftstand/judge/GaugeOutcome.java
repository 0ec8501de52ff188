package org.shiftstand.judge;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.shiftstand.bench.GaugeValues;
import org.shiftstand.bench.StudyResult;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Spec;
import org.shiftstand.stats.AverageAndRange;
import org.shiftstand.stats.CrossedAnova;
import org.shiftstand.stats.GaugeVariation;

/**
 * Everything that a gauge study tells.
 *
 * @param measure what was studied; empty for bare numbers
 * @param repeatabilityIsTheRigs whether the repeats' spread counts as the rig's, or is the units' own
 * @param spec what the rig is to judge
 * @param abilities of the spec's clauses on the measure
 */
public record GaugeOutcome(
        GaugeValues values,
        Optional<Measure> measure,
        CrossedAnova anova,
        AverageAndRange ranges,
        boolean repeatabilityIsTheRigs,
        Optional<Spec> spec,
        List<ClauseAbility> abilities) {
    public GaugeOutcome {
        abilities = List.copyOf(abilities);
    }

    /** Evaluates; nothing is held against a spec without a measure. */
    public static GaugeOutcome of(
            GaugeValues values, Optional<Measure> measure, boolean repeatabilityIsTheRigs, Optional<Spec> spec) {
        CrossedAnova anova = CrossedAnova.of(values.study());
        var bare = new GaugeOutcome(
                values, measure, anova, AverageAndRange.of(values.study()), repeatabilityIsTheRigs, spec, List.of());
        List<ClauseAbility> abilities = measure.flatMap(m -> spec.map(s -> ClauseAbilities.of(
                        bare.result(m, LocalDate.EPOCH), values.study().mean(), s)))
                .orElse(List.of());
        return new GaugeOutcome(values, measure, anova, bare.ranges, repeatabilityIsTheRigs, spec, abilities);
    }

    /**
     * What a rig description keeps of it, by the analysis of variance. What a mounting adds is what mounts have in common and
     * what unit and mount have together: a unit that is clamped anew has a mount of its own.
     */
    public StudyResult result(Measure of, LocalDate on) {
        GaugeVariation v = anova.variation();
        return new StudyResult(
                on,
                of.key(),
                values.units().size(),
                values.mounts().size(),
                values.study().repeats(),
                values.shifts(),
                v.repeatability(),
                Math.hypot(v.reproducibility(), v.interaction()),
                repeatabilityIsTheRigs);
    }
}
