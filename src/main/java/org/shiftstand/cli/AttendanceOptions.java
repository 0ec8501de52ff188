package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.link.RigMessage;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.UnattendedPermit.Confirmation;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Whether a person stands by a check, or what permits that nobody does. */
final class AttendanceOptions {
    @Mixin
    private AttendedOption attended = new AttendedOption();

    @Option(
            names = "--unattended",
            description = "Nobody stands by. On a real rig this needs a probe ('rig probe') not older than a day, and"
                    + " --confirm.")
    private boolean unattended;

    @Option(
            names = "--confirm",
            split = ",",
            paramLabel = "WORD",
            description = "For --unattended, what you have looked at: fused-supply,cut-out. A terminal asks for it.")
    private List<String> confirm = List.of();

    @Option(
            names = "--auto-restart",
            description =
                    "With --unattended: go on by itself after a lost line or with --resume. Needs a rig description"
                            + " that declares 'guard: closed'.")
    private boolean autoRestart;

    @Option(
            names = "--probes",
            paramLabel = "DIR",
            description = "Folder with the probe files of rigs. Default: rigs in the reports folder.")
    private @Nullable Path probes;

    /** How the record says it. */
    String word() {
        return attended.given() ? "attended" : unattended ? "unattended" : "simulated";
    }

    /**
     * What was confirmed on the command line.
     *
     * @throws BadInput with every word that confirms nothing
     */
    Set<Confirmation> confirmed() {
        return Unattended.confirmed(confirm);
    }

    /** A simulated unit hurts nobody; a real one waits for a person, or moves behind a closed guard. */
    GoAhead goAhead(Bench.Job job, BooleanSupplier stop, PrintWriter err) {
        return job.rig() instanceof RigAddress.Simulated || autoRestart ? what -> true : person(stop, err);
    }

    /**
     * Nothing moves on a real rig before the cautions were shown and a person said that they stand by, or a probe and their
     * word that the rig is safe alone.
     *
     * @param usual folder of the probe files unless another one was named
     * @return what is still to be looked at once the rig has said who it is
     * @throws BadInput where it must not move
     */
    Consumer<RigMessage.Identity> permit(
            Bench.Job job, Set<Confirmation> confirmed, Supplier<Path> usual, PrintWriter err) {
        if (attended.given() && unattended) {
            throw refused(
                    "--attended",
                    "does not go with --unattended: either a person stands by, or nobody does. Leave one of them out");
        }
        if (autoRestart && !unattended) {
            throw refused(
                    "--auto-restart",
                    "is for runs that nobody attends: where a person stands by, they say when it goes on; leave it out, or"
                            + " add --unattended");
        }
        if (job.rig() instanceof RigAddress.Simulated) {
            return rig -> {};
        }
        if (unattended && job.goesOn().isPresent() && !autoRestart) {
            throw refused(
                    "--resume",
                    "moves a unit after a break, and nothing moves by itself then: stand by and use --attended, or declare"
                            + " a closed guard in the rig description and add --auto-restart");
        }
        if (unattended) {
            AttendedOption.cautions(job.rig(), err);
            return new Unattended(
                    Optional.ofNullable(probes).orElseGet(usual),
                    Clock.systemUTC(),
                    job.description(),
                    Unattended.asked(confirmed, person(() -> false, err)::answer),
                    autoRestart)::permit;
        }
        attended.need(job.rig(), err);
        return rig -> {};
    }

    private static PersonsWord person(BooleanSupplier stop, PrintWriter err) {
        return new PersonsWord(err, System.in, PersonsWord.somebodyThere(), stop);
    }

    private static BadInput refused(String option, String why) {
        return new BadInput(new Problem(option, 0, 0, why));
    }
}
