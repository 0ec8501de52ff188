package org.shiftstand.classification;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.sim.FaultKind;
import org.shiftstand.spec.Verdict;

/** Checked units as lines of text, one file a kind, so that a campaign can be made in parts. */
final class Rows {
    private Rows() {}

    static void write(Fleet fleet, Path folder) throws IOException {
        List<String> lines = new ArrayList<>();
        for (CheckedUnit u : fleet.units()) {
            lines.add(String.join(
                    "\t",
                    u.rig(),
                    String.valueOf(u.truth().beyond()),
                    String.valueOf(u.truth().beyondFromOrigin()),
                    u.truth().worst(),
                    u.end(),
                    u.verdict().name(),
                    u.reason().replaceAll("\\s+", " "),
                    String.join(",", u.failed()),
                    String.join(",", u.undecided())));
        }
        Files.write(file(fleet.kind(), folder), lines);
    }

    /** Empty where this kind was not checked yet. */
    static Optional<Fleet> read(Optional<FaultKind> kind, Path folder) throws IOException {
        Path file = file(kind, folder);
        if (!Files.exists(file)) {
            return Optional.empty();
        }
        List<CheckedUnit> units = new ArrayList<>();
        for (String line : Files.readAllLines(file)) {
            String[] f = line.split("\t", -1);
            units.add(new CheckedUnit(
                    f[0],
                    new Truth(Double.parseDouble(f[1]), Double.parseDouble(f[2]), f[3]),
                    f[4],
                    Verdict.valueOf(f[5]),
                    f[6],
                    list(f[7]),
                    list(f[8])));
        }
        return Optional.of(new Fleet(kind, units));
    }

    private static List<String> list(String text) {
        return text.isEmpty() ? List.of() : List.of(text.split(",", -1));
    }

    private static Path file(Optional<FaultKind> kind, Path folder) {
        return folder.resolve(Fleet.name(kind) + ".tsv");
    }
}
