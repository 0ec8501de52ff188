package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.time.Clock;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.OwnLimits;
import org.shiftstand.link.RigMessage;
import org.shiftstand.procedure.Course;
import org.shiftstand.rig.UnattendedPermit.Confirmation;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Checks one unit on a rig. */
@NeedsSpring
@Command(
        name = "check",
        sortOptions = false,
        description = {
            "Checks a unit on a rig: drives, records, measures, judges, reports.",
            "",
            "Drives the unit through a procedure, records angle and current, measures every "
                    + "shift, judges the unit by a spec, and writes record, report, result and shift table to a "
                    + "folder of their own.",
            "",
            "On a real rig the cautions are shown first and --attended is needed: a person stands by "
                    + "with the emergency stop in reach. The supply is cut on every way out. Ctrl-C stops safely; "
                    + "the record stays readable.",
            "",
            "Several units are checked at once where --unit and --rig are given several times, in pairs: each in a "
                    + "process of its own.",
            "",
            "A run that was broken off, by a power cut or a killed program, goes on with --resume: the unit is "
                    + "homed, and the shift that was under way is made again."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand check --rig sim:seed=7 --procedure end-of-line \\",
            "      --spec tarn-drive-end-of-line --unit TD-0107",
            "  shiftstand check --rig serial:/dev/ttyACM0 --rig-description bench-two.rig.yaml \\",
            "      --procedure end-of-line --spec tarn-drive-end-of-line --unit TD-0108 --attended",
            "  shiftstand check --unit TD-0107 --rig serial:/dev/ttyACM0 \\",
            "      --unit TD-0108 --rig serial:/dev/ttyACM1 \\",
            "      --procedure end-of-line --spec tarn-drive-end-of-line --attended",
            "  shiftstand check --resume reports/TD-0108-20261125T171500Z-001/TD-0108.run --attended"
        })
final class CheckCommand implements Callable<Integer> {
    /** What goes in pairs where several units are checked at once. */
    private static final Set<String> PAIRED = Set.of("--unit", "--rig", "--rig-description");

    private static final long LOOK_AT_ROOM_MS = 10_000;

    private final Supplier<Bench> bench;

    @Spec
    private CommandSpec command;

    @Option(
            names = "--rig",
            paramLabel = "ADDRESS",
            description = "sim, sim:key=value,… (see 'rig simulate --help'), or serial:PATH.")
    private List<String> rigs = List.of();

    @Option(
            names = "--procedure",
            paramLabel = "P",
            completionCandidates = PackedNames.Procedures.class,
            description = "Script of sweeps, a file or a bundled name.")
    private @Nullable String procedure;

    @Option(
            names = "--spec",
            paramLabel = "S",
            completionCandidates = PackedNames.Specs.class,
            description = "Acceptance spec, a file or a bundled name.")
    private @Nullable String spec;

    @Option(names = "--unit", paramLabel = "ID", description = "Id of the unit, such as TD-0107.")
    private List<String> units = List.of();

    @Option(
            names = "--profile",
            paramLabel = "P",
            completionCandidates = PackedNames.Profiles.class,
            description = "Profile of this kind of unit; goes before the spec's.")
    private @Nullable String profile;

    @Option(
            names = "--rig-description",
            paramLabel = "R",
            completionCandidates = PackedNames.Rigs.class,
            description = "What is known of the rig: line speed, scales, guards (a YAML file).")
    private List<String> descriptions = List.of();

    @Option(
            names = "--operator",
            paramLabel = "NAME",
            description =
                    "Who stands at the rig. The record holds a salted digest of the name, which lies beside it and can"
                            + " be taken away ('history forget').")
    private @Nullable String operator;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Folder that the run's own folder is made in. Default: reports.")
    private @Nullable Path out;

    @Mixin
    private AttendanceOptions attendance = new AttendanceOptions();

    @Option(
            names = "--limits",
            paramLabel = "FILE",
            description = "The unit's own mechanical limits; UNIT.limits.yaml in this folder is found by itself.")
    private @Nullable String limits;

    @Option(
            names = "--particulars",
            paramLabel = "FILE",
            completionCandidates = PackedNames.Particulars.class,
            description = "What people state for the report: laboratory, customer, item (a YAML file).")
    private @Nullable String particulars;

    @Option(
            names = "--resume",
            paramLabel = "RECORD",
            description =
                    "Go on with the run that this record is of. What was to be done, and by which files, is in it.")
    private @Nullable Path resume;

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Mixin
    private JUnitOption junit = new JUnitOption();

    @Option(names = "--force", description = "Overwrite the file of --junit.")
    private boolean force;

    @Option(names = "--json", description = "Print the whole result as JSON.")
    private boolean json;

    @Option(names = "--no-history", description = "Do not add this run to the history ('history list').")
    private boolean noHistory;

    @Mixin
    private ProgressOption progress = ProgressOption.ownLine();

    CheckCommand(Supplier<Bench> bench) {
        this.bench = bench;
    }

