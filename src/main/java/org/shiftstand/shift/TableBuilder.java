package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/** Turns measured spans into a table: numbers, frame, outcomes, and the measures that need them. */
final class TableBuilder {
    private static final String RETURN_MISSING = "the capture ends soon after a rest, a return may be missing";
    private static final String RETURN_DAMAGED =
            "samples are missing or faulty soon after a rest, a return may be among them";
    private static final String MAY_BE_RETURN =
            "it ends at the sprocket where it began, behind damaged samples: it may be the return of a motion among them";
    private static final String CUT_AT_PLATEAU = "the supply was cut soon after a rest, a return may be missing";

    /** Measures that mean nothing where whole turns may be lost. */
    private static final List<Measure> NEED_THE_TURN = List.of(
            Measure.START, Measure.PLATEAU, Measure.LANDING, Measure.LANDING_ERROR, Measure.EXTREME, Measure.CLEARANCE);
    /** Outcomes told by where it landed. */
    private static final Set<Outcome> NEED_THE_PLACE =
            EnumSet.of(Outcome.LANDED, Outcome.SHORT, Outcome.STALLED, Outcome.DOUBLE);

    private final List<RawShift> raw;
    private final Optional<Profile> profile;
    private final ShiftOptions options;
    private final Numbering numbering;
    private final OutcomeRules rules;
    private final Parts parts;
    private final Turns.Anchored anchored;
    private final SprocketFrame frame;
    private final double cycleDeg;
    /** Indices of those whose landings miss every nominal. */
    private final Set<Integer> turnLost;

    private final List<Shift> shifts = new ArrayList<>();

    private int cycle;
    private int lastTo;
    private double lastLandingDeg = Double.NaN;
    private boolean any;
    private int lastWay = 1;
    /** Whether a motion was damaged before in this part: from there on sprockets cannot be counted from one shift to the next. */
    private boolean countLost;
    /** What the shift before is damaged by, so that where it led to was not seen; null where it is not. */
    private @Nullable Evidence damagedBefore;

    /** What lies before the next shift is not known: the run begins, or goes on behind a break. */
    private boolean firstOfPart = true;

    private int part;
    /** By part: number of the shift that was broken off at its end, and of its last shift. */
    private final Map<Integer, Integer> brokenOff = new TreeMap<>();

    private final Map<Integer, Integer> lastBefore = new TreeMap<>();

    private TableBuilder(
            List<RawShift> raw,
            Optional<Profile> profile,
            ShiftOptions options,
            Parts parts,
            Turns.Anchored anchored,
            Numbering numbering,
            double cycleDeg) {
        this.raw = raw;
        this.profile = profile;
        this.options = options;
        this.numbering = numbering;
        this.rules = new OutcomeRules(numbering, options);
        this.parts = parts;
        this.anchored = anchored;
        this.cycleDeg = cycleDeg;
        this.turnLost = new LostTurns(raw, numbering, parts, anchored, options.bandDeg()).indices();
        this.frame = new SprocketFrame(numbering, profile, options);
    }

    /**
     * All of it.
     *
     * @param found what was found in each part of the run, a break between two
     * @param cycleDeg one electrical turn, degrees of the shaft
     */
    static ShiftTable build(
            List<List<Chain>> found,
            List<SampleSource.Break> breaks,
            double cycleDeg,
            Optional<Profile> profile,
            ShiftOptions options) {
        Parts parts = new Parts(found, breaks, profile, options.bandDeg(), cycleDeg);
        List<RawShift> raw = new ArrayList<>(parts.usual());
        List<RawShift> all = parts.all();
        Turns.Anchored anchored = Turns.anchor(
                parts.placed(),
                all,
                options.bandDeg(),
                cycleDeg,
                some -> Numbering.nominal(some, profile, options),
                parts.reference());
        if (all.size() > raw.size()) {
            Numbering first = Numbering.of(raw, profile, options, anchored.undecided());
            if (first.aligned()) {
                raw.clear();
                parts.chains().forEach(chain -> raw.addAll(chain.fitting((s, deg) -> first.misfit(deg))));
            }
        }
        Set<Integer> undecided = new TreeSet<>(anchored.undecided());
        Numbering numbering = Numbering.of(raw, profile, options, undecided);
        if (undecided.addAll(againstTheScript(raw, numbering))) {
            numbering = Numbering.of(raw, profile, options, undecided);
        }
        Turns.Anchored believed = new Turns.Anchored(undecided, anchored.turns());
        return new TableBuilder(raw, profile, options, parts, believed, numbering, cycleDeg).table();
    }

