package org.shiftstand.report;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.shiftstand.judge.Circumstances;
import org.shiftstand.judge.Judgement;
import org.shiftstand.judge.Particulars;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.report.Particular.Line;

/**
 * Everything that ISO/IEC 17025:2017 asks of a test report, 7.8.2.1 a to p, 7.8.6 and the extras of 7.8.3, in the order of
 * the standard: what people stated, what the program knows, and what nobody said.
 */
final class ParticularList {
    /** 7.8.2.1 l. */
    static final String ONLY_THIS_ITEM = "the results relate only to the item tested";

    /** Note to 7.8.2.1. */
    static final String REPRODUCTION =
            "this report may be reproduced in part only with the approval of the laboratory that made it";

    private final Judgement judgement;
    private final Circumstances circumstances;
    private final Particulars stated;
    private final Conformity conformity;

    private ParticularList(Judgement judgement) {
        this.judgement = judgement;
        this.circumstances = judgement.circumstances();
        this.stated = circumstances.stated();
        this.conformity = Conformity.of(judgement);
    }

    static List<Particular> of(Judgement judgement) {
        ParticularList list = new ParticularList(judgement);
        return Stream.of(list.report(), list.work(), list.results(), list.conformity(), list.extras())
                .flatMap(List::stream)
                .toList();
    }

    /** Keys of all that nobody said, in reading order. */
    static List<String> missing(List<Particular> particulars) {
        return particulars.stream()
                .flatMap(particular -> particular.lines().stream())
                .filter(line -> !line.stated())
                .map(Line::key)
                .toList();
    }

    static String title(Judgement judgement) {
        String spec = judgement.spec().title().isBlank()
                ? judgement.spec().name()
                : judgement.spec().title();
        return "Acceptance report, shift by shift: " + spec;
    }

    static String end(Judgement judgement) {
        return "End of report " + ReportNumber.of(judgement);
    }

    private List<Particular> report() {
        return List.of(
                Particular.of("7.8.2.1 a", "title", Line.known("title", "", title(judgement))),
                Particular.of(
                        "7.8.2.1 b",
                        "laboratory name and address",
                        Line.of("laboratory.name", "", stated.laboratory()),
                        Line.of("laboratory.address", "address", stated.address())),
                Particular.of(
                        "7.8.2.1 c",
                        "where the work was done, including off-site",
                        Line.of("place", "", stated.place())),
                Particular.of(
                        "7.8.2.1 d",
                        "unique identification on every part, clear end mark",
                        Line.known("number", "report", ReportNumber.of(judgement)),
                        Line.known("end", "last line", end(judgement))),
                Particular.of(
                        "7.8.2.1 e",
                        "customer name and contact",
                        Line.of("customer.name", "", stated.customer()),
                        Line.of("customer.contact", "contact", stated.contact())));
    }

    private List<Particular> work() {
        List<Particular> work = new ArrayList<>();
        work.add(new Particular("7.8.2.1 f", "method used", method()));
        List<Line> item = new ArrayList<>();
        item.add(Line.of("item.description", "", stated.description()));
        item.add(Line.of("item.unit", "unit", judgement.unit()));
        Optional.ofNullable(judgement.identity().get("unit-firmware"))
                .ifPresent(firmware -> item.add(Line.known("item.firmware", "firmware", firmware)));
        item.add(Line.of("item.condition", "condition", stated.condition()));
        work.add(new Particular("7.8.2.1 g", "item description, identification, condition", item));
        work.add(new Particular("7.8.2.1 h", "date received / sampled where it matters", received()));
        work.add(Particular.of("7.8.2.1 i", "date(s) of the work", Line.of("worked", "", worked())));
        work.add(Particular.of(
                "7.8.2.1 j",
                "date of issue",
                Line.known(
                        "issued",
                        "",
                        "in the line 'Report made at' at the end of report.html; nothing else changes with it")));
        work.add(Particular.of(
                "7.8.2.1 k", "sampling plan reference if relevant", Line.of("sampling-plan", "", plan())));
        return work;
    }

    private List<Line> method() {
        List<Line> lines = new ArrayList<>();
        Optional<String> script = circumstances.procedure().map(ParticularList::named);
        if (script.isPresent() || stated.method().isEmpty()) {
            lines.add(Line.of("method.procedure", "procedure", script));
        }
        stated.method().ifPresent(words -> lines.add(Line.known("method.stated", "", words)));
        lines.add(Line.known("method.spec", "spec", conformity.spec()));
        judgement
                .profile()
                .ifPresent(p -> lines.add(Line.known(
                        "method.profile",
                        "profile",
                        p.name() + " version " + p.version() + ", SHA-256 " + p.sha256())));
        lines.add(Line.known("method.software", "measured and judged by", Tool.NAME_AND_VERSION));
        return lines;
    }

    private static String named(Procedure procedure) {
        return procedure.name() + " version " + procedure.version() + ", SHA-256 " + procedure.sha256();
    }

