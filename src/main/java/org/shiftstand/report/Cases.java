package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Verdict;

/** Failed and undecided clauses in detail, each with its shifts and a drawing of one. */
final class Cases {
    /** More clauses than this are told by the clause table only. */
    static final int MOST_CASES = 12;

    static final int MOST_GROUPS = 16;
    static final int MOST_OPEN_GROUPS = 6;
    static final int MOST_SHIFTS = 16;

    private static final List<Measure> FACTS = List.of(
            Measure.LANDING,
            Measure.LANDING_ERROR,
            Measure.OVERTRAVEL,
            Measure.HOLD,
            Measure.RINGING,
            Measure.RETURN_RINGING,
            Measure.TRAVEL_TIME,
            Measure.SETTLE_TIME,
            Measure.EXTREME,
            Measure.CLEARANCE,
            Measure.PEAK_CURRENT,
            Measure.CHARGE);

    private final Judgement judgement;
    private final Findings findings;
    private final Optional<AngleTrack> track;
    private final Map<String, String> drawn = new HashMap<>();

    Cases(Judgement judgement, Findings findings, Optional<AngleTrack> track) {
        this.judgement = judgement;
        this.findings = findings;
        this.track = track;
    }

    List<Sheet.Case> of(Verdict verdict) {
        List<Sheet.Case> cases = new ArrayList<>();
        List<ClauseResult> all = judgement.clauses();
        for (int i = 0; i < all.size() && cases.size() < MOST_CASES; i++) {
            if (all.get(i).verdict() == verdict) {
                cases.add(one(all.get(i), anchor(i), ClauseRows.href(i)));
            }
        }
        return cases;
    }

    /** Where the clause at this place of the spec is shown in detail. */
    static String anchor(int index) {
        return "detail-" + (index + 1);
    }

    private Sheet.Case one(ClauseResult result, String anchor, String row) {
        Clause clause = result.clause();
        List<GroupResult> groups = Findings.groups(result, result.verdict());
        int shown = result.verdict() == Verdict.FAIL ? MOST_GROUPS : MOST_OPEN_GROUPS;
        List<Shift> broken = findings.broken(result);
        Optional<Shift> telling = findings.telling(result);
        Optional<Sheet.Drawn> drawing = telling.flatMap(shift -> draw(shift, Optional.of(clause), anchor));
        return new Sheet.Case(
                anchor,
                row,
                Mark.symbol(result.verdict(), 22),
                Mark.word(result.verdict()),
                ClauseRows.tone(result.verdict()),
                clause.id(),
                Words.subject(clause),
                clause.because(),
                Words.bound(clause.bound(), result.unit()),
                Words.typeset(result.reason()),
                result.groups().size() == 1
                        ? List.of() // its figures are the clause's
                        : groups.stream()
                                .limit(shown)
                                .map(g -> group(result, g))
                                .toList(),
                result.groups().size() == 1 ? "" : more(groups.size(), shown, "group", "result.json"),
                clause.measure().map(m -> Words.capital(Words.spaced(m.key()))).orElse("Evidence"),
                listed(clause, broken, telling).stream()
                        .map(s -> shift(
                                result,
                                s,
                                anchor,
                                drawing.isPresent() && telling.equals(Optional.of(s))
                                        ? "#" + drawing.get().anchor()
                                        : ""))
                        .toList(),
                caption(clause, broken.size()),
                moreShifts(clause, broken.size()),
                drawing,
                drawing.isPresent() ? "" : without(telling),
                Words.capital(WhatToDo.found(result)),
                result.verdict() == Verdict.FAIL ? Practice.of(clause) : "");
    }

    private String caption(Clause clause, int shifts) {
        return Figures.count(shifts, "shift")
                + (Findings.individual(clause) ? " outside the bound" : " in the failed groups");
    }

    /** All, or those farthest outside their bound and the one that is drawn; in time order. */
    private static List<Shift> listed(Clause clause, List<Shift> broken, Optional<Shift> telling) {
        Comparator<Shift> drawnFirst = Comparator.comparing(shift -> !telling.equals(Optional.of(shift)));
        ToDoubleFunction<Shift> margin = shift -> Findings.boundsEachShift(clause)
                ? Findings.margin(clause, shift).orElse(Double.POSITIVE_INFINITY)
                : 0;
        return broken.stream()
                .sorted(drawnFirst.thenComparingDouble(margin)) // stable: else the earliest
                .limit(MOST_SHIFTS)
                .sorted(Comparator.comparingInt(Shift::number))
                .toList();
    }

    private static String moreShifts(Clause clause, int all) {
        if (all <= MOST_SHIFTS) {
            return "";
        }
        String which = Findings.boundsEachShift(clause) ? "The " + MOST_SHIFTS + " farthest outside" : "" + MOST_SHIFTS;
        return which + " of " + Figures.count(all, "shift") + " are listed; all of them are in shifts.csv.";
    }

