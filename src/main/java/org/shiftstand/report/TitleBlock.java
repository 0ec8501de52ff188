package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.shiftstand.angle.Correction;
import org.shiftstand.angle.HigherOrder;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Spec;

/** Which unit, which files, which rules: the cells that identify a report, and how its angles came about. */
final class TitleBlock {
    private TitleBlock() {}

    /** What was judged, against what. */
    static List<Sheet.Cell> what(Judgement judgement) {
        List<Sheet.Cell> cells = new ArrayList<>();
        Spec spec = judgement.spec();
        cells.add(new Sheet.Cell("unit", judgement.unit().orElse("not named")));
        cells.add(new Sheet.Cell("spec", spec.name() + ", version" + Figures.NO_BREAK + spec.version()));
        cells.add(new Sheet.Cell(
                "profile",
                judgement
                        .profile()
                        .map(p -> p.name() + ", version" + Figures.NO_BREAK + p.version() + ", "
                                + Figures.count(p.sprockets(), "sprocket"))
                        .orElse("none: nothing nominal is known")));
        judgement.identity().forEach((name, value) -> cells.add(new Sheet.Cell(Words.spaced(name), value)));
        cells.add(
                new Sheet.Cell("samples from", judgement.source().kind().equals("csv") ? "CSV capture" : "run record"));
        cells.add(Sheet.Cell.code("file", judgement.source().name()));
        cells.add(new Sheet.Cell("decision", rule(spec)));
        cells.add(new Sheet.Cell(
                "settle band", "\u00b1 " + Figures.asWritten(judgement.table().bandDeg(), Unit.DEG)));
        cells.add(Sheet.Cell.code("file, SHA-256", judgement.source().sha256()));
        cells.add(Sheet.Cell.code("spec, SHA-256", spec.sha256()));
        judgement.profile().map(Profile::sha256).ifPresent(d -> cells.add(Sheet.Cell.code("profile, SHA-256", d)));
        return filled(cells);
    }

    /** Widens the last narrow cell, so that its row of four has no hole. */
    private static List<Sheet.Cell> filled(List<Sheet.Cell> cells) {
        int narrow = (int) cells.stream().filter(cell -> cell.tone().isEmpty()).count();
        int free = (4 - narrow % 4) % 4;
        if (free > 0) {
            int last = narrow - 1;
            cells.sort(Comparator.comparing((Sheet.Cell cell) -> !cell.tone().isEmpty())); // stable: narrow ones first
            Sheet.Cell cell = cells.get(last);
            cells.set(last, new Sheet.Cell(cell.label(), cell.value(), "s" + (free + 1), cell.face()));
        }
        return cells;
    }

    static String unit(Judgement judgement) {
        return judgement
                .unit()
                .orElseGet(() -> "unit not named: " + judgement.source().name());
    }

    static String rule(Spec spec) {
        long otherwise = spec.clauses().stream()
                .filter(clause -> !clause.decision().equals(spec.decision()))
                .count();
        return "rule " + spec.rule() + ", claim " + spec.claim()
                + (otherwise == 0 ? "" : "; " + Figures.count(otherwise, "clause") + " otherwise");
    }