    /**
     * Stretches behind a damaged motion whose places have the shaft start from another sprocket than the script asked for
     * before: either it went elsewhere unseen, or the whole turns are wrong. A step between sprockets is near a number of
     * whole turns in many drives, and lost evidence accuses no unit.
     */
    private static Set<Integer> againstTheScript(List<RawShift> raw, Numbering numbering) {
        Set<Integer> stretches = new TreeSet<>();
        for (int i = 1; i < raw.size(); i++) {
            RawShift before = raw.get(i - 1);
            RawShift s = raw.get(i);
            boolean opens = before.part == s.part
                    && before.turnUncertain
                    && before.request.isPresent()
                    && before.landingStretch == s.startStretch;
            OptionalInt from = startOfRequest(s);
            if (opens && from.isPresent() && displaced(s, numbering.place(s.startDeg), from.getAsInt(), numbering)) {
                stretches.add(s.startStretch);
            }
        }
        return stretches;
    }

    /** What is lost where an electrical turn is, in words. */
    static String turns(double cycleDeg) {
        return cycleDeg == 360
                ? "whole turns"
                : cycleDeg == 180 ? "half turns" : String.format(Locale.ROOT, "turns of %.0f deg", cycleDeg);
    }

    private ShiftTable table() {
        List<String> notices = new ArrayList<>(numbering.notices());
        List<Integer> lostShifts = new ArrayList<>();
        boolean asked = false;
        for (int i = 0; i < raw.size(); i++) {
            RawShift s = raw.get(i);
            boolean lost = turnLost.contains(i)
                    || anchored.unplaced(s.startDeg, s.startStretch)
                    || anchored.unplaced(s.landingDeg, s.landingStretch);
            if (s.part != part) {
                for (; part < s.part; part++) {
                    lastBefore.put(part, shifts.size());
                }
                firstOfPart = true;
                damagedBefore = null;
                countLost = false;
                lastTo = 0;
                asked = false;
            }
            asked |= s.request.isPresent();
            boolean bySelf =
                    part > 0 && parts.scripted() && !asked; // the unit finds its place when it is powered again
            if (parts.homing(s) || bySelf) {
                lastLandingDeg = numbering.place(s.landingDeg);
                lastTo = lastTo(s);
                any = true;
                firstOfPart = false;
                continue;
            }
            if (lost) {
                lostShifts.add(shifts.size() + 1);
            }
            shifts.add(shift(s, lost));
            damagedBefore = s.damaged ? s.evidence : null;
            countLost |= s.turnUncertain;
        }
        if (!lostShifts.isEmpty()) {
            notices.add("turn lost: " + (lostShifts.size() == 1 ? "in shift " : "in shifts ") + ranges(lostShifts)
                    + " angles may be " + turns(cycleDeg) + " off and are not measured");
        }
        if (raw.stream().anyMatch(s -> s.groupingDoubtful)) {
            notices.add(
                    "some returns are nearly as long as the motion before (0.5 to 0.75 of it): whether they belong to"
                            + " the same shift is doubtful; requests in the capture would tell");
        }
        List<Resumption> resumptions = parts.resumptions(lastBefore, shifts.size(), brokenOff, anchored);
        resumptions.forEach(resumption -> notices.add(resumption.sentence()));
        return new ShiftTable(
                shifts,
                numbering.sprockets(),
                options.bandDeg(),
                numbering.sense().word(),
                numbering.senseFrom(),
                numbering.sentence(),
                numbering.alignmentDeg(),
                false,
                lostShifts.isEmpty() ? OptionalInt.empty() : OptionalInt.of(lostShifts.get(0)),
                resumptions,
                notices);
    }

    /** After homing it is at the outermost sprocket, after a walk back where that led to. */
    private int lastTo(RawShift s) {
        if (Double.isNaN(s.landingDeg)) {
            return lastTo;
        }
        return s.request.isPresent() && s.request.get().to().isEmpty()
                ? 1
                : numbering.nearest(numbering.place(s.landingDeg));
    }