    @Override
    public Integer call() throws IOException {
        pdf.ready();
        junit.ready(force);
        PrintWriter err = command.commandLine().getErr();
        if (units.size() > 1 || rigs.size() > 1) {
            return SeveralChecks.run(
                    SeveralChecks.pairs(units, rigs, descriptions, others()),
                    command.commandLine().getOut(),
                    err,
                    progress.line(err));
        }
        Bench.Job job = resume == null ? fresh() : goingOn(BrokenOff.read(resume));
        Set<Confirmation> confirmed = attendance.confirmed();
        job.files().limits().ifPresent(own -> err.println(own.said()));
        Consumer<RigMessage.Identity> gate =
                attendance.permit(job, confirmed, () -> bench.get().probes(), err);
        Progress line = progress.line(err);
        boolean realTime = !(job.rig() instanceof RigAddress.Simulated);
        Course course = Course.of(job.files().actions(), job.files().profile());
        try (SafeStop stop = new SafeStop();
                LiveProgress live = new LiveProgress(job.unit(), course, realTime, line, err, Clock.systemUTC());
                RoomWatch room = new RoomWatch(bench.get().room(job), LOOK_AT_ROOM_MS, live::shareLeft, live::notice)) {
            Bench.Checked checked = bench.get()
                    .check(
                            job,
                            new Bench.Watch(
                                    new Gated(live, gate),
                                    attendance.goAhead(job, stop, err),
                                    new StopForAnyReason(stop, room),
                                    live::recording));
            live.close();
            return answer(new CheckAnswer(checked), checked.folder(), err);
        } catch (Bench.NoRecord e) {
            line.clear();
            err.println(e.getMessage());
            return ExitCode.withoutResult(e.end());
        } catch (Bench.NotJudged e) {
            line.clear();
            err.println(e.getMessage());
            return CheckAnswer.early(e.end()).orElse(ExitCode.RIG); // a disk of the bench; the unit did nothing wrong
        } finally {
            line.clear();
        }
    }

    private int answer(CheckAnswer answer, RunFolder folder, PrintWriter err) throws IOException {
        answer.tell(command.commandLine().getOut(), err, json);
        if (!noHistory && !HistorySettings.isOff()) {
            answer.post(err);
        }
        pdf.write(folder, Reports.HTML);
        if (junit.wanted()) {
            junit.results("shiftstand check").add(answer.testResults()).write(force);
        }
        return answer.exitCode();
    }

    /** Every option but those that go in pairs, as it was typed. */
    private List<String> others() {
        List<String> others = new ArrayList<>();
        for (OptionSpec option : command.commandLine().getParseResult().matchedOptions()) {
            if (!PAIRED.contains(option.longestName())) {
                if (option.arity().max() == 0) {
                    others.add(option.longestName());
                }
                for (String value : option.arity().max() == 0 ? List.<String>of() : option.originalStringValues()) {
                    others.add(option.longestName());
                    others.add(value);
                }
            }
        }
        return others;
    }

    private Bench.Job fresh() {
        refuse(
                missing(),
                "is missing; a check takes --rig, --procedure, --spec and --unit, as 'shiftstand check --help' shows. 'shiftstand init'"
                        + " makes files to begin with");
        String id = units.get(0);
        UnitId.check(id);
        RigAddress address = RigAddress.parse(rigs.get(0));
        Optional<TextFile> rigText =
                descriptions.stream().findFirst().map(typed -> Bundled.find(typed, Bundled.Kind.RIG));
        Optional<RigDescription> read = rigText.map(RigDescriptionReader::read);
        JobFiles files = JobFiles.read(
                        Objects.requireNonNull(procedure),
                        Objects.requireNonNull(spec),
                        Optional.ofNullable(profile),
                        Bundles.rigText(address, rigText))
                .with(OwnLimits.forCheck(Optional.ofNullable(limits), id, Path.of("")))
                .stating(Optional.ofNullable(particulars), id);
        Optional<SaltedName> name = name();
        return new Bench.Job(
                id, address, read, files, Optional.ofNullable(out), identity(name), Optional.empty(), name);
    }

    /** The job that the record is of, on the rig that it was on unless another address is given. */
    private Bench.Job goingOn(BrokenOff run) {
        refuse(given(), "not to be given with --resume: the run goes on as it began, and its record says how that was");
        String address = rigs.stream()
                .findFirst()
                .or(run::address)
                .orElseThrow(() -> new BadInput(
                        new Problem(run.record().toString(), 0, 0, "does not say which rig it was on; add --rig")));
        JobFiles files = JobFiles.of(run);
        Optional<SaltedName> name = name();
        return new Bench.Job(
                run.header().unit(),
                RigAddress.parse(address),
                files.rigText().map(RigDescriptionReader::read),
                files,
                Optional.ofNullable(out),
                identity(name),
                Optional.of(run),
                name);
    }

    /** With a salt of its own for each run, so that two runs do not tell that they had the same operator. */
    private Optional<SaltedName> name() {
        return Optional.ofNullable(operator).map(name -> SaltedName.of(name, new SecureRandom()));
    }

    private Map<String, String> identity(Optional<SaltedName> name) {
        Map<String, String> identity = new LinkedHashMap<>();
        name.ifPresent(salted -> identity.put("operator", salted.digest()));
        HistorySettings.bench().ifPresent(bench -> identity.put("bench", bench));
        identity.put("attendance", attendance.word());
        return identity;
    }

    private static @Nullable String first(List<String> given) {
        return given.isEmpty() ? null : given.get(0);
    }

    private List<String> missing() {
        Map<String, @Nullable Object> needed = new LinkedHashMap<>();
        needed.put("--rig", first(rigs));
        needed.put("--procedure", procedure);
        needed.put("--spec", spec);
        needed.put("--unit", first(units));
        return needed.keySet().stream().filter(name -> needed.get(name) == null).toList();
    }

    private List<String> given() {
        Map<String, @Nullable Object> fixed = new LinkedHashMap<>();
        fixed.put("--procedure", procedure);
        fixed.put("--spec", spec);
        fixed.put("--unit", first(units));
        fixed.put("--profile", profile);
        fixed.put("--rig-description", first(descriptions));
        fixed.put("--limits", limits);
        fixed.put("--particulars", particulars);
        return fixed.keySet().stream().filter(name -> fixed.get(name) != null).toList();
    }

    private static void refuse(List<String> options, String why) {
        if (!options.isEmpty()) {
            throw new BadInput(options.stream()
                    .map(option -> new Problem(option, 0, 0, why))
                    .toList());
        }
    }
}
