package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeMap;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;

/**
 * The parts of a run between its breaks: which shift was under way at each break, and by how many electrical turns each part is
 * put onto the first, told by the rests after homing. A run without breaks is one part, and nothing changes.
 */
final class Parts {
    /** Rests after homing agree far better than this; one that does not was not reached by homing. */
    private static final double PART_OF_TURN = 0.25;

    /** What is known of a shift that was broken off. */
    private static final Set<Measure> OF_THE_START =
            EnumSet.of(Measure.REQUEST, Measure.START, Measure.MOTION_START, Measure.CREEP, Measure.WAKE_UP_ERROR);

    private final List<List<Chain>> found;
    private final List<SampleSource.Break> breaks;
    private final Optional<Profile> profile;
    private final double bandDeg;
    private final double cycleDeg;
    private final boolean scripted;
    private final List<List<RawShift>> usual = new ArrayList<>();
    /** By part: turns added; absent where homing did not tell them. */
    private final Map<Integer, Integer> turns = new TreeMap<>();

    private OptionalInt base = OptionalInt.empty();

    /**
     * Numbers parts and stretches in the shifts, marks those broken off and adds turns by homing.
     *
     * @param found what was found in each part, from the first on
     * @param cycleDeg one electrical turn, degrees of the shaft
     */
    Parts(
            List<List<Chain>> found,
            List<SampleSource.Break> breaks,
            Optional<Profile> profile,
            double bandDeg,
            double cycleDeg) {
        this.found = found;
        this.breaks = breaks;
        this.profile = profile;
        this.bandDeg = bandDeg;
        this.cycleDeg = cycleDeg;
        int stretch = 0;
        for (List<Chain> part : found) {
            stretch = number(part, usual.size(), stretch);
            usual.add(new ArrayList<>());
            part.forEach(chain -> usual.get(usual.size() - 1).addAll(chain.usual()));
        }
        this.scripted = usual().stream()
                .anyMatch(s -> s.request.isPresent() && s.request.get().to().isPresent());
        if (!breaks.isEmpty()) {
            markBrokenOff();
            layByHoming();
        }
    }

    private static int number(List<Chain> chains, int part, int firstStretch) {
        int last = firstStretch - 1;
        for (Chain chain : chains) {
            for (RawShift s : chain.all()) {
                s.part = part;
                s.startStretch += firstStretch;
                s.landingStretch += firstStretch;
                last = Math.max(last, s.landingStretch);
            }
        }
        return last + 1;
    }

    /** Grouped by ratio, in time order. */
    List<RawShift> usual() {
        return usual.stream().flatMap(List::stream).toList();
    }

    /** In every grouping. */
    List<RawShift> all() {
        return found.stream()
                .flatMap(List::stream)
                .flatMap(chain -> chain.all().stream())
                .toList();
    }

    List<Chain> chains() {
        return found.stream().flatMap(List::stream).toList();
    }

    /** Whether requests say where each shift leads. */
    boolean scripted() {
        return scripted;
    }

    /** A request of homing, or one that only walks back: no cycle of the script, or no target where the script has targets. */
    boolean homing(RawShift s) {
        if (s.request.isEmpty()) {
            return false;
        }
        Request r = s.request.get();
        return r.cycle().orElse(1) == 0 || scripted && r.to().isEmpty();
    }

    /** Outboard to the end; not the way back to a place of the script. */
    private boolean home(RawShift s) {
        return homing(s) && s.request.orElseThrow().to().isEmpty();
    }

    // ---- shifts under way

    private void markBrokenOff() {
        for (int part = 0; part < Math.min(breaks.size(), usual.size()); part++) {
            List<RawShift> shifts = usual.get(part);
            if (shifts.isEmpty()) {
                continue;
            }
            RawShift last = shifts.get(shifts.size() - 1);
            last.lastBeforeBreak = true;
            boolean underWay = last.ending == Span.Ending.BROKEN_OFF
                    || last.ending == Span.Ending.SUPPLY_CUT
                    || last.request.isPresent() && mayReturn(last);
            if (underWay) {
                breakOff(last);
            }
        }
    }

    private boolean mayReturn(RawShift s) {
        if (!s.left || Double.isNaN(s.landingDeg) || Double.isNaN(s.seenAfterLandingS)) {
            return false;
        }
        int from = s.request.orElseThrow().from().orElse(0);
        int to = s.request.orElseThrow().to().orElse(0);
        return MissingReturn.known(profile, from, to)
                ? MissingReturn.byProfile(s, profile.orElseThrow(), from, to)
                : MissingReturn.byUsualHold(s);
    }

    static void breakOff(RawShift s) {
        s.brokenOff = true;
        s.evidence = Evidence.PARTIAL;
        s.landingDeg = Double.NaN;
        s.extremeDeg = Double.NaN;
        for (Measure m : Measure.values()) {
            if (!OF_THE_START.contains(m)) {
                s.notMeasured(m, RawShift.BROKEN_OFF);
            }
        }
    }

    // ---- whole turns