    /** Ascending numbers as {@code 3, 5–9}. */
    private static String ranges(List<Integer> numbers) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < numbers.size(); i++) {
            int first = numbers.get(i);
            while (i + 1 < numbers.size() && numbers.get(i + 1) == numbers.get(i) + 1) {
                i++;
            }
            text.append(text.isEmpty() ? "" : ", ").append(first);
            text.append(numbers.get(i) == first ? "" : "–" + numbers.get(i));
        }
        return text.toString();
    }

    private Shift shift(RawShift s, boolean turnLost) {
        double start = anchored.unplaced(s.startDeg, s.startStretch) ? Double.NaN : numbering.place(s.startDeg);
        boolean landingUnplaced = anchored.unplaced(s.landingDeg, s.landingStretch) || turnLost;
        double landing = landingUnplaced ? Double.NaN : numbering.place(s.landingDeg);
        int way = way(s);
        int from = from(s, start, landing, way);
        boolean askedFor =
                target(s).isPresent() || s.request.flatMap(Request::direction).isPresent();
        int to = to(s, from, landing, way, askedFor);
        boolean cutOff = cutOff(s, landing, from, to, askedFor);
        if (cutOff && s.lastBeforeBreak && !s.brokenOff) {
            Parts.breakOff(s);
            landing = Double.NaN;
            landingUnplaced = false;
        }
        boolean displaced = !s.brokenOff && displaced(s, start, from, numbering);
        Map<Measure, Measured> measures = s.take();
        frame.place(measures);
        List<String> notes = new ArrayList<>(s.notes());
        creep(measures, numbering.place(s.startDeg));
        frame.landingError(measures, landing, to, turnLost);
        frame.clearance(measures, s, turnLost);
        cutOff &= !s.brokenOff;
        boolean interrupted = cutOff && s.cutAtRest;
        Outcome outcome = interrupted ? Outcome.INTERRUPTED : cutOff ? Outcome.UNKNOWN : rules.of(s, to, askedFor, way);
        Evidence evidence =
                cutOff && !interrupted ? Objects.requireNonNullElse(s.damagedNext, Evidence.PARTIAL) : s.evidence;
        if (landingUnplaced && NEED_THE_PLACE.contains(outcome)) {
            outcome = Outcome.UNKNOWN;
            evidence = evidence == Evidence.COMPLETE ? Evidence.GAP : evidence;
        }
        Evidence unseen = damagedBefore != null ? damagedBefore : s.damagedRest;
        if (unseen != null && s.left && from == to && outcome == Outcome.LANDED && s.request.isEmpty()) {
            outcome = Outcome.UNKNOWN;
            evidence = unseen;
            notes.add("outcome: " + MAY_BE_RETURN);
            refuse(measures, MissingReturn.NEED_THE_MOTION_BEFORE, MAY_BE_RETURN);
        }
        if (cutOff) {
            String seenOnly = s.damagedNext == null ? RETURN_MISSING : RETURN_DAMAGED;
            String missing = interrupted ? CUT_AT_PLATEAU : seenOnly;
            notes.add("outcome: " + missing);
            MissingReturn.CHANGES.forEach(measure -> measures.put(measure, new Measured.NotMeasured(missing)));
        }
        if (s.brokenOff) {
            brokenOff.put(s.part, shifts.size() + 1);
            notes.add("outcome: the run was broken off in the shift" + ofCycle(s) + "; no clause is about it");
        }
        if (outcome == Outcome.UNKNOWN && evidence == Evidence.COMPLETE && !numbering.decided()) {
            notes.add("outcome: the numbers of the sprockets are not decided");
        }
        if (s.groupingDoubtful) {
            notes.add("grouping: the return is nearly as long as the motion before");
        }
        if (way(s) != 0 && s.motionSign == 0 && s.request.isEmpty()) {
            notes.add("direction: not known without motion, that of the shift before is given");
        }
        if (turnLost) {
            notes.add("turn lost: angles may be " + turns(cycleDeg) + " off");
            refuse(measures, NEED_THE_TURN, "turn lost");
        }
        boolean unsure = turnLost && (startOfRequest(s).isEmpty() || target(s).isEmpty());
        if (unsure) {
            notes.add(Shift.SPROCKETS_UNSURE);
        }
        if (unsure && countLost) { // nor whether it is the return of the one before
            refuse(measures, MissingReturn.NEED_THE_MOTION_BEFORE, Shift.SPROCKETS_UNSURE);
        }
        if (!any || from == outermost() && s.left) {
            cycle++;
        }
        int number = shifts.size() + 1;
        any = true;
        lastTo = outcome == Outcome.LANDED || !Double.isNaN(landing) ? numbering.nearest(landing) : to;
        if (s.turnUncertain) {
            lastTo = to;
        }
        lastLandingDeg = s.turnUncertain ? Double.NaN : numbering.place(s.landingDeg);
        lastWay = way;
        firstOfPart = false;
        int scriptCycle = s.request.map(r -> r.cycle().orElse(0)).orElse(0);
        return new Shift(
                number,
                s.brokenOff ? 0 : scriptCycle > 0 ? scriptCycle : Math.max(1, cycle),
                from,
                to,
                way < 0 ? Direction.OUTBOARD : Direction.INBOARD,
                outcome,
                evidence,
                displaced,
                unsure,
                s.request.flatMap(Request::step),
                s.request.map(Request::supplyV).orElse(OptionalDouble.empty()),
                measures,
                notes);
    }

    private static void refuse(Map<Measure, Measured> measures, List<Measure> what, String reason) {
        for (Measure m : what) {
            if (measures.get(m) instanceof Measured.Value) {
                measures.put(m, new Measured.NotMeasured(reason));
            }
        }
    }

    private static String ofCycle(RawShift s) {
        int cycle = s.request.map(r -> r.cycle().orElse(0)).orElse(0);
        return cycle > 0 ? ", in cycle " + cycle : "";
    }

    private int outermost() {
        return numbering.centres().isEmpty() ? 1 : numbering.centres().firstKey();
    }

    /** +1 or −1: what was asked for, else the motion. */
    private int way(RawShift s) {
        if (s.request.isPresent()) {
            Request r = s.request.get();
            if (r.direction().isPresent()) {
                return r.direction().get().sign();
            }
            if (r.from().isPresent() && r.to().isPresent() && r.from().getAsInt() != r.to().getAsInt()) {
                return Integer.signum(r.to().getAsInt() - r.from().getAsInt());
            }
        }
        return s.motionSign != 0 ? s.motionSign * numbering.sense().sign() : lastWay;
    }

    private static OptionalInt startOfRequest(RawShift s) {
        return s.request.map(Request::from).orElse(OptionalInt.empty());
    }

    private static OptionalInt target(RawShift s) {
        return s.request.isPresent() ? s.request.get().to() : OptionalInt.empty();
    }

    private int from(RawShift s, double start, double landing, int way) {
        if (startOfRequest(s).isPresent()) {
            return startOfRequest(s).getAsInt();
        }
        if (!Double.isNaN(start)) {
            return numbering.nearest(start);
        }
        if (lastTo > 0) {
            return lastTo;
        }
        return Double.isNaN(landing) ? outermost() : clip(numbering.nearest(landing) - way);
    }

    private int to(RawShift s, int from, double landing, int way, boolean askedFor) {
        if (target(s).isPresent()) {
            return target(s).getAsInt();
        }
        if (askedFor) {
            return clip(from + way);
        }
        if (!s.left && !s.turnUncertain) {
            return from;
        }
        return Double.isNaN(landing) ? clip(from + way) : numbering.nearest(landing);
    }

    private int clip(int sprocket) {
        return Math.max(1, Math.min(Math.max(1, numbering.sprockets()), sprocket));
    }

    private static boolean displaced(RawShift s, double start, int from, Numbering numbering) {
        Double own = numbering.positions().get(from);
        if (startOfRequest(s).isEmpty() || own == null || Double.isNaN(start)) {
            return false;
        }
        double half = numbering.halfPitch(from, start > own ? 1 : -1);
        return Math.abs(start - own) > half;
    }

    private void creep(Map<Measure, Measured> measures, double start) {
        if (!any || firstOfPart) {
            measures.put(Measure.CREEP, new Measured.NotApplicable());
        } else if (Double.isNaN(start)) {
            measures.putIfAbsent(Measure.CREEP, new Measured.NotMeasured("the start is not measured"));
        } else if (Double.isNaN(lastLandingDeg)) {
            measures.put(Measure.CREEP, new Measured.NotMeasured("the landing before is not measured"));
        } else {
            measures.put(Measure.CREEP, new Measured.Value(start - lastLandingDeg));
        }
    }

    /**
     * Whether the capture may have ended at a plateau: a profile programs overtravel there and no return was seen, or
     * it rests at no sprocket.
     */
    private boolean cutOff(RawShift s, double landing, int from, int to, boolean askedFor) {
        boolean mayBePlateau = !Double.isNaN(s.seenAfterLandingS) && !Double.isNaN(s.landingDeg) && s.left;
        if (!mayBePlateau || Double.isNaN(landing) && s.damagedNext == null) {
            return false;
        }
        if (MissingReturn.known(profile, from, to)) {
            return MissingReturn.byProfile(s, profile.orElseThrow(), from, to);
        }
        if (s.damagedNext != null) {
            return MissingReturn.byUsualHold(s);
        }
        if (askedFor || !s.atCaptureEnd) {
            return false;
        }
        int nearest = numbering.nearest(landing);
        Double position = numbering.positions().get(nearest);
        return position != null
                && Math.abs(landing - position) > numbering.halfPitch(nearest, landing > position ? 1 : -1) / 2;
    }
}