    /** Either day will do; both where both are stated. */
    private List<Line> received() {
        Line received = Line.of("item.received", "received", stated.received().map(LocalDate::toString));
        Optional<Line> sampled = stated.sampled().map(day -> Line.known("item.sampled", "sampled", day.toString()));
        return Stream.concat(Stream.of(received).filter(line -> line.stated() || sampled.isEmpty()), sampled.stream())
                .toList();
    }

    private List<String> worked() {
        List<String> days = new ArrayList<>();
        circumstances
                .began()
                .map(began -> circumstances
                        .ended()
                        .map(ended -> utc(began) + " to " + utc(ended))
                        .orElseGet(() -> utc(began)))
                .ifPresent(span ->
                        days.add(span + (simulated() ? ", in simulated time" : ", by the clock of the run record")));
        stated.worked().forEach(day -> days.add(day.toString()));
        return days;
    }

    private boolean simulated() {
        return judgement.identity().containsKey("simulated");
    }

    private static String utc(Instant instant) {
        return Figures.utc(instant);
    }

    private List<String> plan() {
        List<String> plan = new ArrayList<>(stated.samplingPlan().stream().toList());
        circumstances
                .procedure()
                .ifPresent(p -> plan.add("all shifts of the procedure " + p.name() + " version " + p.version()));
        return plan;
    }

    private List<Particular> results() {
        List<String> found = Deviations.of(judgement);
        return List.of(
                Particular.of(
                        "7.8.2.1 l",
                        "results relate only to the items tested",
                        Line.known(
                                "relates-to",
                                "",
                                ONLY_THIS_ITEM
                                        + judgement.unit().map(id -> ": " + id).orElse("")
                                        + (simulated() ? ", a simulated one" : ""))),
                Particular.of("7.8.2.1 m", "results with units", Line.known("results", "", figures())),
                Particular.of(
                        "7.8.2.1 n",
                        "deviations, additions, exclusions from the method",
                        Line.of("deviations.found", "found by the program", found.isEmpty() ? List.of("none") : found),
                        Line.of("deviations.stated", "stated", stated.deviations())),
                Particular.of(
                        "7.8.2.1 o", "who authorised the report", Line.of("authorised-by", "", stated.authorisedBy())),
                Particular.of(
                        "7.8.2.1 p",
                        "results from external providers marked",
                        Line.of("external-results", "", stated.externalResults())));
    }

    private String figures() {
        return judgement.clauses().isEmpty()
                ? "none: the spec has no clauses"
                : judgement.clauses().stream()
                        .map(result -> result.clause().id() + ": "
                                + (result.value().isEmpty()
                                        ? "no value"
                                        : ClauseRows.value(result, result.value(), result.margin()))
                                + " (" + Words.bound(result.clause().bound(), result.unit()) + ")")
                        .collect(Collectors.joining("; ", "in the clause table, each with its unit: ", ""));
    }

    private List<Particular> conformity() {
        DecisionWords decision = conformity.decision();
        return List.of(
                Particular.of(
                        "7.8.6.1",
                        "decision rule documented, with the level of risk (false accept / false reject) considered",
                        Line.known("conformity.risk", "risk", decision.risk())),
                Particular.of(
                        "7.8.6.2 a",
                        "statement says which results it covers",
                        Line.known("conformity.covers", "", conformity.covers())),
                Particular.of(
                        "7.8.6.2 b",
                        "which specification or part of it is met or not met",
                        Line.known("conformity.spec", "spec", conformity.spec()),
                        Line.known("conformity.met", "met", conformity.list(conformity.met())),
                        Line.known("conformity.not-met", "not met", conformity.list(conformity.notMet())),
                        Line.known("conformity.undecided", "not decided", conformity.list(conformity.undecided()))),
                Particular.of(
                        "7.8.6.2 c",
                        "which decision rule was applied, unless inherent in the specification",
                        Line.known("conformity.rule", "rule", decision.rule()),
                        Line.known("conformity.claim", "claim", decision.claim())));
    }

    /** Of angles always; of each measure where the run has a budget. */
    private List<String> uncertainty() {
        List<String> told = new ArrayList<>();
        told.add(TitleBlock.uncertainty(judgement.correction()));
        List<UncertaintyRows.Row> rows = UncertaintyRows.of(judgement);
        if (!rows.isEmpty()) {
            told.add(rows.stream()
                    .map(row -> row.measure() + " " + row.expanded())
                    .collect(Collectors.joining(
                            ", ",
                            "expanded uncertainty of one shift's value, 95 %, with its budget under Uncertainty: ",
                            "")));
        }
        return told;
    }

    private List<Particular> extras() {
        return List.of(
                Particular.of(
                        "7.8.3.1 a",
                        "environment and test conditions where needed",
                        Line.of("environment", "", stated.environment())),
                Particular.of(
                        "7.8.3.1 b",
                        "statement of conformity where relevant",
                        Line.known("conformity.statement", "", conformity.statement())),
                Particular.of(
                        "7.8.3.1 c",
                        "measurement uncertainty when it matters for validity, when asked, or when it affects conformity"
                                + " to a limit",
                        Line.of("uncertainty", "", uncertainty())),
                Particular.of(
                        "7.8.2.1 note",
                        "partial reproduction needs approval",
                        Line.known("reproduction", "", REPRODUCTION)));
    }
}
