package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.report.JsonWriter;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.SpecReader;
import org.shiftstand.stats.AverageAndRange;
import org.shiftstand.stats.CrossedAnova;
import org.shiftstand.stats.CrossedStudy;
import org.shiftstand.stats.GaugeVariation;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Evaluates a gauge study of a rig. */
@Command(
        name = "study",
        sortOptions = false,
        description = {
            "Evaluates a gauge study: how much of what a rig shows is the rig.",
            "",
            "Several units, each mounted several times and measured several times in each mount, as a CSV file with "
                    + "the columns unit, mount, repeat, value. Gives the crossed analysis of variance, the same by average "
                    + "and range, and the number of distinct categories; with a spec, whether the rig can judge it."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand rig study --import study-10x3x3.csv",
            "  shiftstand rig study --import landings.csv --measure landing-error \\",
            "      --spec tarn-drive-end-of-line --rig-description bench-two --keep bench-two.studied.rig.yaml"
        })
final class RigStudyCommand implements Callable<Integer> {
    private static final double CAN = 0.1; // common practice, no published source: of the tolerance's width
    private static final double MARGINAL = 0.3;

    @Spec
    private CommandSpec command;

    @Option(
            names = "--import",
            required = true,
            paramLabel = "FILE",
            description = "CSV file with the values. study-10x3x3.csv is packed: a published example.")
    private String imported = "";

    @Option(
            names = "--measure",
            paramLabel = "M",
            description = "What was measured, such as landing-error; base units.")
    private @Nullable String measureKey;

    @Option(
            names = "--shifts",
            paramLabel = "N",
            description = "Shifts that one value is the mean of. Default: ${DEFAULT-VALUE}.")
    private int shifts = 1;

    @Option(
            names = "--spec",
            paramLabel = "S",
            description = "Say for each clause on that measure if the rig can judge it.")
    private @Nullable String spec;

    @Option(names = "--rig-description", paramLabel = "R", description = "The description that --keep adds to.")
    private @Nullable String description;

    @Option(names = "--keep", paramLabel = "FILE", description = "Write the description with the study's result.")
    private @Nullable Path keep;

    @Option(
            names = "--unit-spread",
            description = "The repeats' spread is the units' own: keep only the reproducibility as the rig's.")
    private boolean unitSpread;

    @Option(names = "--json", description = "Print the result as JSON.")
    private boolean json;

