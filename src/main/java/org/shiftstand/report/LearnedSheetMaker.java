package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedSource;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.Overlay;
import org.shiftstand.learn.Proof;
import org.shiftstand.learn.SprocketCount;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Verdict;

/** Puts what was learned into the words and drawings of a sheet. */
final class LearnedSheetMaker {
    private static final int MOST_NOTICES = 60;
    /** Clauses of a proof that are listed, those that did not pass first. */
    private static final int MOST_CLAUSES = 60;

    private static final int MOST_PROOFS = 30;

    private final Learned learned;
    private final List<Overlay> overlays;
    private final List<Proof> proofs;
    private final LearnedTables tables;

    LearnedSheetMaker(Learned learned, List<Overlay> overlays, List<Proof> proofs) {
        this.learned = learned;
        this.overlays = List.copyOf(overlays);
        this.proofs = List.copyOf(proofs);
        this.tables = new LearnedTables(learned);
    }

    LearnedSheet make(ReportOptions options) {
        return new LearnedSheet(
                head(),
                options(),
                learned.gaps().stream().map(LearnedSheetMaker::gap).toList(),
                tables.undecided(),
                learned.undecided().isEmpty() ? "Nothing is left undecided." : "",
                proved(),
                new OvertravelPlate(learned).draw(),
                tables.overtravels(),
                tables.jumps(),
                stopping(),
                new PositionLadder(learned).draw(),
                tables.positions(),
                new OverlayPanels(learned, overlays).draw(),
                new DwellPlate(learned).draw(),
                List.of(LearnedWords.dwell(learned.hold(), learned), LearnedWords.dwell(learned.restHold(), learned)),
                tables.measures(),
                tables.missing(),
                SignaturePanels.draw(learned.signatures()),
                UnitSpreadPlate.draw(learned),
                noUnits(),
                tables.variations(),
                tables.sources(),
                notices(),
                Cautions.read(),
                options.toolVersion(),
                options.made(),
                pageStyle());
    }

    private LearnedSheet.Head head() {
        Verdict verdict = verdict();
        return new LearnedSheet.Head(
                Mark.symbol(verdict, 72),
                verdict.word(),
                learned.options().name(),
                word(verdict),
                reason(),
                LearnedWords.units(learned),
                count(),
                facts());
    }

    /** Of the draft spec on all that was held back. */
    private Verdict verdict() {
        if (proofs.stream().anyMatch(p -> p.verdict().equals(Optional.of(Verdict.FAIL)))) {
            return Verdict.FAIL;
        }
        return !proofs.isEmpty() && proofs.stream().allMatch(p -> p.verdict().equals(Optional.of(Verdict.PASS)))
                ? Verdict.PASS
                : Verdict.NO_VERDICT;
    }

    private static String word(Verdict verdict) {
        return switch (verdict) {
            case PASS -> "Draft spec passes";
            case FAIL -> "Draft spec fails";
            case NO_VERDICT -> "Draft spec not proved";
        };
    }

    private String reason() {
        if (proofs.isEmpty()) {
            return "No draft spec was put to shifts held back.";
        }
        Verdict verdict = verdict();
        Proof deciding = proofs.stream()
                .filter(p -> p.verdict().orElse(Verdict.NO_VERDICT) == verdict)
                .findFirst()
                .orElse(proofs.get(0));
        String said = deciding.verdict().isPresent()
                ? "On every third cycle, held back and never learned from: " + deciding.reason()
                : Words.capital(deciding.reason());
        return proofs.size() == 1
                ? said + "."
                : said + " (" + deciding.source() + ", one of " + Figures.count(proofs.size(), "capture") + ").";
    }

    /** How many sprockets, and how sure. */
    private String count() {
        SprocketCount count = learned.sprockets();
        String turns = "The sweep turned " + Figures.count(count.turnsOutboard(), "time") + " at sprocket 1"
                + refused(count.refusedOutboard()) + " and " + Figures.count(count.turnsInboard(), "time")
                + " at sprocket " + count.seen() + refused(count.refusedInboard()) + ". ";
        return turns
                + (count.refusedOutboard() > 0 && count.refusedInboard() > 0
                        ? "Both ends refused to go further: the cassette ends there."
                        : "A further sprocket, were it used in half of the turns, would have been seen with "
                                + sure(count.confidence())
                                + " confidence; a sprocket that was never asked for shows in no capture.");
    }

    /** Never rounded up to certainty. */
    private static String sure(double confidence) {
        return confidence > 0.999 // as a double it may be 1
                ? "more than " + LearnedWords.percent(0.999)
                : LearnedWords.percent(confidence);
    }

    private static String refused(int n) {
        return n == 0 ? "" : " (" + Figures.count(n, "request") + " beyond moved nothing)";
    }

    private List<Sheet.Cell> facts() {
        int n = learned.steps().size();
        return List.of(
                new Sheet.Cell("sprockets", Integer.toString(learned.positions().size())),
                new Sheet.Cell(
                        learned.units().size() == 1 ? "unit" : "units",
                        Integer.toString(learned.units().size())),
                new Sheet.Cell("shifts learned from", Integer.toString(sum(true))),
                new Sheet.Cell("shifts held back", Integer.toString(sum(false))),
                new Sheet.Cell("rows of the table seen", (n - learned.gaps().size()) + " of " + n),
                new Sheet.Cell(
                        "not decided", Integer.toString(learned.undecided().size())));
    }

    private int sum(boolean learnedFrom) {
        return learned.sources().stream()
                .mapToInt(learnedFrom ? LearnedSource::learned : LearnedSource::heldBack)
                .sum();
    }

