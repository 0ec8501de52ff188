package org.shiftstand.report;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Verdict;

/** What follows from the verdict for the person at the bench: what the run shows, and, marked as such, common practice. */
final class WhatToDo {
    /** Clauses that are told of at the head of the page. */
    static final int MOST = 4;

    private static final String APART =
            "Keep the unit apart, marked with the report's number, until the cause is known.";
    private static final String REPEAT =
            "Mount it anew and repeat the procedure. A repeat that passes does not undo this"
                    + " failure: both runs stay on file.";

    private static final String CAPTURE =
            "See first whether the failure stays in a capture that is whole: around damage, what was"
                    + " taken for one shift may be parts of two, and without requests or a profile sprockets may be numbered wrongly.";

    /** From this share of damaged shifts on a failure is held to be the capture's as likely as the unit's: own choice. */
    private static final double DOUBTFUL = 0.1;

    private final Judgement judgement;

    WhatToDo(Judgement judgement) {
        this.judgement = judgement;
    }

    /** In the order to do it in. */
    List<Sheet.Step> steps() {
        return switch (judgement.verdict()) {
            case PASS -> passed();
            case FAIL -> failed();
            case NO_VERDICT -> open();
        };
    }

    private List<Sheet.Step> passed() {
        List<Sheet.Step> steps = new ArrayList<>();
        steps.add(Sheet.Step.found(
                "Nothing to mend. The pass holds for the shifts that were made, under the conditions stated here."));
        judgement.clauses().stream()
                .filter(result -> !result.remarks().isEmpty())
                .findFirst()
                .ifPresent(r -> steps.add(Sheet.Step.found(
                        "Read the notes in the clause table before you rely on it: some say what could not be seen.")));
        steps.add(Sheet.Step.found(
                "To keep it: archive the run and sign the archive, see", "#signing", "Signing and archive"));
        return steps;
    }

    private List<Sheet.Step> failed() {
        List<Sheet.Step> steps = clauses(Verdict.FAIL);
        int open = (int) judgement.clauses().stream()
                .filter(result -> result.verdict() == Verdict.NO_VERDICT)
                .count();
        if (open > 0) {
            steps.add(Sheet.Step.found(
                    (open == 1 ? "1 clause has" : open + " clauses have")
                            + " no verdict besides; what would decide "
                            + (open == 1 ? "it" : "them") + " stands under",
                    "#undecided",
                    "Clauses without a verdict"));
        }
        if (open > 0 && damaged() > DOUBTFUL) {
            evidence().ifPresent(where -> {
                steps.add(where);
                steps.add(Sheet.Step.found(CAPTURE));
            });
        }
        steps.add(Sheet.Step.practice(APART));
        steps.add(Sheet.Step.practice(REPEAT));
        return steps;
    }

    private List<Sheet.Step> open() {
        List<Sheet.Step> steps = new ArrayList<>();
        judgement
                .runEnd()
                .ifPresent(end ->
                        steps.add(Sheet.Step.found("The run ended early: mend what ended it, then run it whole.")));
        steps.addAll(clauses(Verdict.NO_VERDICT));
        evidence().ifPresent(steps::add);
        if (steps.isEmpty()) {
            steps.add(Sheet.Step.found("Name a spec with clauses: without one there is nothing to decide."));
        }
        steps.add(Sheet.Step.found("No verdict is not a pass: do not release the unit on this report."));
        return steps;
    }

    /** Share of shifts that the samples do not show whole. */
    private double damaged() {
        return judgement.table().shifts().stream()
                .mapToInt(shift -> shift.evidence() == Evidence.COMPLETE ? 0 : 1)
                .average()
                .orElse(0);
    }

    /** What most often kept shifts from being seen whole; empty where nothing did, or where no clause is open for it. */
    private Optional<Sheet.Step> evidence() {
        boolean felt = judgement.clauses().stream()
                .flatMap(result -> Findings.groups(result, Verdict.NO_VERDICT).stream())
                .anyMatch(group -> group.notMeasured() > 0);
        Map<Evidence, Integer> seen = new EnumMap<>(Evidence.class);
        judgement.table().shifts().stream()
                .map(Shift::evidence)
                .filter(evidence -> evidence != Evidence.COMPLETE)
                .forEach(evidence -> seen.merge(evidence, 1, Integer::sum));
        return seen.entrySet().stream()
                .filter(entry -> felt)
                .max(Map.Entry.comparingByValue())
                .map(entry -> Sheet.Step.practice(Practice.of(
                        entry.getKey(),
                        "in " + entry.getValue() + " of "
                                + Figures.count(judgement.table().shifts().size(), "shift"))));
    }

