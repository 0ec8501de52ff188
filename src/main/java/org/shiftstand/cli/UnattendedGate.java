package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import org.shiftstand.bench.ProbeFiles;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Problem;
import org.shiftstand.link.RigMessage;
import org.shiftstand.rig.UnattendedPermit;
import org.shiftstand.rig.UnattendedPermit.Confirmation;

/** Lets a real rig run with nobody beside it only where its probe, its description and a person's word allow it. */
final class UnattendedGate implements Consumer<RigMessage.Identity> {
    private final Optional<RigDescription> description;
    private final Path probes;
    private final Set<Confirmation> confirmed;
    private final boolean autoRestart;
    private final Clock clock;

    /** @param probes folder with the probe files of rigs */
    UnattendedGate(
            Optional<RigDescription> description,
            Path probes,
            Set<Confirmation> confirmed,
            boolean autoRestart,
            Clock clock) {
        this.description = description;
        this.probes = probes;
        this.confirmed = confirmed;
        this.autoRestart = autoRestart;
        this.clock = clock;
    }

    /**
     * What was confirmed on the command line, and, where a person is at the terminal, what they say when asked for the rest.
     *
     * @throws BadInput for words that are none
     */
    static Set<Confirmation> confirmed(List<String> words, boolean terminal, PrintWriter err) throws IOException {
        Set<Confirmation> confirmed = EnumSet.noneOf(Confirmation.class);
        List<Problem> problems = new ArrayList<>();
        for (String word : words) {
            Optional<Confirmation> one = Confirmation.of(word);
            one.ifPresent(confirmed::add);
            if (one.isEmpty()) {
                problems.add(new Problem(
                        "--confirm " + word,
                        0,
                        0,
                        "is nothing that can be confirmed; expected " + Confirmation.words() + "."
                                + Nearest.hint(
                                        word, List.of(Confirmation.words().split(",", -1)))));
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        for (Confirmation wanted : terminal ? Confirmation.values() : new Confirmation[0]) {
            if (!confirmed.contains(wanted) && asked(wanted, err)) {
                confirmed.add(wanted);
            }
        }
        return confirmed;
    }

    private static boolean asked(Confirmation wanted, PrintWriter err) throws IOException {
        err.print("Is it so that " + wanted.sentence() + "? Type 'yes' and Enter: ");
        err.flush();
        var typed = new StringBuilder();
        int c = System.in.read();
        while (c >= 0 && c != '\n') {
            typed.append((char) c);
            c = System.in.read();
        }
        return typed.toString().strip().equals("yes");
    }

    /** @throws BadInput with everything that is missing, before anything is powered */
    @Override
    public void accept(RigMessage.Identity rig) {
        ProbeFiles.Newest newest = ProbeFiles.newest(probes, rig.rigName());
        UnattendedPermit permit =
                UnattendedPermit.of(rig, description, newest.report(), clock.instant(), confirmed, autoRestart);
        if (permit instanceof UnattendedPermit.Refused refused) {
            List<Problem> problems = new ArrayList<>();
            for (String text : refused.missing()) {
                problems.add(new Problem("--unattended", 0, 0, text));
            }
            for (String text : newest.unreadable()) {
                problems.add(new Problem("--probes " + probes, 0, 0, text));
            }
            throw new BadInput(problems);
        }
    }
}
