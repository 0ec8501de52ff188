package org.shiftstand.report;

import java.util.List;
import java.util.Optional;
import org.shiftstand.spec.Verdict;

/**
 * Everything the page shows, in reading order, as text and finished drawings; the template only lays it out. Texts are
 * not escaped yet, drawings and symbols are.
 */
record Sheet(
        Head head,
        List<Cell> what,
        List<Cell> how,
        List<ClauseRow> clauses,
        List<Case> failing,
        String moreFailing,
        List<Case> undecided,
        String moreUndecided,
        Optional<Drawn> typical,
        String typicalIntro,
        Optional<Plate> landings,
        Optional<Plate> overtravels,
        Optional<CyclePlots.Many> cycles,
        Optional<Run> run,
        Optional<Positions> positions,
        List<Counted> outcomes,
        List<Counted> evidence,
        String displaced,
        List<Missing> missing,
        String missingIntro,
        List<Counted> notApplicable,
        String uncertaintyIntro,
        List<UncertaintyRows.Row> uncertainty,
        List<String> notices,
        Stated stated,
        List<String> signing,
        List<String> cautions,
        String version,
        String generated,
        String generatedAt,
        String pageStyle) {

    /**
     * The verdict and what it rests on.
     *
     * @param word the verdict as people read it
     * @param tone class name for its colour
     * @param ended why the run ended early, empty where it did not
     * @param breaks where it was broken off and gone on with, a sentence each
     * @param because the clauses that decided, each with a link to its place
     * @param steps what to do next
     */
    record Head(
            String symbol,
            String word,
            String tone,
            String unit,
            String spec,
            String reason,
            String ended,
            List<String> breaks,
            List<Link> because,
            String moreBecause,
            List<Cell> facts,
            String rule,
            List<Step> steps) {}

    /**
     * Something to do.
     *
     * @param clause that it is about, with the place of its detail; both empty where it is about none
     * @param text what was found and follows
     * @param onward place and name of where more is said; both empty for none
     * @param practice whether it is common practice, not this run's finding
     */
    record Step(String clause, String href, String text, String onward, String name, boolean practice) {
        static Step found(String text) {
            return new Step("", "", text, "", "", false);
        }

        static Step found(String text, String onward, String name) {
            return new Step("", "", text, onward, name, false);
        }

        static Step clause(String clause, String href, String text) {
            return new Step(clause, href, text, "", "", false);
        }

        static Step practice(String text) {
            return new Step("", "", text, "", "", true);
        }
    }

    /**
     * What makes the page a report by ISO/IEC 17025: its number, the statement of conformity, and all that is asked.
     *
     * @param missing how much nobody said, a sentence; empty where nothing
     */
    record Stated(
            String number,
            String statement,
            List<Cell> conformity,
            String missing,
            List<Particular> particulars,
            String end) {}

    record Link(String symbol, String href, String text, String more) {}

    /**
     * A name and what stands for it.
     *
     * @param tone class name of the cell, empty for the usual
     * @param face class name of the value, {@code code} for a digest or file name
     */
    record Cell(String label, String value, String tone, String face) {
        Cell(String label, String value) {
            this(label, value, "", "");
        }

        static Cell code(String label, String value) {
            return new Cell(label, value, value.length() > 32 ? "wide" : "", "code");
        }
    }

    /**
     * @param detail where it is shown in detail, and where its groups are; empty where it passed
     */
    record ClauseRow(
            String anchor,
            String detail,
            String symbol,
            String verdict,
            String tone,
            String id,
            String subject,
            String because,
            String bound,
            String value,
            String margin,
            String group,
            String gauge,
            String groups,
            String counts,
            String certainty,
            List<String> remarks) {}

    /**
     * One clause that failed or could not be decided, in detail.
     *
     * @param row its place in the clause table
     * @param found what the run shows, and what follows from it
     * @param practice where to look first, by common practice; empty where it did not fail
     */
    record Case(
            String anchor,
            String row,
            String symbol,
            String verdict,
            String tone,
            String id,
            String subject,
            String because,
            String bound,
            String reason,
            List<GroupRow> groups,
            String moreGroups,
            String measure,
            List<ShiftRow> shifts,
            String shiftsCaption,
            String moreShifts,
            Optional<Drawn> drawing,
            String noDrawing,
            String found,
            String practice) {
        boolean undecided() {
            return tone.equals(Verdict.NO_VERDICT.word());
        }
    }

    record GroupRow(String group, String value, String margin, String n, String notMeasured, String reason) {}

    /** @param drawing where it is drawn, beside this table; empty for others */
    record ShiftRow(
            String anchor,
            String drawing,
            String number,
            String cycle,
            String way,
            String outcome,
            String value,
            String margin,
            String request,
            String notes) {}

    /**
     * One drawn shift with its figures beside it.
     *
     * @param anchor unique in the page
     */
    record Drawn(String anchor, String caption, String svg, List<Cell> facts, List<String> notes) {}

    /**
     * What happened over the cycles.
     *
     * @param intro what was looked at and found, a sentence each
     * @param drifts groups with a significant drift or step, the clearest first
     * @param clauses when clauses first failed or are expected to
     * @param drawing the group that matters most; empty where none drifts
     */
    record Run(
            List<String> intro,
            List<DriftRow> drifts,
            String moreDrifts,
            List<CourseRow> clauses,
            String moreClauses,
            Optional<Drawn> drawing) {}

    record DriftRow(
            String measure, String shifts, String shape, String change, String interval, String p, String seen) {}

    record CourseRow(String clause, String group, String failed, String projected) {}

    /** Landings as positions of an axis. */
    record Positions(String intro, List<PositionRow> rows, List<AxisFigure> figures) {}

    record PositionRow(
            String sprocket,
            String inboard,
            String meanInboard,
            String sdInboard,
            String outboard,
            String meanOutboard,
            String sdOutboard,
            String reversal,
            String repeatability) {}

    record AxisFigure(String symbol, String words, String deg, String mm) {}

    record Counted(String word, String count, String bar) {}

    record Missing(String reason, String measures, String count, String shifts) {}
}