    private static String more(int all, int shown, String what, String file) {
        return all <= shown
                ? ""
                : "The first " + shown + " of " + Figures.count(all, what) + " are listed; all of them are in " + file
                        + ".";
    }

    private String without(Optional<Shift> telling) {
        if (telling.isEmpty()) {
            return "";
        }
        String key = "Shift " + telling.get().number();
        if (drawn.containsKey(key)) {
            return key + " shows it best; it is drawn under " + drawn.get(key) + ".";
        }
        return track.isEmpty()
                ? "No drawing: the samples were not at hand when this report was made."
                : "No drawing of shift " + telling.get().number() + ": its instants or samples are missing.";
    }

    private Sheet.GroupRow group(ClauseResult result, GroupResult group) {
        int missing = group.notMeasured() + group.notMade();
        return new Sheet.GroupRow(
                Words.group(group),
                ClauseRows.value(result, group.value(), group.margin()),
                ClauseRows.margin(result, group.margin()),
                Integer.toString(group.n()),
                Integer.toString(missing),
                result.verdict() == Verdict.FAIL
                        ? ""
                        : Words.typeset(Words.withoutGroup(group))); // a failed group's figures say it all
    }

    private Sheet.ShiftRow shift(ClauseResult result, Shift shift, String anchor, String drawing) {
        Clause clause = result.clause();
        double inBase = result.unit().inBase();
        OptionalDouble margin =
                Findings.boundsEachShift(clause) ? Findings.margin(clause, shift) : OptionalDouble.empty();
        String outside = margin.isEmpty()
                ? Figures.NONE
                : Figures.of(
                        margin.getAsDouble() / inBase,
                        result.unit(),
                        Figures.decimals(result.unit(), margin.getAsDouble() / inBase));
        String value = clause.measure()
                .map(m -> {
                    OptionalDouble x = shift.get(m).number();
                    return x.isPresent()
                            ? Figures.of(
                                    x.getAsDouble() / inBase,
                                    result.unit(),
                                    Figures.decimals(result.unit(), margin.orElse(0) / inBase))
                            : Words.measured(shift, m);
                })
                .orElse(shift.evidence().word());
        OptionalDouble request = shift.get(Measure.REQUEST).number();
        return new Sheet.ShiftRow(
                anchor + "-shift-" + shift.number(),
                drawing,
                Integer.toString(shift.number()),
                Integer.toString(shift.cycle()),
                Words.way(shift),
                Words.spaced(shift.outcome().word()),
                value,
                outside,
                request.isPresent() ? Figures.of(request.getAsDouble(), Unit.S, 3) : Figures.NONE,
                String.join("; ", shift.notes()));
    }

    /** Empty where the shift cannot be drawn or was drawn before. */
    Optional<Sheet.Drawn> draw(Shift shift, Optional<Clause> clause, String anchor) {
        String key = "Shift " + shift.number();
        if (track.isEmpty() || drawn.containsKey(key)) {
            return Optional.empty();
        }
        Optional<ShiftDrawing.Picture> picture = ShiftDrawing.draw(
                shift,
                findings.after(shift),
                judgement.table(),
                Findings.placed(judgement) ? judgement.profile() : Optional.empty(),
                clause,
                track.get(),
                "drawing-" + anchor);
        picture.ifPresent(p -> drawn.put(key, clause.map(Clause::id).orElse("a typical shift")));
        return picture.map(p -> new Sheet.Drawn(
                anchor + "-drawing",
                key + ", cycle " + shift.cycle() + ": " + Words.way(shift),
                p.svg(),
                facts(shift, clause.flatMap(Clause::measure)),
                p.remarks()));
    }

    private static List<Sheet.Cell> facts(Shift shift, Optional<Measure> judged) {
        List<Sheet.Cell> facts = new ArrayList<>();
        facts.add(new Sheet.Cell("outcome", Words.spaced(shift.outcome().word())));
        facts.add(new Sheet.Cell("evidence", Words.spaced(shift.evidence().word())));
        for (Measure measure : FACTS) {
            facts.add(new Sheet.Cell(Words.spaced(measure.key()), Words.measured(shift, measure)));
        }
        judged.filter(measure -> !FACTS.contains(measure))
                .ifPresent(measure ->
                        facts.add(new Sheet.Cell(Words.spaced(measure.key()), Words.measured(shift, measure))));
        shift.step().ifPresent(step -> facts.add(new Sheet.Cell("step", step)));
        shift.supplyV().ifPresent(volt -> facts.add(new Sheet.Cell("supply", Figures.of(volt, Unit.V))));
        if (!shift.notes().isEmpty()) {
            facts.add(new Sheet.Cell("notes", String.join("; ", shift.notes())));
        }
        return facts;
    }
}
