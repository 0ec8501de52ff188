package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.DriftAnalysis;
import org.shiftstand.spec.DriftGroup;
import org.shiftstand.spec.RunDrift;

/** The section on what happened over the cycles of a run. */
final class RunSection {
    private static final int MOST_ROWS = 12;
    private static final int MOST_COURSES = 20;

    private final Judgement judgement;
    private final RunDrift run;
    private final List<DriftGroup> found;

    private RunSection(Judgement judgement) {
        this.judgement = judgement;
        this.run = judgement.drift();
        this.found = run.significant();
    }

    /** Empty for a run that is too short to show a drift. */
    static Optional<Sheet.Run> of(Judgement judgement) {
        return judgement.drift().groups().isEmpty() ? Optional.empty() : Optional.of(new RunSection(judgement).make());
    }

    private Sheet.Run make() {
        return new Sheet.Run(
                intro(),
                found.stream().limit(MOST_ROWS).map(this::row).toList(),
                more(found.size(), MOST_ROWS, "drift[]"),
                courses().limit(MOST_COURSES).map(this::row).toList(),
                more((int) courses().count(), MOST_COURSES, "overTheRun"),
                drawn().map(this::drawing));
    }

    private static String more(int all, int shown, String where) {
        return all <= shown
                ? ""
                : "The first " + shown + " of " + all + "; the others are in result.json, " + where + ".";
    }

    private List<String> intro() {
        List<String> told = new ArrayList<>();
        int all = run.groups().size();
        String looked = "Each measure of each pair" + (supplies() ? " and supply" : "") + " was followed over "
                + Figures.count(run.cycles(), "cycle") + ", one value a cycle: " + Figures.count(all, "group") + ". ";
        told.add(
                found.isEmpty()
                        ? looked + "None drifts or changes its level significantly."
                        : looked + Figures.count(found.size(), "group")
                                + (found.size() == 1 ? " drifts or changes its" : " drift or change their")
                                + " level significantly; the other " + (all - found.size()) + " do not.");
        told.add("All " + all
                + " groups were looked at together: a unit without any drift shows one somewhere in at most "
                + Figures.asWritten(run.alpha() * 100) + Figures.NO_BREAK + "% of such runs."
                + (run.tooShort() == 0
                        ? ""
                        : " " + Figures.count(run.tooShort(), "group") + " with fewer than "
                                + DriftAnalysis.LEAST_CYCLES + " cycles with a value could not be looked at."));
        return told;
    }

    private boolean supplies() {
        return run.groups().stream()
                        .map(group -> group.kind().supplyV())
                        .distinct()
                        .count()
                > 1;
    }

    private Sheet.DriftRow row(DriftGroup group) {
        Unit unit = unit(group.kind().measure());
        boolean step = group.shape() == DriftGroup.Shape.STEP;
        return new Sheet.DriftRow(
                Words.capital(name(group.kind().measure())),
                shifts(group.kind()),
                step ? "steps in cycle " + group.change().cycle().orElse(0) : "drifts",
                signed(group.size(), unit),
                step ? Figures.NONE : interval(group, unit),
                probability(Math.min(group.trendP(), group.changeP())),
                seen(group));
    }

    private static String interval(DriftGroup group, Unit unit) {
        if (group.drift().low().isEmpty() || group.drift().high().isEmpty()) {
            return Figures.NONE;
        }
        return signed(group.drift().low().getAsDouble(), unit).replace(Figures.symbol(unit), "") + " to "
                + signed(group.drift().high().getAsDouble(), unit);
    }

    private static String seen(DriftGroup group) {
        String weighted = chart("weighted mean", group.weightedSignal());
        String sums = chart("cumulative sum", group.sumSignal());
        String both = List.of(weighted, sums).stream().filter(s -> !s.isEmpty()).collect(Collectors.joining(", "));
        return both.isEmpty() ? "none" : both;
    }

    private static String chart(String name, OptionalInt cycle) {
        return cycle.isPresent() ? name + " from cycle " + cycle.getAsInt() : "";
    }

