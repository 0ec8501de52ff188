package org.shiftstand.learn;

import java.util.List;
import java.util.Optional;
import org.shiftstand.shift.Measure;

/**
 * What captures of one kind of unit tell of it.
 *
 * @param bandDeg settle band b that everything was measured with, degrees
 * @param sources in the order given
 * @param units their ids, each once
 * @param positions sprockets 1…N
 * @param steps rows of the overtravel table: 1→2 … N−1→N, then N→N−1 … 2→1; all of them, also those not seen
 * @param jumps shifts over more than one sprocket that were seen, by from and to
 * @param hold within ± b
 * @param restHold within ± b/2
 * @param wakeUpError over all shifts, degrees
 * @param variations by measure: landing, overtravel, hold, rest-hold, travel-time, settle-time, ringing, return-ringing,
 *     creep, peak-current; those with values
 * @param signatures by direction and kind; empty without a current channel
 * @param measurementDeg standard uncertainty of an angle, the largest of the sources
 * @param notices for readers
 */
public record Learned(
        LearnOptions options,
        double bandDeg,
        List<LearnedSource> sources,
        List<String> units,
        SprocketCount sprockets,
        List<LearnedPosition> positions,
        List<LearnedStep> steps,
        List<LearnedStep> jumps,
        StoppingBias stopping,
        Dwell hold,
        Dwell restHold,
        Estimated wakeUpError,
        List<Variation> variations,
        List<CurrentSignature> signatures,
        double measurementDeg,
        List<Undecided> undecided,
        List<String> notices) {
    public Learned {
        sources = List.copyOf(sources);
        units = List.copyOf(units);
        positions = List.copyOf(positions);
        steps = List.copyOf(steps);
        jumps = List.copyOf(jumps);
        variations = List.copyOf(variations);
        signatures = List.copyOf(signatures);
        undecided = List.copyOf(undecided);
        notices = List.copyOf(notices);
    }

    /** The same with the signatures of the current, which come from the traces. */
    public Learned with(List<CurrentSignature> found) {
        return new Learned(
                options,
                bandDeg,
                sources,
                units,
                sprockets,
                positions,
                steps,
                jumps,
                stopping,
                hold,
                restHold,
                wakeUpError,
                variations,
                found,
                measurementDeg,
                undecided,
                notices);
    }

    /** The row of a shift between neighbours. */
    public LearnedStep step(int from, int to) {
        int n = positions.size();
        return steps.get(to > from ? from - 1 : n - 1 + n - from);
    }

    /** The sprocket that positions are counted from: 1, or the outermost that was seen. */
    public int origin() {
        return positions.stream()
                .filter(p -> Double.isFinite(p.programmedDeg()))
                .mapToInt(LearnedPosition::sprocket)
                .findFirst()
                .orElse(1);
    }

    public Optional<Variation> variation(Measure measure) {
        return variations.stream().filter(v -> v.measure() == measure).findFirst();
    }

    /** Rows that were not seen or cannot be told. */
    public List<LearnedStep> gaps() {
        return steps.stream()
                .filter(step -> step.overtravel() instanceof OvertravelPattern.Gap)
                .toList();
    }
}