    /** One for each thing to do: clauses that ask for the same share a step. */
    private List<Sheet.Step> clauses(Verdict verdict) {
        Map<String, List<Integer>> same = new LinkedHashMap<>();
        List<String> hrefs = new ArrayList<>();
        List<ClauseResult> all = judgement.clauses();
        int detailed = 0;
        for (int i = 0; i < all.size(); i++) {
            boolean meant = all.get(i).verdict() == verdict;
            hrefs.add(meant && detailed++ < Cases.MOST_CASES ? "#" + Cases.anchor(i) : ClauseRows.href(i));
            if (meant) {
                same.computeIfAbsent(found(all.get(i)), text -> new ArrayList<>())
                        .add(i);
            }
        }
        List<Sheet.Step> steps = new ArrayList<>();
        same.forEach((text, at) -> {
            if (steps.size() < MOST) {
                int first = at.get(0);
                steps.add(Sheet.Step.clause(
                        all.get(first).clause().id(), hrefs.get(first), text + likewise(at.subList(1, at.size()))));
            }
        });
        return steps;
    }

    /** Empty for none. */
    private String likewise(List<Integer> others) {
        if (others.isEmpty()) {
            return "";
        }
        return " The same for "
                + (others.size() > MOST
                        ? others.size() + " more clauses"
                        : others.stream()
                                .map(i -> judgement.clauses().get(i).clause().id())
                                .collect(Collectors.joining(", ")))
                + ".";
    }

    /** What the run shows of a clause that did not pass, and what follows from that alone. */
    static String found(ClauseResult result) {
        return result.verdict() == Verdict.FAIL ? broken(result) : undecided(result);
    }

    private static String broken(ClauseResult result) {
        List<GroupResult> failed = Findings.groups(result, Verdict.FAIL);
        String where = result.groups().size() == 1
                ? ""
                : failed.size() == result.groups().size()
                        ? "all " + failed.size() + " groups fail: look for what they share. "
                        : failed.size() + " of " + result.groups().size() + " groups "
                                + (failed.size() == 1 ? "fails" : "fail") + " ("
                                + Words.group(failed.get(0)) + (failed.size() == 1 ? "" : " the worst") + "). ";
        String found = where + (Findings.individual(result.clause()) ? oftenness(failed) : "");
        return found.isEmpty() ? "the value over all its shifts is outside the bound." : found;
    }

    private static String oftenness(List<GroupResult> failed) {
        int outside = failed.stream().mapToInt(group -> group.shifts().size()).sum();
        int measured = failed.stream().mapToInt(GroupResult::n).sum();
        if (outside == 0 || measured == 0) {
            return "";
        }
        String their = failed.size() == 1 ? "its " : "their ";
        return outside >= measured
                ? "Each of " + their + Figures.count(measured, "shift")
                        + " is outside: it is there every time, so one repeat shows whether a change helped."
                : outside + " of " + their + Figures.count(measured, "shift") + (outside == 1 ? " is" : " are")
                        + " outside, the others inside: it comes and goes, so a few good shifts prove nothing.";
    }

    private static String undecided(ClauseResult result) {
        List<GroupResult> open = Findings.groups(result, Verdict.NO_VERDICT);
        if (open.isEmpty()) {
            return "no shift of this run is what it asks for: check that procedure and spec belong together.";
        }
        int notMade = open.stream().mapToInt(GroupResult::notMade).sum();
        int notMeasured = open.stream().mapToInt(GroupResult::notMeasured).sum();
        Clause clause = result.clause();
        int needed = clause.needed();
        long few = open.stream().filter(group -> group.n() < needed).count();
        List<String> follows = new ArrayList<>();
        if (notMade > 0) {
            follows.add(Figures.count(notMade, "planned shift") + " not made: run the procedure to its end");
        }
        if (notMeasured > 0) {
            follows.add(Figures.count(notMeasured, "shift")
                    + " not measured: mend the cause (\u201cNot measured, and why\u201d), then run again");
        }
        if (few > 0 && notMade + notMeasured == 0) {
            follows.add("too few shifts in " + Figures.count((int) few, "group") + ": " + needed
                    + " a group are needed, so run more sweeps");
        }
        if (follows.isEmpty() && nothingKnown(clause, open)) {
            follows.add("nothing is known of the uncertainty, and rule guarded decides nothing without: give the rig's"
                    + " description with its uncertainty (--bench FILE) and judge again; no new run is needed");
        }
        if (follows.isEmpty()) {
            follows.add(
                    near(open)
                            ? "the value is too near its bound for what is known of its uncertainty: a smaller uncertainty decides"
                                    + " it (the largest contributions stand first under \u201cUncertainty\u201d), for a claim about the"
                                    + " process more shifts do as well"
                            : "see its reason: what is missing there decides it");
        }
        return String.join("; ", follows) + ".";
    }

    private static boolean nothingKnown(Clause clause, List<GroupResult> open) {
        return clause.decision().rule() == Decision.Rule.GUARDED
                && near(open)
                && open.stream()
                        .allMatch(group ->
                                group.assessment().expandedUncertainty().isEmpty());
    }

    private static boolean near(List<GroupResult> open) {
        return open.stream().map(GroupResult::margin).anyMatch(OptionalDouble::isPresent);
    }
}
