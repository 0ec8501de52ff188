package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.GaugeValue;
import org.shiftstand.bench.GaugeValues;
import org.shiftstand.bench.GaugeValuesReader;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.bench.StudyInRig;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.GaugeOutcome;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.SpecReader;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Studies how much of what a rig measures is the rig's own. */
@NeedsSpring
@Command(
        name = "study",
        sortOptions = false,
        description = {
            "Gauge study: tells how much of what a rig measures is the rig's own.",
            "",
            "Several units are mounted several times, and measured several times in each mount. Runs such a "
                    + "study on a rig (it asks for each mounting, then sweeps the whole cassette), or imports "
                    + "values that were measured elsewhere.",
            "",
            "Tells repeatability, reproducibility and units apart, by crossed analysis of variance and by averages "
                    + "and ranges, with the share of the study's variation and the number of distinct categories; "
                    + "with --spec whether this rig can judge that spec. --keep writes the result into a copy of the "
                    + "rig description, where every later decision counts it as uncertainty.",
            "",
            "Import: a table with columns unit, mount, repeat, value (or part, appraiser or operator, trial), values "
                    + "as bare numbers in deg, s, A, As or J. Exit 0; with --spec 1 where the rig cannot judge a "
                    + "clause, 3 where the study does not tell; 3 also where values are missing."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand rig study --import study-10x3x3",
            "  shiftstand rig study --rig sim:seed=7,landing-sd=1 --units TD-0101,TD-0102,TD-0103,TD-0104 \\",
            "      --measure landing-error --pair 3-4 --spec tarn-drive-end-of-line --repeats-spread rig",
            "  shiftstand rig study --rig serial:/dev/ttyACM0 --rig-description bench-two.rig.yaml \\",
            "      --units TD-0101,TD-0102,TD-0103 --repeats 5 --measure landing-error --pair 3-4 \\",
            "      --spec tarn-drive-end-of-line --keep bench-two-studied.rig.yaml --attended"
        })
