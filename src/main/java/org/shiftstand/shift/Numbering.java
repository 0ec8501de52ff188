package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.DoubleStream;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/**
 * Which sprocket is where, and which way is inboard.
 *
 * @param sense which way decoded angles grow
 * @param senseFrom {@code option}, {@code requests}, {@code profile} or {@code assumed}
 * @param centres centre of each sprocket seen, degrees, sense and offset applied
 * @param positions nominal of each sprocket: the profile's where aligned, else the centres
 * @param sprockets N
 * @param offsetDeg added to an angle, sense applied; 0 where not aligned
 * @param aligned whether the offset comes from a profile
 * @param sentence how numbers and origin were found
 * @param notices what a reader should be told once
 */
record Numbering(
        Sense sense,
        String senseFrom,
        SortedMap<Integer, Double> centres,
        SortedMap<Integer, Double> positions,
        int sprockets,
        double offsetDeg,
        boolean aligned,
        String sentence,
        List<String> notices) {

    /** @param undecided stretches whose angles may be whole turns off: nothing is placed by them */
    static Numbering of(
            List<RawShift> shifts, Optional<Profile> profile, ShiftOptions options, Set<Integer> undecided) {
        return new Work(shifts, profile, options, undecided).number();
    }

    /** False where a profile was given and the landings do not tell which sprocket is which. */
    boolean decided() {
        return notices.isEmpty();
    }

    OptionalDouble alignmentDeg() {
        return aligned ? OptionalDouble.of(offsetDeg) : OptionalDouble.empty();
    }

    /** An angle of the track in the frame of the positions. */
    double place(double trackDeg) {
        return trackDeg * sense.sign() + offsetDeg;
    }

    /** Where a profile has its sprockets, degrees of the track, laid over these shifts; empty where that is not decided. */
    static double[] nominal(List<RawShift> shifts, Optional<Profile> profile, ShiftOptions options) {
        Numbering numbering = of(shifts, profile, options, Set.of());
        return numbering.aligned
                ? numbering.positions.values().stream()
                        .mapToDouble(p -> (p - numbering.offsetDeg) * numbering.sense.sign())
                        .toArray()
                : new double[0];
    }

    /** The sprocket nearest to a place; 1 where none is known. */
    int nearest(double placeDeg) {
        int best = 1;
        double least = Double.MAX_VALUE;
        for (var e : positions.entrySet()) {
            if (Math.abs(e.getValue() - placeDeg) < least) {
                least = Math.abs(e.getValue() - placeDeg);
                best = e.getKey();
            }
        }
        return best;
    }

    /** How far an angle of the track is from the nearest position, in quarters of a pitch. */
    double misfit(double trackDeg) {
        double at = place(trackDeg);
        int sprocket = nearest(at);
        Double position = positions.get(sprocket);
        return position == null
                ? Double.POSITIVE_INFINITY
                : Math.abs(at - position) / (halfPitch(sprocket, at > position ? 1 : -1) / 2);
    }

    /** Half the pitch from a sprocket towards its neighbour on that side, or on the other where there is none. */
    double halfPitch(int sprocket, int side) {
        Double own = positions.get(sprocket);
        Double next = positions.get(sprocket + side);
        if (next == null) {
            next = positions.get(sprocket - side);
        }
        return own == null || next == null ? Double.NaN : Math.abs(next - own) / 2;
    }

    /** The steps, with what they share. */
    private static final class Work {
        private static final double QUARTER_TURN_DEG = 90;
        /** With landings at fewer sprockets one bad landing could move the median. */
        private static final int FEW = 3;

        private final List<RawShift> shifts;
        private final Optional<Profile> profile;
        private final ShiftOptions options;
        private final Set<Integer> undecided;
        private final List<String> notices = new ArrayList<>();

        Work(List<RawShift> shifts, Optional<Profile> profile, ShiftOptions options, Set<Integer> undecided) {
            this.shifts = shifts;
            this.profile = profile;
            this.options = options;
            this.undecided = undecided;
        }

        Numbering number() {
            boolean scripted = shifts.stream()
                    .anyMatch(s -> s.request.isPresent() && s.request.get().to().isPresent());
            return scripted ? byScript() : bySeen();
        }

        private Optional<Sense> bySense() {
            return options.sense().map(Sense::of);
        }

        /** Sense by what was asked for: the side most shifts moved to. */
        private Optional<Sense> byRequests() {
            int votes = 0;
            for (RawShift s : shifts) {
                boolean seen = !Double.isNaN(s.landingDeg) && !s.turnUncertain; // else its way is a guess
                votes += seen ? asked(s) * s.motionSign : 0;
            }
            return votes == 0 ? Optional.empty() : Optional.of(votes > 0 ? Sense.FORWARD : Sense.REVERSED);
        }

        private static int asked(RawShift s) {
            if (s.request.isEmpty()) {
                return 0;
            }
            var request = s.request.get();
            if (request.direction().isPresent()) {
                return request.direction().get().sign();
            }
            return request.from().isPresent() && request.to().isPresent()
                    ? Integer.signum(request.to().getAsInt() - request.from().getAsInt())
                    : 0;
        }

        private String senseFrom() {
            if (options.sense().isPresent()) {
                return "option";
            }
            return byRequests().isPresent() ? "requests" : "assumed";
        }

        private List<Centres.Place> places(Sense sense) {
            List<Centres.Place> places = new ArrayList<>();
            double landedBefore = Double.NaN;
            int part = 0;
            for (RawShift s : undisturbed()) {
                if (s.part == part && !Double.isNaN(s.startDeg) && !near(s.startDeg, landedBefore)) {
                    places.add(new Centres.Place(
                            s.startDeg * sense.sign(), Direction.of(-s.motionSign * sense.sign()), startOf(s)));
                }
                part = s.part; // behind a break it may have been found anywhere
                landedBefore = s.landingDeg;
                if (!Double.isNaN(s.landingDeg) && !s.turnUncertain) {
                    int to = s.request
                            .filter(r -> r.cycle().orElse(1) > 0)
                            .map(r -> r.to().orElse(0))
                            .orElse(0);
                    places.add(new Centres.Place(
                            s.landingDeg * sense.sign(),
                            Direction.of(s.motionSign * sense.sign()),
                            s.left ? to : 0,
                            s.atCaptureEnd || s.damagedNext != null || s.evidence != Evidence.COMPLETE));
                }
            }
            return places;
        }

        /** Whether it is where it was left, but for creeping; not where shifts between are left out, or nothing is known. */
        private static boolean near(double startDeg, double leftDeg) {
            return Math.abs(startDeg - leftDeg) <= QUARTER_TURN_DEG;
        }

        /** The longest row of shifts in which the shaft did not turn by more than a quarter turn while it slept. */
        private List<RawShift> undisturbed() {
            List<RawShift> longest = List.of();
            List<RawShift> row = new ArrayList<>();
            double last = Double.NaN;
            int part = 0;
            for (RawShift s : shifts) {
                last = s.part == part ? last : Double.NaN;
                part = s.part;
                if (undecided.contains(s.startStretch) || undecided.contains(s.landingStretch)) {
                    last = Double.NaN; // nothing is known to have moved unseen
                    continue;
                }
                if (Math.abs(s.startDeg - last) > QUARTER_TURN_DEG) {
                    longest = row.size() > longest.size() ? row : longest;
                    row = new ArrayList<>();
                }
                row.add(s);
                last = s.landingDeg;
            }
            return row.size() > longest.size() ? row : longest;
        }

        private static int startOf(RawShift s) {
            return s.request.isPresent() ? s.request.get().from().orElse(0) : 0;
        }

        private Numbering byScript() {
            Sense sense = bySense().or(this::byRequests).orElse(Sense.FORWARD);
            SortedMap<Integer, Double> centres = Centres.byTarget(places(sense), options.bandDeg());
            if (profile.isPresent()) {
                Profile p = profile.get();
                double[] misses = centres.entrySet().stream()
                        .filter(e -> e.getKey() <= p.sprockets())
                        .mapToDouble(e -> p.positionDeg(e.getKey()) - e.getValue())
                        .toArray();
                Optional<Numbering> atRest =
                        misses.length < FEW ? byFirstRest(sense, centres, misses) : Optional.empty();
                if (atRest.isPresent()) {
                    return atRest.get();
                }
                if (misses.length > 0) {
                    return aligned(
                            sense,
                            senseFrom(),
                            centres,
                            Centres.median(misses),
                            "numbers from the script; aligned to the profile, so a bias common to all sprockets is not"
                                    + " measured");
                }
            }
            int n = shifts.stream()
                    .filter(s -> s.request.isPresent())
                    .mapToInt(s -> Math.max(
                            s.request.get().to().orElse(1),
                            s.request.get().from().orElse(1)))
                    .max()
                    .orElse(1);
            return plain(sense, centres, n, "numbers from the script; the origin is arbitrary");
        }

        /**
         * Aligned by the rest before the first shift of the script, whose sprocket is known, and by those landings that
         * agree with it within a quarter pitch: a landing that missed must not become its own nominal.
         */
        private Optional<Numbering> byFirstRest(Sense sense, SortedMap<Integer, Double> centres, double[] misses) {
            Optional<RawShift> first = shifts.stream()
                    .filter(s ->
                            startOf(s) > 0 && s.request.orElseThrow().cycle().orElse(1) > 0)
                    .findFirst()
                    .filter(s -> !Double.isNaN(s.startDeg) && !undecided.contains(s.startStretch))
                    .filter(s -> startOf(s) <= profile.orElseThrow().sprockets());
            if (first.isEmpty()) {
                return Optional.empty();
            }
            Profile p = profile.orElseThrow();
            int sprocket = startOf(first.get());
            double rest = p.positionDeg(sprocket) - first.get().startDeg * sense.sign();
            int neighbour = sprocket < p.sprockets() ? sprocket + 1 : sprocket - 1;
            double quarter = Math.abs(p.positionDeg(neighbour) - p.positionDeg(sprocket)) / 4;
            double[] agreeing = DoubleStream.concat(
                            DoubleStream.of(rest),
                            DoubleStream.of(misses).filter(miss -> Math.abs(miss - rest) <= quarter))
                    .toArray();
            return Optional.of(aligned(
                    sense,
                    senseFrom(),
                    centres,
                    Centres.median(agreeing),
                    "numbers from the script; few sprockets have landings, so the rest before the first shift, taken to be"
                            + " at sprocket " + sprocket + ", is aligned to the profile too; a bias common to all"
                            + " sprockets, and one of that rest, are not measured"));
        }

        private Numbering bySeen() {
            Sense sense = bySense().or(this::byRequests).orElse(Sense.FORWARD);
            boolean senseKnown = bySense().isPresent() || byRequests().isPresent();
            if (profile.isPresent()) {
                List<Sense> senses = senseKnown ? List.of(sense) : List.of(Sense.FORWARD, Sense.REVERSED);
                double[] seen = Centres.groups(places(Sense.FORWARD), options.bandDeg()).stream()
                        .mapToDouble(Centres::centre)
                        .toArray();
                Optional<Alignment.Choice> choice = seen.length == 0
                        ? Optional.empty()
                        : Alignment.choose(
                                seen,
                                profile.get(),
                                senses,
                                options.firstSprocket().orElse(0));
                if (choice.isPresent() && choice.get().decided()) {
                    return byProfile(choice.get().best(), senseKnown);
                }
                notices.add(undecided(choice, senseKnown));
            }
            int first = options.firstSprocket().orElse(1);
            SortedMap<Integer, Double> centres = new TreeMap<>();
            for (var group : Centres.groups(places(sense), options.bandDeg())) {
                centres.put(first + centres.size(), Centres.centre(group));
            }
            String sentence = "the outermost landing seen is sprocket " + first
                    + (options.firstSprocket().isPresent() ? ", as said" : ", assumed")
                    + "; the origin is arbitrary"
                    + (senseKnown ? "" : "; the sense is assumed forward");
            return plain(sense, centres, first - 1 + centres.size(), sentence);
        }

        private static String undecided(Optional<Alignment.Choice> choice, boolean senseKnown) {
            String what = senseKnown ? "numbers" : "sense and numbers";
            String why = choice.map(c -> String.format(
                            Locale.ROOT,
                            "the best fit to the profile leaves %.1f deg (%s, first sprocket %d), the next %.1f deg (%s, first"
                                    + " sprocket %d), which is not %.0f times worse",
                            c.best().residualDeg(),
                            c.best().sense().word(),
                            c.best().sprockets()[0],
                            c.next().map(Alignment::residualDeg).orElse(0.0),
                            c.next().map(n -> n.sense().word()).orElse(""),
                            c.next().map(n -> n.sprockets()[0]).orElse(0),
                            Alignment.CLEAR))
                    .orElse("the landings do not fit the profile in any way");
            return what + " are not decided: " + why + "; say --sense forward or reversed, and --first-sprocket K";
        }

        private Numbering byProfile(Alignment best, boolean senseKnown) {
            SortedMap<Integer, Double> centres = new TreeMap<>();
            var groups = Centres.groups(places(best.sense()), options.bandDeg());
            for (int i = 0; i < groups.size(); i++) {
                centres.put(best.sprockets()[i], Centres.centre(groups.get(i)));
            }
            return aligned(
                    best.sense(),
                    senseKnown ? senseFrom() : "profile",
                    centres,
                    best.offsetDeg(),
                    String.format(
                            Locale.ROOT,
                            "aligned to the profile by its landings (%.1f deg left), so a bias common to all sprockets is"
                                    + " not measured",
                            best.residualDeg()));
        }

        private Numbering aligned(
                Sense sense, String from, SortedMap<Integer, Double> centres, double offset, String sentence) {
            SortedMap<Integer, Double> shifted = new TreeMap<>();
            centres.forEach((s, c) -> shifted.put(s, c + offset));
            SortedMap<Integer, Double> positions = new TreeMap<>();
            int n = profile.map(Profile::sprockets).orElse(0);
            for (int s = 1; s <= n; s++) {
                positions.put(s, profile.get().positionDeg(s));
            }
            return new Numbering(sense, from, shifted, positions, n, offset, true, sentence, notices);
        }

        private Numbering plain(Sense sense, SortedMap<Integer, Double> centres, int n, String sentence) {
            return new Numbering(
                    sense,
                    senseFrom(),
                    centres,
                    centres,
                    profile.map(p -> Math.max(p.sprockets(), n)).orElse(n),
                    0,
                    false,
                    sentence,
                    notices);
        }
    }
}
