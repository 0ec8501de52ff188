package org.shiftstand.classification;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.commons.math3.distribution.BetaDistribution;
import org.shiftstand.spec.Verdict;

/** The confusion tables in Markdown. */
final class Page {
    private static final double CONFIDENCE = 0.95;

    private final List<Fleet> fleets;
    private final long base;
    private final StringBuilder out = new StringBuilder();

    private Page(List<Fleet> fleets, long base) {
        this.fleets = fleets;
        this.base = base;
    }

    /** @param base first seed, as the campaign had it */
    static String of(List<Fleet> fleets, long base) {
        Page page = new Page(fleets, base);
        page.faulty();
        page.good();
        page.evidence();
        page.other();
        page.clauses();
        page.wrong();
        return page.out.toString();
    }

    private Stream<Fleet> faults() {
        return fleets.stream().filter(f -> f.kind().isPresent() && !f.damagesEvidenceOnly());
    }

    private void faulty() {
        out.append("## Faulty units\n\nEach breaks the spec by its noise-free motion.\n\n")
                .append(
                        "| fault | units | fail | no verdict | pass (escapes) | slightest | worst | stopped early | seeds |\n")
                .append("|---|---:|---:|---:|---:|---|---|---:|---|\n");
        int units = 0;
        int escapes = 0;
        for (Fleet f : faults().toList()) {
            List<CheckedUnit> faulty = f.that(Truth.State.FAULTY);
            line(f.name(), verdicts(faulty), extremes(faulty), stopped(faulty), f.seeds(base));
            units += faulty.size();
            escapes += f.escapes().size();
        }
        List<CheckedUnit> all =
                faults().flatMap(f -> f.that(Truth.State.FAULTY).stream()).toList();
        line("**all**", verdicts(all), "|", stopped(all), "");
        out.append(rate("\nEscapes", escapes, units));
    }

    private void good() {
        out.append(
                        "\n## Good units\n\n| | units | pass | no verdict | fail (false rejects) | nearest to a bound | seeds |\n")
                .append("|---|---:|---:|---:|---:|---|---|\n");
        for (Fleet f : fleets.stream().filter(f -> f.kind().isEmpty()).toList()) {
            List<CheckedUnit> good = f.that(Truth.State.GOOD);
            line("good", goodVerdicts(good), extreme(good, false), f.seeds(base));
            out.append(rate("\nFalse rejects", f.falseRejects().size(), good.size()));
        }
    }

    private void evidence() {
        out.append(
                "\n## Good units with damaged evidence\n\nThese do all they should; samples are missing or wrong. Right is"
                        + " no verdict, or pass where what is missing cannot turn the result; a fail would be a false"
                        + " reject.\n\n| fault | units | pass | no verdict | fail | seeds |\n|---|---:|---:|---:|---:|---|\n");
        fleets.stream()
                .filter(Fleet::damagesEvidenceOnly)
                .forEach(f -> line(f.name(), goodVerdicts(f.that(Truth.State.GOOD)), f.seeds(base)));
    }

    /** What was drawn, and is by its motion something else than it was meant to be. */
    private void other() {
        out.append(
                "\n## Drawn, and not what was meant\n\nUnits of the same seeds that by their motion are good (the fault"
                        + " was too mild or struck no shift), borderline (nearer to a bound than a measurement is sure of),"
                        + " or break the spec only when landings are counted from the true origin.\n\n"
                        + "| drawn as | really | units | pass | no verdict | fail |\n|---|---|---:|---:|---:|---:|\n");
        for (Fleet f : fleets) {
            for (Truth.State state : Truth.State.values()) {
                List<CheckedUnit> units = f.that(state);
                if (state != f.meant() && !units.isEmpty()) {
                    line(f.name(), words(state), goodVerdicts(units));
                }
            }
        }
    }

    private static String words(Truth.State state) {
        return switch (state) {
            case FAULTY -> "faulty";
            case ONLY_FROM_ORIGIN -> "faulty only from the true origin";
            case BORDERLINE -> "borderline";
            case GOOD -> "good";
        };
    }

    private void clauses() {
        out.append("\n## Which clause caught them\n\nOf the faulty units above; a unit may fail by several.\n\n")
                .append("| fault | clauses that fail, with units |\n|---|---|\n");
        faults().forEach(f -> {
            Map<String, Integer> caught = new TreeMap<>();
            f.that(Truth.State.FAULTY).forEach(u -> u.failed().forEach(id -> caught.merge(id, 1, Integer::sum)));
            line(
                    f.name(),
                    caught.entrySet().stream()
                            .sorted(Map.Entry.<String, Integer>comparingByValue()
                                    .reversed())
                            .map(e -> e.getKey() + " " + e.getValue())
                            .collect(Collectors.joining(", ")));
        });
    }

    private void wrong() {
        List<CheckedUnit> wrong = fleets.stream()
                .flatMap(f -> Stream.concat(f.escapes().stream(), f.falseRejects().stream()))
                .toList();
        List<CheckedUnit> undecided = faults().flatMap(f -> f.that(Truth.State.FAULTY).stream())
                .filter(u -> u.verdict() == Verdict.NO_VERDICT)
                .toList();
        list("\n## Escapes and false rejects, one by one\n\n", wrong);
        list("\n## Faulty units without verdict, one by one\n\n", undecided);
    }

    private void list(String title, List<CheckedUnit> units) {
        out.append(title);
        if (units.isEmpty()) {
            out.append("None.\n");
        }
        units.forEach(u -> out.append("- ").append(u.words()).append('\n'));
    }

    private static String verdicts(List<CheckedUnit> units) {
        return columns(units, Verdict.FAIL, Verdict.NO_VERDICT, Verdict.PASS);
    }

    private static String goodVerdicts(List<CheckedUnit> units) {
        return columns(units, Verdict.PASS, Verdict.NO_VERDICT, Verdict.FAIL);
    }

    private static String columns(List<CheckedUnit> units, Verdict... verdicts) {
        return units.size() + " | "
                + Stream.of(verdicts).map(v -> "" + Fleet.count(units, v)).collect(Collectors.joining(" | "));
    }

    private static String extremes(List<CheckedUnit> units) {
        return extreme(units, true) + " | " + extreme(units, false);
    }

    private static String extreme(List<CheckedUnit> units, boolean least) {
        Comparator<CheckedUnit> order =
                Comparator.comparingDouble(u -> u.truth().beyond());
        return units.stream()
                .min(least ? order : order.reversed())
                .map(u -> u.truth().worst())
                .orElse("–");
    }

    private static String stopped(List<CheckedUnit> units) {
        return "" + units.stream().filter(u -> !u.end().isEmpty()).count();
    }

    /** Clopper and Pearson's one-sided limit (Biometrika 26, 1934). */
    private static String rate(String what, int hits, int of) {
        double limit =
                hits == of ? 1 : new BetaDistribution(hits + 1, of - hits).inverseCumulativeProbability(CONFIDENCE);
        return String.format(
                Locale.ROOT,
                "%s: %d of %d; of units drawn so, below %.2g %% with %.0f %% confidence (Clopper–Pearson).%n",
                what,
                hits,
                of,
                100 * limit,
                100 * CONFIDENCE);
    }

    private void line(String... cells) {
        out.append("| ").append(String.join(" | ", cells)).append(" |\n");
    }
}
