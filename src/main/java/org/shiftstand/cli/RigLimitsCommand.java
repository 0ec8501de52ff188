package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.OwnLimits;
import org.shiftstand.link.Link;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.rig.LimitsEnd;
import org.shiftstand.rig.LimitsPlan;
import org.shiftstand.rig.LimitsSearch;
import org.shiftstand.rig.RunMonitor;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Finds a unit's mechanical limits, or writes down what was measured by hand. */
@NeedsSpring
@Command(
        name = "limits",
        sortOptions = false,
        description = {
            "Finds a unit's mechanical limits, or keeps those measured by hand.",
            "",
            "On a rig that drives the motor itself (drive: direct) it turns the unit gently against "
                    + "both limits, three times each, with a low current that the rig limits, and refuses where the "
                    + "touches do not agree. The unit must stand on a known sprocket at the start, which gives the "
                    + "angles their origin.",
            "",
            "On a rig that only passes on requests nothing moves: give --outboard, --inboard, --by and --on. "
                    + "Either way leaves UNIT.limits.yaml, which goes before the profile's limits in check and judge."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand rig limits --rig serial:/dev/ttyACM0 --rig-description bench-two.rig.yaml \\",
            "      --profile tarn-drive --unit TD-0107 --standing-on 1 --attended",
            "  shiftstand rig limits --unit TD-0107 --outboard \"-515 deg\" --inboard \"7080 deg\" \\",
            "      --by \"station 2\" --on 2026-09-14"
        })
final class RigLimitsCommand implements Callable<Integer> {
    private final Supplier<Bench> bench;

    @Spec
    private CommandSpec command;

    @Option(
            names = "--rig",
            paramLabel = "ADDRESS",
            description = "sim:drive=direct,… (see 'rig simulate --help') or serial:PATH. Not for values by hand.")
    private @Nullable String rig;