    /** First what will fail, the nearest first, then what has failed. */
    private Stream<RunDrift.ClauseCourse> courses() {
        return run.clauses().stream()
                .sorted(Comparator.comparingDouble(
                        course -> course.projected().map(p -> p.at()).orElse(Double.MAX_VALUE)));
    }

    private Sheet.CourseRow row(RunDrift.ClauseCourse course) {
        String projected = course.projected()
                .map(p -> Figures.bare(p.at(), 0) + " (" + Figures.bare(Math.floor(p.from()), 0) + " to "
                        + Figures.bare(Math.ceil(p.to()), 0) + ")" + by(course.driftGroup()))
                .orElse(Figures.NONE);
        return new Sheet.CourseRow(
                course.clause(),
                Words.group(course.key()),
                course.firstFailed().isPresent()
                        ? Integer.toString(course.firstFailed().getAsInt())
                        : Figures.NONE,
                projected);
    }

    private String by(OptionalInt group) {
        return group.isPresent()
                ? ", by " + shifts(run.groups().get(group.getAsInt()).kind())
                : "";
    }

    /** The group that leads to a failure soonest, else the one that changes most clearly. */
    private Optional<DriftGroup> drawn() {
        Optional<DriftGroup> leads = courses()
                .filter(course -> course.driftGroup().isPresent())
                .findFirst()
                .map(course -> run.groups().get(course.driftGroup().getAsInt()));
        return leads.or(() -> found.stream().findFirst());
    }

    private Sheet.Drawn drawing(DriftGroup group) {
        Unit unit = unit(group.kind().measure());
        Optional<RunDrift.ClauseCourse> course = courses()
                .filter(c -> c.driftGroup().isPresent()
                        && run.groups().get(c.driftGroup().getAsInt()).equals(group))
                .findFirst();
        DriftPlot plot = new DriftPlot(group, shifts(group.kind()), unit, bound(group.kind()), course);
        List<Sheet.Cell> facts = new ArrayList<>();
        facts.add(new Sheet.Cell(
                "cycles with a value", Integer.toString(group.series().size())));
        facts.add(new Sheet.Cell("over the run", signed(group.size(), unit)));
        if (group.shape() == DriftGroup.Shape.DRIFT) {
            facts.add(new Sheet.Cell("95 % interval", interval(group, unit)));
            facts.add(new Sheet.Cell("in 100 cycles", signed(100 * group.line().slope(), unit)));
        }
        facts.add(new Sheet.Cell("p, all looks", probability(Math.min(group.trendP(), group.changeP()))));
        facts.add(new Sheet.Cell("worth independent", Figures.bare(group.drift().effective(), 0)));
        return new Sheet.Drawn(
                "run-drawn",
                Words.capital(name(group.kind().measure())) + ", " + shifts(group.kind()),
                plot.draw(),
                facts,
                plot.notes());
    }

    /** On each shift of the group. */
    private Optional<Bound> bound(DriftGroup.Kind kind) {
        return judgement.table().shifts().stream()
                .filter(shift -> shift.cycle() > 0
                        && shift.from() == kind.from()
                        && shift.to() == kind.to()
                        && shift.supplyV().equals(kind.supplyV()))
                .findFirst()
                .flatMap(shift -> new Findings(judgement).boundsOn(kind.measure(), shift));
    }

    /** The supply is named where there were several. */
    private String shifts(DriftGroup.Kind kind) {
        String pair = kind.from() + Words.ARROW + kind.to();
        return supplies() && kind.supplyV().isPresent()
                ? pair + " at " + Figures.asWritten(kind.supplyV().getAsDouble(), Unit.V)
                : pair;
    }

    static String name(Measure measure) {
        return Words.spaced(measure.key());
    }

    /** Milliseconds for times, else the base unit. */
    static Unit unit(Measure measure) {
        return measure.unit() == Unit.S ? Unit.MS : measure.unit();
    }

    private static String signed(double base, Unit unit) {
        return Figures.signed(unit.fromBase(base), unit);
    }

    /** {@code 0.003}, or {@code below 0.0001}. */
    private static String probability(double p) {
        return p < 1e-4 ? "below 0.0001" : Figures.bare(p, 4);
    }
}
