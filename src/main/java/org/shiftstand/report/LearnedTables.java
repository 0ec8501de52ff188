package org.shiftstand.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedPosition;
import org.shiftstand.learn.LearnedSource;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.Undecided;
import org.shiftstand.learn.Variation;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/** The numbers behind the drawings, as tables. */
final class LearnedTables {
    private static final int MOST_ROWS = 200;
    private static final int MOST_RANG = 4;
    private static final int MOST_REASONS = 12;
    private static final List<Measure> MEASURES = List.of(
            Measure.HOLD,
            Measure.REST_HOLD,
            Measure.TRAVEL_TIME,
            Measure.SETTLE_TIME,
            Measure.RINGING,
            Measure.RETURN_RINGING,
            Measure.PEAK_CURRENT);

    private final Learned learned;
    private final String confidence;

    LearnedTables(Learned learned) {
        this.learned = learned;
        this.confidence = LearnedWords.confidence(learned);
    }

    LearnedSheet.Table overtravels() {
        return overtravels("Overtravel by shift", learned.steps());
    }

    Optional<LearnedSheet.Table> jumps() {
        return learned.jumps().isEmpty()
                ? Optional.empty()
                : Optional.of(overtravels(
                        "Shifts over more than one sprocket, as seen",
                        learned.jumps()
                                .subList(0, Math.min(MOST_ROWS, learned.jumps().size()))));
    }

    private LearnedSheet.Table overtravels(String label, List<LearnedStep> steps) {
        TableMaker table = new TableMaker(
                label,
                label + ", degrees, " + confidence
                        + "; sd of single shifts. Unseen: the largest rate that could have gone unseen ("
                        + LearnedWords.percent(learned.options().confidence()) + ")",
                "Shift",
                "#Learned from",
                "#Held back",
                "#Achieved",
                "#sd",
                "#Seen",
                "#Programmed",
                "What is known of it");
        for (LearnedStep step : steps) {
            OvertravelWords words =
                    OvertravelWords.of(step.overtravel(), learned.stopping().known());
            table.row(
                    step.name(),
                    Integer.toString(step.learned()),
                    Integer.toString(step.heldBack()),
                    words.achieved(),
                    words.sd(),
                    words.seen(),
                    words.programmed(),
                    words.said());
        }
        return table.table();
    }

    LearnedSheet.Table positions() {
        TableMaker table = new TableMaker(
                "Positions",
                "Positions and landings, degrees from the programmed position of sprocket " + learned.origin() + ", "
                        + confidence
                        + "; sd of single landings",
                "#Sprocket",
                "#Position",
                "#Landing inboard",
                "#sd",
                "#Landing outboard",
                "#sd",
                "#To the next, deg",
                "#To the next, mm");
        for (int i = 0; i < learned.positions().size(); i++) {
            LearnedPosition p = learned.positions().get(i);
            boolean known = Double.isFinite(p.programmedDeg());
            double next = i + 1 < learned.positions().size()
                    ? learned.positions().get(i + 1).programmedDeg()
                    : Double.NaN;
            table.row(
                    Integer.toString(p.sprocket()),
                    !known
                            ? "gap"
                            : p.sprocket() == 1
                                    ? "0, the origin"
                                    : LearnedWords.plusMinus(p.programmedDeg(), p.halfWidthDeg(), Unit.DEG),
                    LearnedWords.plusMinus(p.inboard(), Measure.LANDING),
                    sd(p.inboard()),
                    LearnedWords.plusMinus(p.outboard(), Measure.LANDING),
                    sd(p.outboard()),
                    Figures.bare(next - p.programmedDeg(), 1),
                    Figures.bare(p.pitchMm().orElse(Double.NaN), 3));
        }
        return table.table();
    }

    private static String sd(Estimated estimated) {
        return estimated.estimate().map(LearnedWords::sd).orElse("");
    }

    LearnedSheet.Table measures() {
        TableMaker table = new TableMaker(
                "Dwell, travel, settle, ringing and current by shift",
                "Means, " + confidence + "; a dash where there is no number, for the reasons below",
                "Shift",
                "#Dwell, ms, " + LearnedWords.after(learned.hold()),
                "#Dwell, ms, " + LearnedWords.after(learned.restHold()),
                "#Travel, ms",
                "#Settle, ms",
                "#Ringing, deg",
                "#Return ringing, deg",
                "#Peak current, A",
                "Shifts that rang by more than half the settle band");
        for (LearnedStep step : rows()) {
            List<String> texts = new ArrayList<>(List.of(step.name()));
            MEASURES.forEach(measure -> texts.add(LearnedWords.plusMinus(step.get(measure), measure)));
            texts.add(LearnedWords.rang(step, learned.sources().size() == 1, MOST_RANG));
            table.row(texts.toArray(String[]::new));
        }
        return table.table();
    }

    private List<LearnedStep> rows() {
        List<LearnedStep> all = new ArrayList<>(learned.steps());
        all.addAll(learned.jumps());
        return all.subList(0, Math.min(MOST_ROWS, all.size()));
    }

