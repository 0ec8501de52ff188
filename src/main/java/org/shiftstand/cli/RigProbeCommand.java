package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.ProbeFiles;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.link.Link;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.rig.Probe;
import org.shiftstand.rig.ProbeEnd;
import org.shiftstand.rig.ProbeMonitor;
import org.shiftstand.rig.ProbePlan;
import org.shiftstand.rig.RunEnd;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Probes a rig. */
@NeedsSpring
@Command(
        name = "probe",
        sortOptions = false,
        description = {
            "Probes a rig: identity, channels, and everything that must cut the supply.",
            "",
            "Tries the emergency stop (a person presses it when asked) and the heartbeat cut first, at "
                    + "rest; then makes some twenty shifts, cuts the supply in the middle of one, and lets the "
                    + "rig's own current limit act. Takes one to three minutes. The unit must be free to move over "
                    + "the whole cassette.",
            "",
            "Leaves RIG-UTCSTAMP.probe.yaml in a folder; the newest one of a rig permits runs that nobody "
                    + "attends, for 24 hours from the press. Exit 0: everything that such runs need has passed; 1: "
                    + "something of it needs attention; 3: something of it was not measured."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand rig probe --rig sim:seed=7,estop-at=9 --unit TD-0107",
            "  shiftstand rig probe --rig serial:/dev/ttyACM0 --rig-description bench-two.rig.yaml \\",
            "      --unit TD-0108 --attended"
        })
final class RigProbeCommand implements Callable<Integer> {
    private final Supplier<Bench> bench;

    @Spec
    private CommandSpec command;

    @Option(
            names = "--rig",
            required = true,
            paramLabel = "ADDRESS",
            description = "sim, sim:key=value,… (see 'rig simulate --help'), or serial:PATH.")
    private String rig;

    @Option(
            names = "--unit",
            required = true,
            paramLabel = "ID",
            description = "Id of the unit on it, such as TD-0107.")
    private String unit;

    @Option(
            names = "--rig-description",
            paramLabel = "R",
            completionCandidates = PackedNames.Rigs.class,
            description = "What is known of the rig: line speed, scales, guards (a YAML file).")
    private @Nullable String description;

    @Option(
            names = "--profile",
            paramLabel = "P",
            completionCandidates = PackedNames.Profiles.class,
            description = "Profile of the unit: its hold, and what a simulated unit is built by. Default: tarn-drive "
                    + "for a simulated rig.")
    private @Nullable String profile;

    @Option(names = "--out", paramLabel = "DIR", description = "Folder of the probe files. Default: reports/rigs.")
    private @Nullable Path out;

    @Mixin
    private AttendedOption attended = new AttendedOption();

    @Option(
            names = "--without-emergency-stop",
            description = "Nobody presses it: left out, and told as not measured. No run without a person after that.")
    private boolean withoutStop;

    @Option(names = "--json", description = "Print what was found as JSON.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.ownLine();

    RigProbeCommand(Supplier<Bench> bench) {
        this.bench = bench;
    }

    @Override
    public Integer call() {
        PrintWriter err = command.commandLine().getErr();
        PrintWriter text = command.commandLine().getOut();
        UnitId.check(unit);
        RigAddress address = RigAddress.parse(rig);
        Optional<RigDescription> read = Optional.ofNullable(description).map(RigDescriptionReader::find);
        Profile nominal = ProfileReader.find(Optional.ofNullable(profile).orElse(Bundles.TARN_DRIVE));
        // another unit's hold must not shorten the waiting: without a named profile a longer one is used
        OptionalDouble hold =
                profile != null || address instanceof RigAddress.Simulated ? nominal.holdS() : OptionalDouble.empty();
        attended.need(address, err);
        ProbePlan plan = new ProbePlan(unit, read, hold, !withoutStop, "shiftstand " + Version.number());
        Progress line = progress.line(err);
        ProbeEnd end;
        try (SafeStop stop = new SafeStop()) {
            try (Link link = bench.get().rigs().open(address, nominal, read)) {
                end = Probe.run(link, plan, told(line, err), stop);
            }
            return finish(end, text, err);
        } finally {
            line.clear();
        }
    }

    private int finish(ProbeEnd end, PrintWriter text, PrintWriter err) {
        if (end.report().isEmpty()) {
            err.println("The probe ended early: " + end.end().reason() + ". "
                    + end.end().supply() + " No file was written.");
            return ExitCode.withoutResult(end.end());
        }
        ProbeReport report = end.report().get();
        Path folder = Optional.ofNullable(out).orElseGet(() -> bench.get().probes());
        Path file = Output.writeWhole(
                ProbeFiles.free(folder, report.rig(), report.at()),
                false,
                stream -> stream.write(report.toYaml().getBytes(StandardCharsets.UTF_8)));
        if (json) {
            ProbeTable.json(report, text);
        } else {
            ProbeTable.print(report, text);
            text.println("Probe file: " + file);
        }
        if (!(end.end() instanceof RunEnd.Completed)) {
            err.println("The probe ended early: " + end.end().reason() + ". "
                    + end.end().supply());
            return ExitCode.RIG;
        }
        return ProbeTable.exitCode(report);
    }

    private static ProbeMonitor told(Progress progress, PrintWriter err) {
        return new ProbeMonitor() {
            @Override
            public void phase(String text) {
                progress.show("probing: " + text);
            }

            @Override
            public void ask(String text) {
                progress.clear();
                err.println(">> " + text);
            }
        };
    }
}
