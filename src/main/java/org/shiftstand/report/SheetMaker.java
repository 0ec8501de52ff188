package org.shiftstand.report;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Resumption;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Verdict;

/** Puts a judgement into the words and drawings of a sheet. */
final class SheetMaker {
    private static final int MOST_NOTICES = 60;
    private static final int MOST_REASONS = 6;
    private static final int MOST_BREAKS = 4;
    private static final String NOT_STATED =
            " that a report is asked to say: not stated by anybody. State what is known with --particulars FILE, and judge"
                    + " again.";

    private final Judgement judgement;
    private final Findings findings;
    private final Cases cases;

    SheetMaker(Judgement judgement, Optional<AngleTrack> track) {
        this.judgement = judgement;
        this.findings = new Findings(judgement);
        this.cases = new Cases(judgement, findings, track);
    }

    Sheet make(ReportOptions options) {
        List<Sheet.Case> failing = cases.of(Verdict.FAIL);
        List<Sheet.Case> undecided = cases.of(Verdict.NO_VERDICT);
        boolean drawn = failing.stream().anyMatch(c -> c.drawing().isPresent());
        Optional<Findings.Close> close = drawn ? Optional.empty() : findings.closest();
        Optional<Sheet.Drawn> typical = close.flatMap(c -> cases.draw(c.shift(), c.clause(), "typical"));
        Strips strips = new Strips(judgement, findings);
        List<Shift> shifts = judgement.table().shifts();
        Gaps gaps = new Gaps(shifts);
        return new Sheet(
                head(),
                TitleBlock.what(judgement),
                TitleBlock.how(judgement),
                ClauseRows.of(judgement.clauses(), failing.size(), undecided.size()),
                failing,
                more(failing.size(), Verdict.FAIL),
                undecided,
                more(undecided.size(), Verdict.NO_VERDICT),
                typical,
                close.map(SheetMaker::why).orElse(""),
                strips.landings(),
                strips.overtravels(),
                shifts.isEmpty() ? Optional.empty() : Optional.of(new CyclePlots(judgement, findings).draw()),
                RunSection.of(judgement),
                PositionRows.of(judgement),
                outcomes(),
                evidence(),
                displaced(),
                gaps.missing(),
                shifts.isEmpty() ? "No shift was found." : gaps.intro(),
                gaps.notApplicable(),
                UncertaintyRows.intro(judgement),
                UncertaintyRows.of(judgement),
                notices(),
                stated(),
                Signing.of(judgement, options),
                Cautions.read(),
                options.toolVersion(),
                options.made(),
                options.madeAt(),
                pageStyle());
    }

    private Sheet.Head head() {
        Verdict verdict = judgement.verdict();
        List<Sheet.Link> because = because();
        long deciding = findings.with(verdict).size();
        return new Sheet.Head(
                Mark.symbol(verdict, 88),
                Mark.word(verdict),
                ClauseRows.tone(verdict),
                TitleBlock.unit(judgement),
                judgement.spec().title().isBlank()
                        ? judgement.spec().name()
                        : judgement.spec().title(),
                Words.typeset(judgement.reason()),
                judgement.runEnd().orElse(""),
                breaks(),
                because,
                deciding > because.size() && !because.isEmpty()
                        ? "and " + Figures.count(deciding - because.size(), "more clause")
                        : "",
                facts(),
                TitleBlock.rule(judgement.spec()),
                new WhatToDo(judgement).steps());
    }

    private List<String> breaks() {
        List<Resumption> all = judgement.table().resumptions();
        List<String> told = new ArrayList<>(all.stream()
                .limit(MOST_BREAKS)
                .map(r -> Words.capital(Words.typeset(r.sentence())) + ".")
                .toList());
        if (all.size() > told.size()) {
            told.add("So " + (all.size() - told.size()) + " more times, in the notices.");
        }
        return told;
    }

    /** The clauses that decided, where it was not a pass. */
    private List<Sheet.Link> because() {
        List<Sheet.Link> links = new ArrayList<>();
        List<ClauseResult> all = judgement.clauses();
        int detailed = 0;
        for (int i = 0; i < all.size() && links.size() < MOST_REASONS; i++) {
            ClauseResult result = all.get(i);
            if (result.verdict() == judgement.verdict() && result.verdict() != Verdict.PASS) {
                String href = detailed++ < Cases.MOST_CASES ? "#" + Cases.anchor(i) : ClauseRows.href(i);
                links.add(new Sheet.Link(
                        Mark.symbol(result.verdict(), 16), href, result.clause().id(), Words.typeset(result.reason())));
            }
        }
        return links.size() == 1 ? List.of() : links; // one alone is the reason already
    }