    @Option(names = "--unit", required = true, paramLabel = "ID", description = "Id of the unit, such as TD-0107.")
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
            description = "Profile of this kind of unit: how far it may travel, and the origin. Needed on a real rig; "
                    + "default for a simulated one: tarn-drive.")
    private @Nullable String profile;

    @Option(
            names = "--standing-on",
            paramLabel = "K",
            defaultValue = "1",
            description = "The sprocket that the unit stands on now. Default: ${DEFAULT-VALUE}.")
    private int standingOn;

    @Option(names = "--current", paramLabel = "A", description = "Most current through the motor. Default: 0.6 A.")
    private @Nullable String current;

    @Option(names = "--supply", paramLabel = "V", description = "Supply of the unit. Default: 7.4 V.")
    private @Nullable String supply;

    @Option(names = "--outboard", paramLabel = "DEG", description = "By hand: the outboard limit, such as '-515 deg'.")
    private @Nullable String outboard;

    @Option(names = "--inboard", paramLabel = "DEG", description = "By hand: the inboard limit, such as '7080 deg'.")
    private @Nullable String inboard;

    @Option(names = "--by", paramLabel = "NAME", description = "Who measured.")
    private @Nullable String by;

    @Option(names = "--on", paramLabel = "DATE", description = "By hand: the day of measuring, such as 2026-09-14.")
    private @Nullable String on;

    @Option(
            names = "--out",
            paramLabel = "FILE",
            description = "File to write. Default: UNIT.limits.yaml in this folder.")
    private @Nullable Path out;

    @Option(names = "--force", description = "Overwrite that file.")
    private boolean force;

    @Mixin
    private AttendedOption attended = new AttendedOption();

    @Mixin
    private ProgressOption progress = ProgressOption.ownLine();

    RigLimitsCommand(Supplier<Bench> bench) {
        this.bench = bench;
    }

    @Override
    public Integer call() {
        UnitId.check(unit);
        Path file = Optional.ofNullable(out).orElse(Path.of(UnitLimits.fileName(unit)));
        if (!force && Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
            throw bad(
                    file.toString(),
                    "exists already, and nothing is overwritten; name another with --out, or add" + " --force");
        }
        HandMeasured hand = new HandMeasured(outboard, inboard, by, on);
        return hand.any() ? byHand(hand, file) : byDriving(file);
    }

    private int byHand(HandMeasured hand, Path file) {
        UnitLimits limits = hand.read(unit, bench.get().today());
        TextFile text = TextFile.of(file.toString(), limits.toYaml());
        Optional<Profile> nominal = Optional.ofNullable(profile).map(ProfileReader::find);
        List<Problem> problems =
                nominal.map(p -> new OwnLimits(text, limits).problems(p)).orElse(List.of());
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        write(limits, file);
        PrintWriter said = command.commandLine().getOut();
        said.println("Nothing was moved. " + capital(limits.sentence()) + ".");
        said.println("Limits: " + file);
        return ExitCode.DONE;
    }

    private int byDriving(Path file) {
        PrintWriter err = command.commandLine().getErr();
        if (rig == null) {
            throw bad(
                    "--rig",
                    "is missing; expected the rig that drives the unit, or, measured by hand, --outboard,"
                            + " --inboard, --by and --on");
        }
        RigAddress address = RigAddress.parse(rig);
        if (profile == null && address instanceof RigAddress.Serial) {
            throw bad(
                    "--profile",
                    "is missing; expected the profile of this kind of unit: it says how far the shaft may" + " go");
        }
        Optional<RigDescription> read = Optional.ofNullable(description).map(RigDescriptionReader::find);
        if (read.filter(d -> d.drive().equals("requests")).isPresent()) {
            throw bad(
                    "--rig-description " + description,
                    "says drive: requests, so that this rig cannot find limits, and"
                            + " nothing was moved; measure them by hand and give --outboard, --inboard, --by and --on");
        }
        Profile nominal = ProfileReader.find(Optional.ofNullable(profile).orElse(Bundles.TARN_DRIVE));
        LimitsPlan plan = new LimitsPlan(
                unit,
                nominal,
                standingOn,
                read,
                quantity("--current", current, Dimension.CURRENT, LimitsPlan.USUAL_CURRENT_A),
                quantity("--supply", supply, Dimension.VOLTAGE, LimitsPlan.USUAL_SUPPLY_V),
                Optional.ofNullable(by),
                bench.get().today());
        List<String> problems = plan.problems();
        if (!problems.isEmpty()) {
            throw new BadInput(problems.stream()
                    .map(text -> new Problem("rig limits", 0, 0, text))
                    .toList());
        }
        attended.need(address, err);
        Progress line = progress.line(err);
        try (SafeStop stop = new SafeStop()) {
            LimitsEnd end;
            try (Link link = bench.get().rigs().open(address, nominal, read)) {
                end = LimitsSearch.run(link, plan, told(line), stop);
            }
            line.clear();
            return finish(end, file, err);
        } finally {
            line.clear();
        }
    }

    private int finish(LimitsEnd end, Path file, PrintWriter err) {
        if (end.found().isEmpty()) {
            String why = end.end().reason();
            err.println("No limits: " + why + (why.endsWith("?") ? " " : ". ")
                    + end.end().supply()
                    + " No file was written. Set that right and search again, or measure by hand.");
            return ExitCode.withoutResult(end.end());
        }
        LimitsEnd.Found found = end.found().get();
        write(found.limits(), file);
        PrintWriter said = command.commandLine().getOut();
        said.println("outboard  " + touches(found.outboardDeg()));
        said.println("inboard   " + touches(found.inboardDeg()));
        said.println(String.format(
                Locale.ROOT,
                "Angles of this search agree with each other to %.2f deg (one sd).",
                found.angleUncertaintyDeg()));
        found.notices().forEach(notice -> said.println("Note: " + notice));
        said.println("Limits: " + file);
        return ExitCode.DONE;
    }

    private static String touches(List<Double> degrees) {
        return degrees.stream()
                .map(deg -> String.format(Locale.ROOT, "%.1f deg", deg))
                .collect(Collectors.joining(", "));
    }

    private void write(UnitLimits limits, Path file) {
        Output.writeWhole(file, force, stream -> stream.write(limits.toYaml().getBytes(StandardCharsets.UTF_8)));
    }

    private static double quantity(String option, @Nullable String typed, Dimension dimension, double usual) {
        if (typed == null) {
            return usual;
        }
        try {
            Quantity q = Quantity.parse(typed);
            if (q.unit().dimension() == dimension) {
                return q.base();
            }
        } catch (NotAQuantity e) {
            throw bad(option, String.valueOf(e.getMessage()));
        }
        throw bad(option + " " + typed, "expected " + dimension.phrase() + " such as '" + dimension.example() + "'");
    }

    private static RunMonitor told(Progress progress) {
        return new RunMonitor() {
            @Override
            public void notice(String text) {
                progress.show(text);
            }
        };
    }

    private static String capital(String sentence) {
        return sentence.substring(0, 1).toUpperCase(Locale.ROOT) + sentence.substring(1);
    }

    private static BadInput bad(String where, String what) {
        return new BadInput(new Problem(where, 0, 0, what));
    }
}