    private List<Sheet.Cell> options() {
        List<Sheet.Cell> cells = new ArrayList<>();
        cells.add(new Sheet.Cell(
                "Units",
                learned.units().stream()
                        .map(unit -> unit.equals(LearnedSource.UNNAMED) ? "not named" : unit)
                        .collect(Collectors.joining(", ")),
                "wide",
                ""));
        cells.add(new Sheet.Cell(
                "Confidence of intervals",
                LearnedWords.percent(learned.options().confidence())));
        cells.add(new Sheet.Cell(
                "Bounds hold", LearnedWords.percent(learned.options().coverage()) + " of a good unit's shifts"));
        cells.add(new Sheet.Cell("Settle band", Figures.asWritten(learned.bandDeg(), Unit.DEG)));
        cells.add(new Sheet.Cell(
                "A row is settled where at most so many could do otherwise unseen",
                LearnedWords.percent(learned.options().unseenRate())));
        cells.add(
                new Sheet.Cell("Standard uncertainty of an angle", Figures.of(learned.measurementDeg(), Unit.DEG, 2)));
        cells.add(new Sheet.Cell(
                "Stopping bias",
                learned.options().stoppingBiasDeg().isPresent()
                        ? "given, "
                                + Figures.asWritten(
                                        learned.options().stoppingBiasDeg().getAsDouble(), Unit.DEG)
                        : "estimated"));
        cells.add(new Sheet.Cell(
                "Wake-up error, deg, " + LearnedWords.confidence(learned),
                LearnedWords.plusMinus(learned.wakeUpError(), Measure.WAKE_UP_ERROR)));
        cells.add(new Sheet.Cell("Margins beyond the tolerance intervals", margins(), "s3", ""));
        return cells;
    }

    private String margins() {
        List<String> parts = new ArrayList<>();
        learned.options()
                .margins()
                .forEach((measure, base) -> parts.add(Words.spaced(measure.key()) + " "
                        + Figures.asWritten(LearnedWords.shown(measure, base), LearnedWords.unit(measure))));
        return parts.isEmpty() ? "none" : String.join(", ", parts) + "; own choice, no published source";
    }

    private static String gap(LearnedStep step) {
        return step.name() + ": " + OvertravelWords.of(step.overtravel(), true).said();
    }

    private List<String> stopping() {
        List<String> said = new ArrayList<>();
        said.add(LearnedWords.stopping(learned));
        learned.stopping().reversalDeg().ifPresent(deg -> said.add(LearnedWords.reversal(deg)));
        said.add(LearnedWords.MODEL);
        return said;
    }

    private List<LearnedSheet.Proved> proved() {
        List<LearnedSheet.Proved> all = new ArrayList<>();
        for (Proof proof : proofs.subList(0, Math.min(MOST_PROOFS, proofs.size()))) {
            Verdict verdict = proof.verdict().orElse(Verdict.NO_VERDICT);
            all.add(new LearnedSheet.Proved(
                    Mark.symbol(verdict, 20),
                    verdict.word(),
                    proof.verdict().map(Mark::word).orElse("not proved"),
                    proof.source(),
                    Words.capital(proof.reason()) + ".",
                    clauses(proof, all.size() + 1)));
        }
        return all;
    }

    private Optional<LearnedSheet.Table> clauses(Proof proof, int number) {
        List<ClauseResult> sorted = new ArrayList<>();
        for (Verdict verdict : List.of(Verdict.FAIL, Verdict.NO_VERDICT, Verdict.PASS)) {
            proof.clauses().stream().filter(r -> r.verdict() == verdict).forEach(sorted::add);
        }
        if (sorted.isEmpty()) {
            return Optional.empty();
        }
        int shown = Math.min(proofs.size() > 3 ? MOST_CLAUSES / 4 : MOST_CLAUSES, sorted.size());
        TableMaker table = new TableMaker(
                "Clauses of the draft on capture " + number,
                "Clauses of the draft spec on " + Figures.count(proof.shifts(), "shift") + " held back"
                        + (shown < sorted.size() ? "; the first " + shown + " of " + sorted.size() : "")
                        + ", those that did not pass first; value and margin of the worst group",
                "Verdict",
                "Clause",
                "Demanded",
                "#Value",
                "#Margin",
                "Why");
        for (ClauseResult r : sorted.subList(0, shown)) {
            table.row(
                    Mark.word(r.verdict()),
                    r.clause().id(),
                    Words.subject(r.clause()) + ", " + Words.bound(r.clause().bound(), r.unit()),
                    r.value().isPresent() ? Figures.of(r.value().getAsDouble(), r.unit()) : Figures.NONE,
                    r.margin().isPresent() ? Figures.signed(r.margin().getAsDouble(), r.unit()) : Figures.NONE,
                    r.reason());
        }
        return Optional.of(table.table());
    }

    private String noUnits() {
        return learned.units().size() == 1
                ? "One unit was seen: how much units differ is not known, and nothing here says anything of others."
                : "";
    }

    private List<String> notices() {
        List<String> shown =
                new ArrayList<>(learned.notices().stream().limit(MOST_NOTICES).toList());
        if (learned.notices().size() > shown.size()) {
            shown.add("and " + (learned.notices().size() - shown.size()) + " more");
        }
        return shown;
    }

    /** The name at the foot of each printed page; only where it cannot be anything but a plain word. */
    private String pageStyle() {
        String name = learned.options().name();
        String foot = name.matches("[A-Za-z0-9._-]{1,64}")
                ? name + ": as learned, " + word(verdict()).toLowerCase(Locale.ROOT)
                : "Shiftstand, as learned";
        return "@page{@bottom-left{font:9pt sans-serif;content:\"" + foot + "\"}}";
    }
}