    @Override
    public Integer call() throws IOException {
        Optional<Measure> measure = measure();
        List<Problem> problems = new ArrayList<>();
        if ((spec != null || keep != null) && measure.isEmpty()) {
            problems.add(
                    new Problem("--measure", 0, 0, "is missing; expected what was measured, such as landing-error"));
        }
        if ((keep == null) != (description == null)) {
            problems.add(new Problem(
                    "--keep", 0, 0, "goes with --rig-description, the file that it adds to; expected both"));
        }
        if (shifts < 1) {
            problems.add(new Problem("--shifts " + shifts, 0, 0, "is no number of shifts; expected 1 or more"));
        }
        if (keep != null && Files.exists(keep)) {
            problems.add(new Problem(
                    keep.toString(), 0, 0, "exists already, and nothing is overwritten; name another file"));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        CrossedStudy study = StudyTable.read(imported);
        CrossedAnova anova = CrossedAnova.of(study);
        List<Ability> abilities =
                measure.map(m -> abilities(m, anova.variation())).orElse(List.of());
        PrintWriter out = command.commandLine().getOut();
        if (json) {
            json(study, anova, abilities, out);
        } else {
            text(study, anova, abilities, out);
        }
        if (keep != null && description != null && measure.isPresent()) {
            keep(measure.get(), study, anova.variation(), keep, description);
            command.commandLine().getErr().println("Description with the study: " + keep);
        }
        return ExitCode.DONE;
    }

    private Optional<Measure> measure() {
        if (measureKey == null) {
            return Optional.empty();
        }
        for (Measure m : Measure.values()) {
            if (m.judged() && m.key().equals(measureKey)) {
                return Optional.of(m);
            }
        }
        throw new BadInput(new Problem(
                "--measure " + measureKey,
                0,
                0,
                "is no measure that a clause may use; expected one such as landing-error"));
    }

    /** Six standard deviations of the gauge beside what a clause allows. */
    private record Ability(String clause, OptionalDouble share, String word) {}

    private List<Ability> abilities(Measure measure, GaugeVariation variation) {
        List<Ability> abilities = new ArrayList<>();
        if (spec != null) {
            for (Clause clause : SpecReader.find(spec).clauses()) {
                if (clause.measure().equals(Optional.of(measure))) {
                    abilities.add(ability(clause, variation));
                }
            }
        }
        return abilities;
    }

    private static Ability ability(Clause clause, GaugeVariation variation) {
        double width = clause.bound().high() - clause.bound().low();
        double scale = Double.isFinite(width)
                ? width
                : Math.abs(clause.bound()
                        .atMost()
                        .orElseGet(() -> clause.bound().atLeast().orElse(0)));
        if (!(scale > 0)) {
            return new Ability(clause.id(), OptionalDouble.empty(), "not told: the bound has no width");
        }
        double share = GaugeVariation.shareOfTolerance(variation.gauge(), scale);
        String word = share <= CAN ? "can" : share <= MARGINAL ? "marginal" : "cannot";
        return new Ability(clause.id(), OptionalDouble.of(share), word);
    }

    private static void text(CrossedStudy study, CrossedAnova anova, List<Ability> abilities, PrintWriter out) {
        out.println(study.units() + " units, " + study.mounts() + " mounts, " + study.repeats() + " repeats");
        out.println();
        out.println("Analysis of variance        squares  freedom  mean square         F");
        line(out, "unit", anova.unit(), OptionalDouble.of(anova.unitF()));
        line(out, "mount", anova.mount(), OptionalDouble.of(anova.mountF()));
        line(out, "unit and mount", anova.interaction(), OptionalDouble.of(anova.interactionF()));
        line(out, "repeats", anova.error(), OptionalDouble.empty());
        out.println(String.format(
                Locale.ROOT,
                "The interaction has p = %.4f: %s (alpha %.2f).",
                anova.interactionP(),
                anova.pools() ? "pooled with the repeats" : "told apart",
                CrossedAnova.POOLING_ALPHA));
        out.println();
        GaugeVariation a = anova.variation();
        GaugeVariation r = AverageAndRange.of(study).variation();
        out.println("Standard deviation         by ANOVA   of total   by ranges   of total");
        share(out, "repeatability", a, a.repeatability(), r, r.repeatability());
        share(out, "reproducibility", a, a.reproducibility(), r, r.reproducibility());
        share(out, "interaction", a, a.interaction(), r, r.interaction());
        share(out, "gauge, all of these", a, a.gauge(), r, r.gauge());
        share(out, "units", a, a.unit(), r, r.unit());
        share(out, "total", a, a.total(), r, r.total());
        out.println("Distinct categories        " + categories(a) + " by ANOVA, " + categories(r) + " by ranges");
        if (!abilities.isEmpty()) {
            out.println();
            out.println(
                    "Six gauge standard deviations beside each bound; can up to 10 %, marginal up to 30 % (common practice):");
            for (Ability ability : abilities) {
                out.println("  " + ability.clause() + ": "
                        + (ability.share().isPresent()
                                ? String.format(
                                        Locale.ROOT,
                                        "%.1f %%, ",
                                        100 * ability.share().getAsDouble())
                                : "")
                        + ability.word());
            }
        }
        out.flush();
    }

    private static void line(PrintWriter out, String name, CrossedAnova.Line line, OptionalDouble f) {
        out.println(String.format(
                Locale.ROOT,
                "%-22s %12.6g %8d %12.6g %9s",
                name,
                line.squares(),
                line.freedom(),
                line.mean(),
                f.isPresent() ? String.format(Locale.ROOT, "%.3f", f.getAsDouble()) : ""));
    }

    private static void share(
            PrintWriter out, String name, GaugeVariation a, double ofA, GaugeVariation r, double ofR) {
        out.println(String.format(
                Locale.ROOT,
                "%-22s %12.5g %8.2f %% %11.5g %8.2f %%",
                name,
                ofA,
                100 * a.shareOfTotal(ofA),
                ofR,
                100 * r.shareOfTotal(ofR)));
    }

    private static String categories(GaugeVariation v) {
        OptionalDouble n = v.distinctCategories();
        return n.isPresent() ? Integer.toString((int) n.getAsDouble()) : "no limit";
    }

    private static void json(CrossedStudy study, CrossedAnova anova, List<Ability> abilities, PrintWriter out) {
        JsonWriter json = new JsonWriter(out);
        json.object()
                .field("units", study.units())
                .field("mounts", study.mounts())
                .field("repeats", study.repeats())
                .field("interactionP", anova.interactionP())
                .field("pooled", anova.pools());
        variation("anova", anova.variation(), json);
        variation("averageAndRange", AverageAndRange.of(study).variation(), json);
        json.array("clauses");
        abilities.forEach(a -> json.object()
                .field("id", a.clause())
                .field("shareOfTolerance", a.share())
                .field("ability", a.word())
                .endObject());
        json.endArray().endObject().end();
        out.flush();
    }

    private static void variation(String name, GaugeVariation v, JsonWriter json) {
        json.object(name)
                .field("repeatability", v.repeatability())
                .field("reproducibility", v.reproducibility())
                .field("interaction", v.interaction())
                .field("gauge", v.gauge())
                .field("unit", v.unit())
                .field("total", v.total())
                .field("gaugeShare", v.shareOfTotal(v.gauge()))
                .field("distinctCategories", v.distinctCategories())
                .endObject();
    }

    /** The description's own text with the study at its end, checked by the reader before it is written. */
    private void keep(Measure measure, CrossedStudy study, GaugeVariation v, Path file, String typed)
            throws IOException {
        TextFile text = Bundled.find(typed, Bundled.Kind.RIG);
        if (!RigDescriptionReader.read(text).studies().isEmpty()) {
            throw new BadInput(new Problem(
                    typed, 0, 0, "has a study already; take its 'study' section out, or add this one by hand"));
        }
        String unit = " " + measure.unit().symbol();
        String added = text.text() + (text.text().endsWith("\n") ? "" : "\n") + "study:\n  - { on: "
                + LocalDate.now(Clock.systemUTC()) + ", measure: " + measure.key() + ", units: " + study.units()
                + ", mounts: " + study.mounts() + ", repeats: " + study.repeats() + ", shifts: " + shifts
                + ",\n      repeatability: " + Decimal.text(v.repeatability(), 6) + unit + ", reproducibility: "
                + Decimal.text(Math.hypot(v.reproducibility(), v.interaction()), 6) + unit
                + (unitSpread ? ", repeatability-used: false" : "") + " }\n";
        RigDescriptionReader.read(TextFile.of(file.toString(), added));
        Files.writeString(file, added, StandardCharsets.UTF_8, java.nio.file.StandardOpenOption.CREATE_NEW);
    }
}
