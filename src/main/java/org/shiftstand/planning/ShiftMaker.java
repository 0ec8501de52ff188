package org.shiftstand.planning;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.NominalShift;
import org.shiftstand.spec.PlannedShift;

/** Makes the shift table of a unit that there is only in thought: complete, every shift landed unless a fault says not. */
final class ShiftMaker {
    /**
     * A planned shift and its place in the whole plan, from 0.
     *
     * @param index decides what chance deals it
     */
    record Placed(int index, PlannedShift shift) {}

    private static final Measured NOT_APPLICABLE = new Measured.NotApplicable();

    private final Profile profile;
    private final SoundUnit unit;
    private final double bandDeg;
    private final Set<Measure> wanted;
    private final Outcome wrong;

    /**
     * @param wanted measures to make; the others do not apply
     * @param wrong outcome of a shift that goes wrong
     */
    ShiftMaker(Profile profile, SoundUnit unit, double bandDeg, Set<Measure> wanted, Outcome wrong) {
        this.profile = profile;
        this.unit = unit;
        this.bandDeg = bandDeg;
        this.wanted = wanted;
        this.wrong = wrong;
    }

    /**
     * The table of one run.
     *
     * @param spread factor on the scatter of every measure
     * @param fault in each wanted measure
     */
    ShiftTable make(List<Placed> plan, Scores scores, double spread, Optional<Fault> fault) {
        List<Shift> shifts = new ArrayList<>(plan.size());
        for (Placed placed : plan) {
            shifts.add(make(shifts.size() + 1, placed, scores, spread, fault));
        }
        return new ShiftTable(
                shifts,
                profile.sprockets(),
                bandDeg,
                "forward",
                "assumed",
                "as planned",
                OptionalDouble.of(0),
                true,
                OptionalInt.empty(),
                List.of());
    }

    private Shift make(int number, Placed placed, Scores scores, double spread, Optional<Fault> fault) {
        PlannedShift shift = placed.shift();
        Optional<Fault> here = fault.filter(f -> f.at(shift));
        Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
        for (Measure measure : Measure.values()) {
            measures.put(
                    measure, wanted.contains(measure) ? value(measure, placed, scores, spread, here) : NOT_APPLICABLE);
        }
        boolean goesWrong = here.filter(f -> f.worsening() == Worsening.SHARE)
                .filter(f -> scores.uniform(placed.index(), shift.cycle()) < f.size())
                .isPresent();
        return new Shift(
                number,
                shift.cycle(),
                shift.from(),
                shift.to(),
                shift.direction(),
                goesWrong ? wrong : Outcome.LANDED,
                Evidence.COMPLETE,
                false,
                false,
                shift.step(),
                shift.supplyV(),
                measures,
                List.of());
    }

    private Measured value(Measure measure, Placed placed, Scores scores, double spread, Optional<Fault> fault) {
        var nominal =
                new NominalShift(profile, placed.shift().from(), placed.shift().to());
        OptionalDouble typical = unit.typical(measure, nominal);
        boolean ofPlateau =
                measure == Measure.HOLD || measure == Measure.REST_HOLD || measure == Measure.RETURN_RINGING;
        boolean first = measure == Measure.CREEP && placed.index() == 0;
        boolean none = !nominal.overtravels().orElse(true);
        if ((ofPlateau && none) || first) {
            return NOT_APPLICABLE;
        }
        if (typical.isEmpty() || (ofPlateau && nominal.overtravels().isEmpty())) {
            return new Measured.NotMeasured("the profile does not say what is nominal");
        }
        double middle = typical.getAsDouble();
        // no plateau: exactly 0, as it is measured
        boolean still = measure == Measure.OVERTRAVEL && none;
        double sound = middle + (still ? 0 : spread * deviation(measure, placed, scores));
        double value = fault.isPresent() ? fault.get().bend(sound, middle, placed.shift(), unit.sd(measure)) : sound;
        return new Measured.Value(Fault.signed(measure) ? value : Math.max(0, value));
    }

    /** What is made of a landing scatters with it: a unit that lands farther inboard has also been farther. */
    private double deviation(Measure measure, Placed placed, Scores scores) {
        int sign = placed.shift().direction().sign();
        return switch (measure) {
            case LANDING, LANDING_ERROR, EXTREME -> draw(Measure.LANDING, placed, scores);
            case CLEARANCE -> -sign * draw(Measure.LANDING, placed, scores);
            case REQUEST,
                    MOTION_START,
                    START,
                    PLATEAU,
                    OVERTRAVEL,
                    RINGING,
                    HOLD,
                    TRAVEL_TIME,
                    SETTLED,
                    SETTLE_TIME,
                    CREEP,
                    WAKE_UP_ERROR,
                    PEAK_CURRENT,
                    CHARGE,
                    RETURN_RINGING,
                    REST_HOLD,
                    ENERGY -> draw(measure, placed, scores);
        };
    }

    private double draw(Measure source, Placed placed, Scores scores) {
        return unit.sd(source)
                * scores.normal(placed.index(), Math.max(1, placed.shift().cycle()), source.ordinal());
    }
}