    private void layByHoming() {
        RawShift first = null;
        for (int part = 0; part < usual.size(); part++) {
            Optional<RawShift> home = restAfterHoming(usual.get(part));
            if (home.isEmpty()) {
                continue;
            }
            if (first == null) {
                first = home.get();
                base = OptionalInt.of(part);
                turns.put(part, 0);
                continue;
            }
            double apart = first.landingDeg - home.get().landingDeg;
            int whole = (int) Math.rint(apart / cycleDeg);
            if (Math.abs(apart - cycleDeg * whole) <= PART_OF_TURN * cycleDeg) {
                turns.put(part, whole);
                lay(found.get(part), cycleDeg * whole, home.get().landingStretch, first.landingStretch);
            }
        }
    }

    /** The last request of homing in this part, where the shaft stayed where it was and the script went on. */
    private Optional<RawShift> restAfterHoming(List<RawShift> shifts) {
        RawShift home = null;
        for (RawShift s : shifts) {
            if (home(s)) {
                home = s;
            } else if (home != null && s.request.isPresent()) {
                boolean still = Math.abs(home.landingDeg - home.startDeg) <= bandDeg; // false where either is unknown
                return still ? Optional.of(home) : Optional.empty();
            }
        }
        return Optional.empty();
    }

    private static void lay(List<Chain> chains, double deg, int stretch, int onto) {
        for (Chain chain : chains) {
            for (RawShift s : chain.all()) {
                Turns.add(s, deg, deg);
                s.startStretch = s.startStretch == stretch ? onto : s.startStretch;
                s.landingStretch = s.landingStretch == stretch ? onto : s.landingStretch;
            }
        }
    }

    /** Those whose places count for telling whole turns: a part with nothing but homing has none that matter. */
    List<RawShift> placed() {
        return breaks.isEmpty()
                ? usual()
                : usual.stream()
                        .filter(part -> !part.stream().allMatch(this::homing))
                        .flatMap(List::stream)
                        .toList();
    }

    /** The stretch of certain turns that keeps its angles: of the first part that has any; empty without breaks. */
    OptionalInt reference() {
        if (breaks.isEmpty()) {
            return OptionalInt.empty();
        }
        for (List<RawShift> part : usual) {
            Optional<RawShift> home = restAfterHoming(part);
            if (home.isPresent()) {
                return OptionalInt.of(home.get().landingStretch);
            }
            Map<Integer, Integer> landings = new TreeMap<>();
            part.stream()
                    .filter(s -> !homing(s) && !Double.isNaN(s.landingDeg))
                    .forEach(s -> landings.merge(s.landingStretch, 1, Integer::sum));
            Optional<Integer> most = landings.keySet().stream()
                    .max(java.util.Comparator.<Integer>comparingInt(k -> landings.getOrDefault(k, 0))
                            .thenComparingInt(k -> -k));
            if (most.isPresent()) {
                return OptionalInt.of(most.get());
            }
        }
        return OptionalInt.empty();
    }

    // ---- what is told of each break

    /**
     * What each break did.
     *
     * @param lastBefore number of the last shift of a part, where more parts have shifts
     * @param shifts how many there are
     * @param brokenOff number of the shift that was broken off at the end of a part
     */
    List<Resumption> resumptions(
            Map<Integer, Integer> lastBefore, int shifts, Map<Integer, Integer> brokenOff, Turns.Anchored anchored) {
        List<Resumption> told = new ArrayList<>();
        for (int i = 0; i < breaks.size(); i++) {
            SampleSource.Break b = breaks.get(i);
            Integer number = brokenOff.get(i);
            Behind behind = behind(i + 1, anchored);
            told.add(new Resumption(
                    b.fromS(),
                    b.toS(),
                    b.cause(),
                    lastBefore.getOrDefault(i, shifts),
                    number == null ? OptionalInt.empty() : OptionalInt.of(number),
                    behind.turns,
                    behind.tie));
        }
        return told;
    }

    private record Behind(OptionalInt turns, String tie) {}

    private Behind behind(int part, Turns.Anchored anchored) {
        List<RawShift> shifts = part < usual.size()
                ? usual.get(part).stream().filter(s -> !homing(s)).toList()
                : List.of();
        Integer byHoming = turns.get(part);
        if (shifts.isEmpty()) {
            return new Behind(OptionalInt.of(byHoming == null ? 0 : byHoming), "no shift came after it");
        }
        int stretch = shifts.get(0).startStretch;
        if (anchored.undecided().contains(stretch)) {
            return new Behind(
                    OptionalInt.empty(),
                    "by how many " + TableBuilder.turns(cycleDeg)
                            + " the angles after it differ from those before could not be told, so that"
                            + " what needs them is not measured after it");
        }
        int whole = anchored.of(stretch) + (byHoming == null ? 0 : byHoming);
        if (byHoming != null && base.orElse(part) != part) {
            return new Behind(
                    OptionalInt.of(whole), "the angles after it follow those before by the rest after homing");
        }
        boolean nothingBefore =
                usual.subList(0, part).stream().allMatch(p -> p.stream().allMatch(this::homing));
        String by = profile.isPresent() ? "the profile" : "the places where the shaft rests";
        return new Behind(
                OptionalInt.of(whole),
                nothingBefore ? "no shift came before it" : "the angles after it follow those before by " + by);
    }
}