    /** How numbers and angles came about. */
    static List<Sheet.Cell> how(Judgement judgement) {
        ShiftTable table = judgement.table();
        List<Sheet.Cell> cells = new ArrayList<>();
        cells.add(new Sheet.Cell("origin of angles", origin(table)));
        cells.add(new Sheet.Cell("numbering", table.numbering()));
        cells.add(new Sheet.Cell("sense of rotation", table.sense() + ", from " + senseFrom(table.senseFrom())));
        cells.add(new Sheet.Cell("mechanical limits", judgement.limitsFrom()));
        cells.add(new Sheet.Cell("angle correction", correction(judgement.correction())));
        cells.add(new Sheet.Cell("angle uncertainty", uncertainty(judgement.correction())));
        if (table.turnLostFrom().isPresent()) {
            cells.add(new Sheet.Cell(
                    "turn lost",
                    "first in shift " + table.turnLostFrom().getAsInt()
                            + ": whole turns of the shaft cannot be told there, so its angles are not measured"));
        }
        long wide = cells.size()
                + what(judgement).stream()
                        .filter(cell -> cell.tone().equals("wide"))
                        .count();
        return IntStream.range(0, cells.size())
                .mapToObj(i -> {
                    boolean alone = wide % 2 == 1 && i == cells.size() - 1;
                    return new Sheet.Cell(cells.get(i).label(), cells.get(i).value(), alone ? "full" : "wide", "");
                })
                .toList();
    }

    private static String origin(ShiftTable table) {
        if (table.originMeasured()) {
            return "measured: by homing, a limits probe or a stored calibration";
        }
        if (table.alignmentDeg().isPresent()) {
            return "aligned, not measured: "
                    + Figures.signed(table.alignmentDeg().getAsDouble(), Unit.DEG)
                    + " added so that the landings fit the profile. A common bias of the unit cannot be seen in it";
        }
        return "not measured: angles count from an arbitrary zero; differences between angles are measured";
    }

    private static String senseFrom(String from) {
        return switch (from) {
            case "option" -> "the option given";
            case "requests" -> "the marked requests";
            case "profile" -> "the fit to the profile";
            case "assumed" -> "assumption: nothing in the file tells";
            default -> from;
        };
    }

    private static String correction(Correction c) {
        String ellipse = "offset, gain and phase from " + from(c.ellipseFrom()) + " (offsets "
                + Figures.bare(c.sinOffset(), 2) + " and " + Figures.bare(c.cosOffset(), 2) + ", gain ratio "
                + Figures.bare(c.gainRatio(), 4) + ", phase " + Figures.of(c.phaseDeg(), Unit.DEG, 2) + ")";
        String second = c.secondOrderFrom().equals("none")
                ? "no second-order term"
                : "second-order term from " + from(c.secondOrderFrom()) + " ("
                        + Figures.of(Math.hypot(c.sin2Deg(), c.cos2Deg()), Unit.DEG, 2) + ")";
        return ellipse + "; " + second + higher(c.higher()) + drift(c) + turns(c.turnsPerCycle());
    }

    private static String higher(HigherOrder h) {
        return h.isLearned()
                ? "; terms of order 3 (" + Figures.of(Math.hypot(h.sin3Deg(), h.cos3Deg()), Unit.DEG, 2) + ") and 4 ("
                        + Figures.of(Math.hypot(h.sin4Deg(), h.cos4Deg()), Unit.DEG, 2) + ") learned from this run"
                : "";
    }

    private static String drift(Correction c) {
        return c.drift().isLearned()
                ? "; offsets that drift by " + Figures.bare(100 * c.drift().range() / c.radius(), 2)
                        + " % of the radius, fitted anew in "
                        + c.drift().centres().size() + " blocks of time"
                : "";
    }

    private static String turns(double perCycle) {
        return perCycle == 1
                ? ""
                : "; one turn of the pair is " + Figures.bare(perCycle, 4) + (perCycle < 1 ? " of a turn" : " turns")
                        + " of the shaft";
    }

    private static String from(String word) {
        return switch (word) {
            case "fit" -> "a fit to this run";
            case "calibration" -> "a stored calibration";
            case "nominal" -> "nominal values";
            default -> word;
        };
    }

    static String uncertainty(Correction c) {
        String residual = Double.isFinite(c.residualDeg())
                ? "residual " + Figures.of(c.residualDeg(), Unit.DEG, 3) + " rms after the correction; "
                : "no residual could be had; ";
        return residual + "standard uncertainty of one angle " + Figures.of(c.uncertaintyDeg(), Unit.DEG, 2);
    }
}