    private List<Sheet.Cell> facts() {
        List<Sheet.Cell> facts = new ArrayList<>();
        int shifts = judgement.table().shifts().size();
        facts.add(new Sheet.Cell("shifts", Integer.toString(shifts)));
        facts.add(new Sheet.Cell(
                "landed", Integer.toString(judgement.counts().getOrDefault(Outcome.LANDED.word(), 0))));
        facts.add(new Sheet.Cell(
                "cycles",
                Long.toString(judgement.table().shifts().stream()
                        .filter(Findings::scripted)
                        .mapToInt(Shift::cycle)
                        .distinct()
                        .count())));
        for (Verdict verdict : Verdict.values()) {
            facts.add(new Sheet.Cell(
                    "clauses " + Mark.word(verdict),
                    Integer.toString(findings.with(verdict).size())));
        }
        return facts;
    }

    private String more(int shown, Verdict verdict) {
        int all = findings.with(verdict).size();
        return all <= shown
                ? ""
                : "The first " + shown + " of " + all + " are shown in detail; the others are in the clause table.";
    }

    private static String why(Findings.Close close) {
        return close.clause()
                .map(Clause::id)
                .map(id -> "The shift with the least margin to a bound on single shifts: clause " + id + ".")
                .orElse("The shift that landed farthest from its place.");
    }

    private List<Sheet.Counted> outcomes() {
        int most = judgement.counts().values().stream()
                .mapToInt(Integer::intValue)
                .max()
                .orElse(1);
        List<Sheet.Counted> rows = new ArrayList<>();
        judgement
                .counts()
                .forEach((word, n) ->
                        rows.add(new Sheet.Counted(Words.spaced(word), Integer.toString(n), bar(n, most))));
        return rows;
    }

    private List<Sheet.Counted> evidence() {
        Map<Evidence, Integer> counts = new EnumMap<>(Evidence.class);
        judgement.table().shifts().forEach(s -> counts.merge(s.evidence(), 1, Integer::sum));
        int most = counts.values().stream().mapToInt(Integer::intValue).max().orElse(1);
        List<Sheet.Counted> rows = new ArrayList<>();
        counts.forEach((evidence, n) ->
                rows.add(new Sheet.Counted(Words.spaced(evidence.word()), Integer.toString(n), bar(n, most))));
        return rows;
    }

    /** A bar whose length says the number again; hidden from those who hear the page. */
    private static String bar(int n, int most) {
        double width = n == 0 ? 0 : Math.max(2, 160.0 * n / Math.max(1, most));
        return "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 160 10\" width=\"160\" height=\"10\" aria-hidden=\"true\""
                + " focusable=\"false\"><rect x=\"0\" y=\"1\" height=\"8\" width=\"" + Svg.coordinate(width)
                + "\" fill=\""
                + Palette.TRACE + "\"/></svg>";
    }

    private String displaced() {
        long n = judgement.table().shifts().stream().filter(Shift::displaced).count();
        return n == 0
                ? ""
                : Figures.count(n, "shift")
                        + " did not start on the sprocket to be left (displaced): counted here, left out of landing and"
                        + " overtravel groups.";
    }

    private List<String> notices() {
        Set<String> all = new LinkedHashSet<>(judgement.notices());
        all.addAll(judgement.table().notices());
        List<String> shown = new ArrayList<>(all.stream().limit(MOST_NOTICES).toList());
        if (all.size() > shown.size()) {
            shown.add("and " + (all.size() - shown.size()) + " more, in result.json");
        }
        return shown;
    }

    private Sheet.Stated stated() {
        List<Particular> particulars = ParticularList.of(judgement);
        int missing = ParticularList.missing(particulars).size();
        Conformity conformity = Conformity.of(judgement);
        return new Sheet.Stated(
                ReportNumber.of(judgement),
                conformity.statement() + ".",
                List.of(
                        new Sheet.Cell("covers", conformity.covers()),
                        new Sheet.Cell("met", conformity.list(conformity.met())),
                        new Sheet.Cell("not met", conformity.list(conformity.notMet())),
                        new Sheet.Cell("not decided", conformity.list(conformity.undecided())),
                        new Sheet.Cell("rule", conformity.decision().rule()),
                        new Sheet.Cell("risk", conformity.decision().risk()),
                        new Sheet.Cell("claim", conformity.decision().claim())),
                missing == 0 ? "" : Figures.count(missing, "thing") + NOT_STATED,
                particulars,
                ParticularList.end(judgement));
    }

    /** The unit at the foot of each printed page; only where it cannot be anything but a plain word. */
    private String pageStyle() {
        String unit =
                judgement.unit().filter(u -> u.matches("[A-Za-z0-9._-]{1,64}")).orElse("");
        String foot = unit.isEmpty() ? "Shiftstand report" : unit + ": " + Mark.word(judgement.verdict());
        return "@page{@bottom-left{font:9pt sans-serif;content:\"" + foot
                + "\"}@bottom-center{font:9pt sans-serif;content:\"Report " + ReportNumber.of(judgement) + "\"}}";
    }
}