final class RigStudyCommand implements Callable<Integer> {
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);

    private final Supplier<Bench> bench;

    @Spec
    private CommandSpec command;

    @Option(
            names = "--import",
            paramLabel = "FILE",
            completionCandidates = PackedNames.Studies.class,
            description = "Values of a study, a file or a bundled name.")
    private @Nullable String imported;

    @Option(
            names = "--shifts",
            paramLabel = "N",
            description = "Import: shifts that one value is the mean of. Default: the column shifts, else 1.")
    private @Nullable Integer shifts;

    @Option(
            names = "--rig",
            paramLabel = "ADDRESS",
            description = "sim, sim:key=value,… (see 'rig simulate --help'), or serial:PATH.")
    private @Nullable String rig;

    @Option(
            names = "--units",
            split = ",",
            paramLabel = "ID",
            description = "Ids of the units, with commas between; 10 by common practice.")
    private List<String> units = List.of();

    @Option(names = "--mounts", paramLabel = "N", description = "Mounts of each unit. Default: 3.")
    private @Nullable Integer mounts;

    @Option(names = "--repeats", paramLabel = "N", description = "Repeats in each mount. Default: 3.")
    private @Nullable Integer repeats;

    @Option(
            names = "--sweeps",
            paramLabel = "N",
            description = "Sweeps of each repeat; its value is the mean over them. Default: 1.")
    private @Nullable Integer sweeps;

    @Option(
            names = "--measure",
            paramLabel = "M",
            description = "What is studied, such as landing-error; needed but for an import alone.")
    private @Nullable String measure;

    @Option(
            names = "--pair",
            paramLabel = "FROM-TO",
            description = "On a rig: only shifts from the first to the second sprocket, such as 3-4; else all of a "
                    + "sweep. Needed for landings, since what all sprockets have in common is not measured.")
    private @Nullable String pair;

    @Option(
            names = "--rig-description",
            paramLabel = "R",
            completionCandidates = PackedNames.Rigs.class,
            description = "What is known of the rig (a YAML file); --keep copies it.")
    private @Nullable String description;

    @Option(
            names = "--profile",
            paramLabel = "P",
            completionCandidates = PackedNames.Profiles.class,
            description = "Profile of the units; goes before the spec's.")
    private @Nullable String profile;

    @Option(
            names = "--spec",
            paramLabel = "S",
            completionCandidates = PackedNames.Specs.class,
            description = "The spec that the rig is to judge. Needed on a real rig; a simulated one measures by "
                    + "tarn-drive-end-of-line without it.")
    private @Nullable String spec;

    @Option(
            names = "--repeats-spread",
            paramLabel = "WHOSE",
            description = "rig or units: whose the spread of repeats is. The units' own is told but is no uncertainty "
                    + "of the rig. Default: rig for an import, units on a rig, where units shift anew.")
    private @Nullable String whose;

    @Option(
            names = "--unit-sd",
            paramLabel = "DEG",
            description = "Simulated units differ so far in landing or overtravel. Default: 8 deg.")
    private @Nullable String unitSd;

    @Option(
            names = "--mount-sd",
            paramLabel = "DEG",
            description = "Each simulated mounting adds an offset of this spread to it. Default: 2 deg.")
    private @Nullable String mountSd;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Folder that the study's own folder is made in: records, and the values as a table. "
                    + "Default: reports.")
    private @Nullable Path out;

    @Option(
            names = "--go-on",
            paramLabel = "FILE",
            description = "Values of this study from a run that ended early; what they hold is not run again.")
    private @Nullable String goOn;

    @Option(
            names = "--keep",
            paramLabel = "FILE",
            description = "Write the rig description with the result in it to this file.")
    private @Nullable Path keep;

    @Option(names = "--on", paramLabel = "DATE", description = "Day of an imported study, for --keep. Default: today.")
    private @Nullable String on;

    @Option(names = "--force", description = "Overwrite the file that --keep names.")
    private boolean force;

    @Mixin
    private AttendedOption attended = new AttendedOption();

    @Option(names = "--json", description = "Print the result as JSON.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.ownLine();

    RigStudyCommand(Supplier<Bench> bench) {
        this.bench = bench;
    }

    @Override
    public Integer call() {
        check();
        Optional<Measure> of = Optional.ofNullable(measure).map(RigStudyCommand::measure);
        Optional<org.shiftstand.spec.Spec> judged =
                Optional.ofNullable(spec).map(s -> SpecReader.read(Bundled.find(s, Bundled.Kind.SPEC)));
        Optional<TextFile> described = Optional.ofNullable(description).map(r -> Bundled.find(r, Bundled.Kind.RIG));
        described.ifPresent(RigDescriptionReader::read);
        Optional<LocalDate> day = Optional.ofNullable(keep).map(file -> day()); // the clock alone would start Spring
        if (imported != null) {
            GaugeValues read = GaugeValuesReader.find(imported);
            GaugeValues values = shifts == null ? read : read.ofMeans(shifts);
            return answer(GaugeOutcome.of(values, of, spreadIsRigs(), judged), Optional.empty(), of, described, day);
        }
        StudyPlan plan = plan(of.orElseThrow());
        RigAddress address = RigAddress.parse(String.valueOf(rig));
        StudyOnRig.End end = run(plan, address, described);
        end.missing().forEach(command.commandLine().getErr()::println);
        if (end.early().isPresent()) {
            command.commandLine().getErr().println("No result: the study is not whole." + keptFor(end));
            return end.early().get();
        }
        if (!end.missing().isEmpty()) {
            command.commandLine()
                    .getErr()
                    .println("No result: " + end.missing().size() + " values are missing." + keptFor(end));
            return ExitCode.NO_VERDICT;
        }
        GaugeValues values = GaugeValues.of("rig study", end.values());
        return answer(GaugeOutcome.of(values, of, spreadIsRigs(), judged), Optional.of(end.file()), of, described, day);
    }

    private boolean spreadIsRigs() {
        return whose == null ? imported != null : whose.equals("rig");
    }

    /** What does not go together, all at once, before anything is read or moved. */
    private void check() {
        List<Problem> problems = new ArrayList<>();
        if (imported == null && rig == null) {
            problems.add(bad("--rig", "is missing; expected the rig to run the study on, or --import with its values"));
        }
        if (imported != null && rig != null) {
            problems.add(bad("--rig", "does not go with --import: the values are measured already; leave one out"));
        }
        if (measure == null && (rig != null || spec != null || keep != null)) {
            problems.add(bad("--measure", "is missing; expected what is studied, such as landing-error"));
        }
        if (imported != null) {
            onlyOnARig(problems);
        }
        if (keep != null && description == null) {
            problems.add(bad("--rig-description", "is missing; expected the description that --keep is to copy"));
        }
        if (keep != null && !force && Files.exists(keep, LinkOption.NOFOLLOW_LINKS)) {
            problems.add(bad(
                    keep.toString(),
                    "exists already, and nothing is overwritten; name another with --keep, or add --force"));
        }
        if (shifts != null && imported == null) {
            problems.add(bad("--shifts", "is for --import; on a rig the shifts are counted. Leave it out"));
        }
        if (shifts != null && (shifts < 1 || shifts > 100_000)) {
            problems.add(bad("--shifts " + shifts, "is no number of shifts; expected 1 to 100000"));
        }
        if (on != null && (keep == null || imported == null)) {
            problems.add(bad("--on", "is for --import with --keep; a study on a rig is of today. Leave it out"));
        }
        if (whose != null) {
            OneOf.check("--repeats-spread", whose, List.of("rig", "units"), problems);
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    private void onlyOnARig(List<Problem> problems) {
        String why = "is for a study on a rig, not for --import; leave it out";
        if (!units.isEmpty()) {
            problems.add(bad("--units", why + ", since the table names its units"));
        }
        for (String option : List.of(
                "--mounts",
                "--repeats",
                "--sweeps",
                "--pair",
                "--unit-sd",
                "--mount-sd",
                "--out",
                "--go-on",
                "--attended")) {
            if (command.commandLine().getParseResult().hasMatchedOption(option)) {
                problems.add(bad(option, why));
            }
        }
    }

    private StudyPlan plan(Measure of) {
        Optional<StudyPlan.Pair> only = Optional.ofNullable(pair)
                .map(text -> StudyPlan.Pair.parse(text)
                        .orElseThrow(() -> new BadInput(bad("--pair " + text, "expected two sprockets such as 3-4"))));
        StudyPlan plan = new StudyPlan(
                of,
                units,
                Optional.ofNullable(mounts).orElse(3),
                Optional.ofNullable(repeats).orElse(3),
                Optional.ofNullable(sweeps).orElse(1),
                only);
        units.forEach(UnitId::check);
        if (!plan.problems().isEmpty()) {
            throw new BadInput(plan.problems());
        }
        return plan;
    }

    private StudyOnRig.End run(StudyPlan plan, RigAddress address, Optional<TextFile> described) {
        PrintWriter err = command.commandLine().getErr();
        boolean real = address instanceof RigAddress.Serial;
        if (real && spec == null) {
            throw new BadInput(bad(
                    "--spec",
                    "is missing; a real rig measures by a spec and its profile: expected a file or a bundled name"));
        }
        if (real && (unitSd != null || mountSd != null)) {
            throw new BadInput(bad("--unit-sd, --mount-sd", "are for a simulated rig; leave them out"));
        }
        TextFile specText = Bundled.find(Optional.ofNullable(spec).orElse("tarn-drive-end-of-line"), Bundled.Kind.SPEC);
        TextFile profileText = Optional.ofNullable(profile)
                .map(p -> Bundled.find(p, Bundled.Kind.PROFILE))
                .or(() -> SpecReader.profileOf(specText, SpecReader.read(specText)))
                .orElseThrow(
                        () -> new BadInput(
                                bad(
                                        "--profile",
                                        "is missing, and the spec names none; a rig needs it to lay out its sweeps: expected a file or a bundled name")));
        neighbours(plan, ProfileReader.read(profileText));
        var spread = new StudyOnRig.Spread(degrees("--unit-sd", unitSd, 8), degrees("--mount-sd", mountSd, 2));
        List<GaugeValue> had = Optional.ofNullable(goOn)
                .map(file -> GaugeValuesReader.read(Bundled.find(file, Bundled.Kind.STUDY)))
                .orElse(List.of());
        strangers(plan, had);
        attended.need(address, err);
        if (real && !PersonsWord.somebodyThere()) {
            throw new BadInput(
                    bad("--rig", "is real: a person at a terminal is asked for each mounting; run it there"));
        }
        var texts = new StudyOnRig.Texts(specText, profileText, described);
        if (!real && plan.differing().isEmpty()) {
            err.println("Note: simulated units and mounts differ in landing and overtravel only, not in "
                    + plan.measure().key() + ".");
        }
        return new StudyOnRig(bench.get(), plan, address, texts, folder(plan), spread, had, err, progress.line(err))
                .run();
    }

    private static void neighbours(StudyPlan plan, Profile of) {
        plan.pair().filter(p -> !p.in(of.sprockets())).ifPresent(p -> {
            throw new BadInput(bad(
                    "--pair " + p.from() + "-" + p.to(),
                    "is no pair of neighbours of profile " + of.name() + "; expected sprockets from 1 to "
                            + of.sprockets() + " one apart, such as 3-4"));
        });
    }

    /** Values of another plan would make a study that nobody ran. */
    private void strangers(StudyPlan plan, List<GaugeValue> had) {
        List<String> names =
                plan.mountings().stream().map(m -> m.unit() + " " + m.mount()).toList();
        had.stream()
                .filter(v -> !names.contains(v.unit() + " " + v.mount()))
                .findFirst()
                .ifPresent(v -> {
                    throw new BadInput(bad(
                            "--go-on " + goOn,
                            "has unit " + v.unit() + ", mount " + v.mount()
                                    + ", which this study has not; expected values of the same plan"));
                });
    }

    private Path folder(StudyPlan plan) {
        String stamp = STAMP.format(bench.get().clock().instant());
        Path in = Optional.ofNullable(out).orElseGet(() -> bench.get().reports());
        Path folder = in.resolve("study-" + plan.measure().key() + "-" + stamp);
        for (int i = 2; Files.exists(folder, LinkOption.NOFOLLOW_LINKS); i++) {
            folder = in.resolve("study-" + plan.measure().key() + "-" + stamp + "-" + i);
        }
        return folder;
    }

    private static String keptFor(StudyOnRig.End end) {
        return end.values().isEmpty()
                ? ""
                : " What was measured is kept; go on with the same command and --go-on " + end.file() + ".";
    }

    private int answer(
            GaugeOutcome outcome,
            Optional<Path> values,
            Optional<Measure> of,
            Optional<TextFile> described,
            Optional<LocalDate> day) {
        Optional<StudyAnswer.Kept> kept = Optional.ofNullable(keep)
                .map(file -> new StudyAnswer.Kept(
                        StudyInRig.added(
                                described.orElseThrow(),
                                outcome.result(of.orElseThrow(), day.orElseThrow()),
                                file.toString()),
                        file,
                        force));
        StudyAnswer answer = new StudyAnswer(outcome, values, kept);
        answer.tell(command.commandLine().getOut(), command.commandLine().getErr(), json);
        return answer.exitCode();
    }

    private LocalDate day() {
        LocalDate today = bench.get().today();
        List<Problem> problems = new ArrayList<>();
        return on == null
                ? today
                : TypedDay.read(on, today, "the day of the study", problems).orElseThrow(() -> new BadInput(problems));
    }

    private static Measure measure(String typed) {
        List<Measure> judged =
                Arrays.stream(Measure.values()).filter(Measure::judged).toList();
        List<String> words = judged.stream().map(Measure::key).toList();
        return judged.stream()
                .filter(m -> m.key().equals(typed))
                .findFirst()
                .orElseThrow(() -> new BadInput(bad(
                        "--measure " + typed,
                        "unknown measure; expected one of " + String.join(", ", words) + "."
                                + Nearest.hint(typed, words))));
    }

    private static double degrees(String option, @Nullable String typed, double usual) {
        if (typed == null) {
            return usual;
        }
        try {
            Quantity q = Quantity.parse(typed);
            if (q.unit().dimension() == Dimension.ANGLE && q.base() >= 0 && q.base() <= 360) {
                return q.base();
            }
        } catch (NotAQuantity e) {
            throw new BadInput(bad(option, String.valueOf(e.getMessage())));
        }
        throw new BadInput(bad(option + " " + typed, "expected an angle from 0 deg to 360 deg, such as '2 deg'"));
    }

    private static Problem bad(String where, String what) {
        return new Problem(where, 0, 0, what);
    }
}
