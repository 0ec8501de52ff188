package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** Runs {@link SeveralChecks} as a process: pairs of unit and rig up to {@code --}, then what is the same for all. */
final class SeveralChecksMain {
    private SeveralChecksMain() {}

    public static void main(String[] args) {
        List<String> all = List.of(args);
        int end = all.indexOf("--");
        var units = new ArrayList<String>();
        var rigs = new ArrayList<String>();
        for (int i = 0; i < end; i += 2) {
            units.add(all.get(i));
            rigs.add(all.get(i + 1));
        }
        var out = new PrintWriter(System.out, true, StandardCharsets.UTF_8);
        var err = new PrintWriter(System.err, true, StandardCharsets.UTF_8);
        System.exit(SeveralChecks.run(
                SeveralChecks.pairs(units, rigs, List.of(), all.subList(end + 1, all.size())),
                out,
                err,
                new Progress(err)));
    }
}
