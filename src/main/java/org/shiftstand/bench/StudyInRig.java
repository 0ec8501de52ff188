package org.shiftstand.bench;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.quantity.Unit;

/** Writes what a gauge study found into the text of a rig description; comments and order of all the rest stay. */
public final class StudyInRig {
    private static final MathContext DIGITS = new MathContext(6);

    private StudyInRig() {}

    /**
     * The description with a study in it; an earlier one of the same measure is replaced.
     *
     * @param name of the text that comes about, for messages
     * @throws BadInput where the description cannot be read, or is written so that nothing can be added
     */
    public static TextFile added(TextFile rig, StudyResult study, String name) {
        List<StudyResult> all = new ArrayList<>(RigDescriptionReader.read(rig).studies());
        all.removeIf(s -> s.measure().equals(study.measure()));
        all.add(study);
        String rest = without(rig.text());
        TextFile text = TextFile.of(name, rest + (rest.endsWith("\n") ? "" : "\n") + section(all));
        List<StudyResult> read;
        try {
            read = RigDescriptionReader.read(text).studies();
        } catch (BadInput e) {
            throw cannot(rig, e.problems().get(0).text());
        }
        if (!read.stream()
                .map(StudyInRig::line)
                .toList()
                .equals(all.stream().map(StudyInRig::line).toList())) {
            throw cannot(rig, "the studies do not read back as they were written");
        }
        return text;
    }

    private static BadInput cannot(TextFile rig, String why) {
        return new BadInput(new Problem(
                rig.name(),
                0,
                0,
                "is written so that no study can be added (" + why
                        + "), and nothing was written; expected a key a line, as rig/bench-two.rig.yaml has it"));
    }

    /** Without the key {@code study}: from its line to the next one that begins a key. */
    private static String without(String text) {
        var kept = new StringBuilder();
        boolean inside = false;
        for (String line : text.split("(?<=\n)", -1)) {
            boolean begins = !line.isBlank() && " -#]}\t".indexOf(line.charAt(0)) < 0;
            if (begins) {
                inside = line.matches("(?s)[\"']?study[\"']?\\s*:.*");
            }
            if (!inside || line.startsWith("#")) {
                kept.append(line);
            }
        }
        return kept.toString();
    }

    private static String section(List<StudyResult> studies) {
        return studies.stream().map(StudyInRig::line).collect(Collectors.joining("", "study:\n", ""));
    }

    private static String line(StudyResult s) {
        Unit unit = Arrays.stream(Unit.values())
                .filter(u -> u.dimension() == JudgedMeasures.dimension(s.measure()) && u.inBase() == 1)
                .findFirst()
                .orElseThrow();
        return String.format(
                Locale.ROOT,
                "  - { on: %s, measure: %s, units: %d, mounts: %d, repeats: %d, shifts: %d,\n"
                        + "      repeatability: %s, reproducibility: %s, repeatability-used: %s }\n",
                s.on(),
                s.measure(),
                s.units(),
                s.mounts(),
                s.repeats(),
                s.shifts(),
                quantity(s.repeatability(), unit),
                quantity(s.reproducibility(), unit),
                s.repeatabilityUsed() ? "true" : "false");
    }

    private static String quantity(double base, Unit unit) {
        return new BigDecimal(base).round(DIGITS).stripTrailingZeros().toPlainString() + " " + unit.symbol();
    }
}
