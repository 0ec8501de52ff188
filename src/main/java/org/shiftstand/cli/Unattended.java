package org.shiftstand.cli;

import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.shiftstand.bench.ProbeFiles;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Problem;
import org.shiftstand.link.RigMessage.Identity;
import org.shiftstand.rig.UnattendedPermit;
import org.shiftstand.rig.UnattendedPermit.Confirmation;

/** A run that nobody attends: what was confirmed, and whether the rig that has answered may be left alone. */
final class Unattended {
    private final Path probes;
    private final Clock clock;
    private final Optional<RigDescription> description;
    private final Set<Confirmation> confirmed;
    private final boolean autoRestart;

    /** @param probes folder of the probe files */
    Unattended(
            Path probes,
            Clock clock,
            Optional<RigDescription> description,
            Set<Confirmation> confirmed,
            boolean autoRestart) {
        this.probes = probes;
        this.clock = clock;
        this.description = description;
        this.confirmed = Set.copyOf(confirmed);
        this.autoRestart = autoRestart;
    }

    /**
     * Reads {@code --confirm fused-supply,cut-out}.
     *
     * @throws BadInput with every word that is none
     */
    static Set<Confirmation> confirmed(List<String> words) {
        Set<Confirmation> read = EnumSet.noneOf(Confirmation.class);
        List<Problem> problems = new ArrayList<>();
        for (String word : words) {
            for (String one : word.split(",", -1)) {
                Optional<Confirmation> known = Confirmation.of(one.strip());
                known.ifPresent(read::add);
                if (known.isEmpty()) {
                    problems.add(new Problem(
                            "--confirm " + one,
                            0,
                            0,
                            "is unknown; expected one or more of " + Confirmation.words() + "."
                                    + Nearest.hint(
                                            one, List.of(Confirmation.words().split(",", -1)))));
                }
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return read;
    }

    /**
     * Asks a person on a terminal for what was not confirmed on the command line.
     *
     * @param answer reads one line after a question was shown; empty where nobody answers
     */
    static Set<Confirmation> asked(Set<Confirmation> confirmed, Function<String, Optional<String>> answer) {
        Set<Confirmation> all = EnumSet.noneOf(Confirmation.class);
        all.addAll(confirmed);
        for (Confirmation wanted : Confirmation.values()) {
            if (!all.contains(wanted)) {
                String question = "Is it so that " + wanted.sentence() + "? Type yes: ";
                if (answer.apply(question).filter(a -> a.strip().equals("yes")).isPresent()) {
                    all.add(wanted);
                }
            }
        }
        return all;
    }

    /**
     * Goes on only where this rig may be left alone; call it once the rig has said who it is, before anything moves.
     *
     * @throws BadInput with everything that is missing
     */
    void permit(Identity rig) {
        ProbeFiles.Newest newest = ProbeFiles.newest(probes, rig.rigName());
        UnattendedPermit permit =
                UnattendedPermit.of(rig, description, newest.report(), clock.instant(), confirmed, autoRestart);
        if (permit instanceof UnattendedPermit.Refused refused) {
            List<Problem> problems = new ArrayList<>();
            refused.missing().forEach(text -> problems.add(new Problem("--unattended", 0, 0, text)));
            newest.unreadable()
                    .forEach(text -> problems.add(
                            new Problem("--unattended", 0, 0, "a probe file cannot be" + " read: " + text)));
            throw new BadInput(problems);
        }
    }
}
