package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SupplyLog;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** A simulated rig with a unit on a real pseudo-terminal, in real time. */
@Command(
        name = "simulate",
        sortOptions = false,
        description = {
            "Runs a simulated rig on a pseudo-terminal.",
            "",
            "Runs a simulated rig with a simulated unit on a pseudo-terminal, in real time and byte by "
                    + "byte as a real one would talk (rig/WIRE.md). Prints the port as its first line, then runs "
                    + "until Ctrl-C, or until unplug-at without replug-after.",
            "",
            "With --supply-log each change of the supply is added to a file at once: the rig is a process of its own, so "
                    + "that the file shows when the supply went off even where the host was killed or stopped. Columns: "
                    + "rig_us (since the start), monotonic_ns (of this machine), utc, millivolts (0: off), cause, "
                    + "since_heartbeat_us (since the host's last heartbeat, on the rig's clock)."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand rig simulate --pty seed=7,fault=overtravel-short,pair=3-4,rate=0.2",
            "  shiftstand rig simulate --pty --link ./rig &",
            "      shiftstand check --rig serial:./rig --procedure quick-look --spec tarn-drive-end-of-line \\",
            "      --unit TD-0107 --attended",
            "  shiftstand rig simulate --pty --link ./rig --supply-log ./supply.csv unplug-at=20,replug-after=5",
            ""
        })
final class RigSimulateCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(
            arity = "0..1",
            paramLabel = "KEY=VALUE,…",
            defaultValue = "",
            description = "How unit, rig and line behave; the keys are listed below.")
    private String options;

    // the only place there is so far; asked for by name so that others can be added without a change of meaning
    @SuppressWarnings("UnusedVariable")
    @Option(names = "--pty", required = true, description = "On a pseudo-terminal (Linux).")
    private boolean pty;

    @Option(
            names = "--profile",
            paramLabel = "P",
            completionCandidates = PackedNames.Profiles.class,
            defaultValue = "specs/tarn-drive.profile.yaml",
            description = "Profile that the simulated unit is built by. Default: tarn-drive.")
    private String profile;

    @Option(
            names = "--link",
            paramLabel = "PATH",
            description = "Make a symbolic link to the port here, and take it away at the end.")
    private @Nullable Path link;

    @Option(
            names = "--truth",
            paramLabel = "FILE",
            description = "At the end, write what the unit really did to this file (JSON).")
    private @Nullable Path truth;

    @Option(
            names = "--supply-log",
            paramLabel = "FILE",
            description = "Add each change of the supply to this file (CSV) at once.")
    private @Nullable Path supplyLog;

    @Override
    public Integer call() throws InterruptedException {
        PrintWriter out = command.commandLine().getOut();
        PrintWriter err = command.commandLine().getErr();
        Profile nominal = ProfileReader.find(profile);
        SimOptions behaviour = behaviour();
        try (SafeStop stop = new SafeStop();
                PtyRig rig = open(nominal, behaviour)) {
            out.println("serial:" + rig.path());
            out.flush();
            err.println("Simulated rig on " + rig.path() + "; Ctrl-C ends it.");
            boolean ended = false;
            while (!ended && !stop.getAsBoolean()) {
                ended = rig.awaitEnd(50);
            }
            Optional<Path> file = Optional.ofNullable(truth);
            file.ifPresent(f -> Output.writeWhole(
                    f, true, stream -> stream.write(rig.truth().toJson().getBytes(StandardCharsets.UTF_8))));
            if (!rig.failure().isEmpty()) {
                err.println("The simulated rig ended: " + rig.failure());
                return ExitCode.RIG;
            }
        }
        return ExitCode.DONE;
    }

    private SimOptions behaviour() {
        try {
            return SimOptions.parse(options);
        } catch (IllegalArgumentException e) {
            throw new BadInput(new Problem(
                    "rig simulate " + options,
                    0,
                    0,
                    e.getMessage() + "\n'shiftstand rig simulate --help' lists every key"));
        }
    }

    private static SupplyLog log(Path file) {
        try {
            return new SupplyLog(file);
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    "--supply-log " + file,
                    0,
                    0,
                    "cannot be written (" + Output.cause(e) + "); name a file in a folder you may write to"));
        }
    }

    private PtyRig open(Profile nominal, SimOptions behaviour) {
        Optional<Path> at = Optional.ofNullable(link);
        Optional<SupplyLog> log = Optional.ofNullable(supplyLog).map(RigSimulateCommand::log);
        try {
            return new PtyRig(nominal, behaviour, at, log);
        } catch (IllegalArgumentException e) {
            throw new BadInput(new Problem("rig simulate " + options, 0, 0, String.valueOf(e.getMessage())));
        } catch (IllegalStateException e) {
            throw new BadInput(new Problem("--pty", 0, 0, String.valueOf(e.getMessage())));
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    "--link " + at.map(Path::toString).orElse(""),
                    0,
                    0,
                    "cannot be made (" + Output.cause(e)
                            + "); name a path that does not exist, in a folder you may write to"));
        }
    }
}