    /** Why numbers are missing, each reason once with its rows. */
    List<String> missing() {
        Map<String, List<String>> rows = new LinkedHashMap<>();
        for (Measure measure : MEASURES) {
            for (LearnedStep step : rows()) {
                step.get(measure).match(new Estimated.Cases<Boolean>() {
                    @Override
                    public Boolean estimate(Estimated.Estimate estimate) {
                        return false;
                    }

                    @Override
                    public Boolean notEstimated(String reason) {
                        return rows.computeIfAbsent(
                                        Words.capital(Words.spaced(measure.key())) + ": " + reason,
                                        key -> new ArrayList<>())
                                .add(step.name());
                    }
                });
            }
        }
        List<String> said = new ArrayList<>();
        rows.forEach((reason, names) -> {
            if (said.size() < MOST_REASONS) {
                said.add(reason + " (" + (names.size() == rows().size() ? "all rows" : some(names)) + ")");
            }
        });
        if (rows.size() > said.size()) {
            said.add("and " + (rows.size() - said.size()) + " more reasons");
        }
        return said;
    }

    private static String some(List<String> names) {
        int most = 8;
        return names.size() <= most
                ? String.join(", ", names)
                : String.join(", ", names.subList(0, most)) + " and " + (names.size() - most) + " more";
    }

    Optional<LearnedSheet.Table> variations() {
        if (learned.variations().isEmpty()) {
            return Optional.empty();
        }
        TableMaker table = new TableMaker(
                "Spread within and between units",
                "Standard deviations, rows' own means taken out; the total is that of "
                        + (learned.units().size() >= Variation.LEAST_UNITS
                                ? "any shift of any unit of the kind"
                                : "these units' own shifts, not of other units"),
                "Measure",
                "Unit of measure",
                "#Within a unit",
                "#Freedom",
                "#Unit to unit",
                "#Total",
                "#Freedom",
                "Rows that scatter more than the others");
        for (Variation v : learned.variations()) {
            table.row(
                    Words.capital(Words.spaced(v.measure().key())),
                    LearnedWords.unit(v.measure()).symbol(),
                    sd(v, v.withinSd()),
                    freedom(v.withinFreedom()),
                    v.betweenSd().isPresent() ? sd(v, v.betweenSd().getAsDouble()) : "not known",
                    sd(v, v.totalSd()),
                    freedom(v.totalFreedom()),
                    v.uneven().isEmpty() ? "none found" : String.join(", ", v.uneven()));
        }
        return Optional.of(table.table());
    }

    private static String sd(Variation v, double base) {
        return Figures.bare(LearnedWords.shown(v.measure(), base), 2);
    }

    private static String freedom(double freedom) {
        return Double.isInfinite(freedom) ? "many" : Figures.bare(freedom, 1).replaceFirst("\\.0$", "");
    }

    Optional<LearnedSheet.Table> undecided() {
        if (learned.undecided().isEmpty()) {
            return Optional.empty();
        }
        TableMaker table = new TableMaker(
                "What is not decided",
                "What the captures do not decide, and how many more shifts of it would",
                "What",
                "Why",
                "More shifts that would decide it");
        for (Undecided question : learned.undecided()) {
            table.row(
                    question.what(),
                    question.why(),
                    question.moreShifts() > 0
                            ? Figures.count(question.moreShifts(), "shift")
                            : "no number of such shifts would");
        }
        return Optional.of(table.table());
    }

    LearnedSheet.Table sources() {
        TableMaker table = new TableMaker(
                "Captures learned from",
                "Every third cycle is held back: nothing is learned from it, and the draft spec is proved with it",
                "File",
                "Unit",
                "#Shifts",
                "#Cycles",
                "#Learned from",
                "#Held back",
                "Left out",
                "Sprockets, numbering and sense",
                "$SHA-256");
        for (LearnedSource source : learned.sources()
                .subList(0, Math.min(MOST_ROWS, learned.sources().size()))) {
            table.row(
                    source.name(),
                    (source.unit().equals(LearnedSource.UNNAMED) ? "not named" : source.unit()) + identity(source),
                    Integer.toString(source.shifts()),
                    Integer.toString(source.cycles()),
                    Integer.toString(source.learned()),
                    Integer.toString(source.heldBack()),
                    leftOut(source),
                    source.firstSprocket() + " to " + source.lastSprocket() + ", " + source.numbering() + "; sense "
                            + source.sense(),
                    source.sha256());
        }
        return table.table();
    }

    private static String identity(LearnedSource source) {
        StringBuilder facts = new StringBuilder();
        source.identity()
                .forEach((name, value) ->
                        facts.append("\n").append(name).append(": ").append(value));
        return facts.toString();
    }

    private static String leftOut(LearnedSource source) {
        List<String> parts = new ArrayList<>();
        source.leftOut().forEach((why, n) -> parts.add(n + " " + why));
        return parts.isEmpty() ? "none" : String.join(", ", parts);
    }
}
