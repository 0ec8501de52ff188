package org.shiftstand.cli;

import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiFunction;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Named;
import org.shiftstand.judge.OwnLimits;
import org.shiftstand.judge.Particulars;
import org.shiftstand.link.Port;
import org.shiftstand.procedure.Course;
import org.shiftstand.record.QueuedRunWriter;
import org.shiftstand.record.RecordRoom;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.Preflight;
import org.shiftstand.rig.RigRunner;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.rig.RunPlan;

/** Checks one unit from the first request to the report: drive, record, then judge the record as {@code judge} does. */
final class Bench {
    private final Clock clock;
    private final Rigs rigs;
    private final Path reports;

    Bench(Clock clock, Rigs rigs, Path reports) {
        this.clock = clock;
        this.rigs = rigs;
        this.reports = reports;
    }

    Clock clock() {
        return clock;
    }

    /** The day in UTC. */
    LocalDate today() {
        return LocalDate.ofInstant(clock.instant(), ZoneOffset.UTC);
    }

    Rigs rigs() {
        return rigs;
    }

    /** The folder that probes of rigs go to, and are looked for in, unless the user says otherwise. */
    Path probes() {
        return reports.resolve("rigs");
    }

    /** The folder that runs go to unless the user says otherwise. */
    Path reports() {
        return reports;
    }

    /**
     * What to check, by which files.
     *
     * @param identity further facts for the record in reading order: operator, station
     * @param goesOn the run that was broken off, to be gone on with; empty for a fresh one
     * @param operator whose digest stands in the identity; empty where nobody was named
     */
    record Job(
            String unit,
            RigAddress rig,
            Optional<RigDescription> description,
            JobFiles files,
            Optional<Path> out,
            Map<String, String> identity,
            Optional<BrokenOff> goesOn,
            Optional<SaltedName> operator) {
        /** A fresh run of nobody in particular. */
        Job(
                String unit,
                RigAddress rig,
                Optional<RigDescription> description,
                JobFiles files,
                Optional<Path> out,
                Map<String, String> identity) {
            this(unit, rig, description, files, out, identity, Optional.empty(), Optional.empty());
        }
    }

    /**
     * Who watches a run, and who may say that it goes on.
     *
     * @param recording is told the record's file once it is made, and gives back what the run is to write by
     */
    record Watch(
            RunMonitor monitor,
            GoAhead goAhead,
            BooleanSupplier stop,
            BiFunction<Path, RunWriter, RunWriter> recording) {
        /** Nobody who looks into the record meanwhile. */
        Watch(RunMonitor monitor, GoAhead goAhead, BooleanSupplier stop) {
            this(monitor, goAhead, stop, (file, writer) -> writer);
        }
    }

    /**
     * What a check leaves behind.
     *
     * @param recordedS how long the recorded samples last, seconds
     */
    record Checked(RunEnd end, Judged judged, RunFolder folder, Path record, double recordedS) {}

    /**
     * Runs one job to its end. The supply is off when this returns or throws.
     *
     * @throws BadInput where the files or the plan cannot be used; nothing was moved
     * @throws org.shiftstand.link.LinkException where there is no rig; nothing was moved
     */
    Checked check(Job job, Watch watch) {
        RunPlan plan = plan(job);
        JobFiles files = job.files();
        List<String> hindrances = new ArrayList<>(plan.problems());
        hindrances.addAll(Preflight.problems(
                files.actions(), files.procedure(), files.profile(), plan.guards(), files.limitsFrom()));
        if (!hindrances.isEmpty()) {
            String name = job.files().procedureText().name();
            throw new BadInput(hindrances.stream()
                    .map(text -> new Problem(name, 0, 0, text))
                    .toList());
        }
        RecordPlace place = new RecordPlace(job);
        room(job).refuse();
        Port port = rigs.place(job.rig(), job.files().profile(), job.description());
        RunEnd end = RigRunner.run(
                port,
                plan,
                job.goesOn().map(run -> run.continuation(how(job))),
                header -> watch.recording().apply(place.file(), writer(job, place, header)),
                watch.monitor(),
                watch.goAhead(),
                watch.stop());
        // the port is free again while a long run is judged
        try {
            return judged(end, place);
        } catch (BadInput | UncheckedIOException e) {
            throw place.folder().isEmpty() ? e : new NotJudged(end, place.file(), e);
        }
    }

    /** The room that this run needs where it goes. */
    Room room(Job job) {
        Path folder = job.goesOn()
                .filter(BrokenOff::inPlace)
                .map(BrokenOff::folder)
                .orElseGet(() -> job.out().orElse(reports));
        JobFiles files = job.files();
        double seconds = Course.of(files.actions(), files.profile()).totalS();
        return new Room(
                folder, RecordRoom.bytes(seconds, files.procedure().sampleRateHz()), () -> RecordRoom.usable(folder));
    }

    /** {@code shiftstand 0.1.0, attended, operator sha256:…}. */
    private static String how(Job job) {
        String operator = job.identity().get("operator");
        return String.join(
                ", ",
                "shiftstand " + Version.number(),
                job.identity().getOrDefault("attendance", "simulated"),
                operator == null ? "no operator named" : "operator " + operator);
    }

    /** On a real rig a thread of its own writes: a slow disk holds up neither heartbeat nor stop. Simulated time just waits. */
    private static RunWriter writer(Job job, RecordPlace place, RunHeader header) {
        RunWriter file = job.goesOn().isPresent()
                ? job.goesOn().get().reopen(header, place.file())
                : SqliteRunWriter.create(place.file(), header);
        return header.simulated() ? file : new QueuedRunWriter(file);
    }

    /** Where the record goes: made when the rig has answered, so that a rig that is not there leaves no folder. */
    private final class RecordPlace {
        private final Job job;
        private Optional<RunFolder> folder = Optional.empty();

        RecordPlace(Job job) {
            this.job = job;
            if (job.goesOn().filter(BrokenOff::inPlace).isPresent()) {
                folder =
                        Optional.of(new Reports(clock).folder(job.goesOn().get().folder(), false));
            }
        }

        Path file() {
            if (job.goesOn().filter(BrokenOff::inPlace).isPresent()) {
                folder.ifPresent(this::disclose);
                return job.goesOn().get().record();
            }
            boolean fresh = folder.isEmpty();
            RunFolder made =
                    folder.orElseGet(() -> RunFolder.create(job.out().orElse(reports), job.unit(), clock.instant()));
            folder = Optional.of(made);
            if (fresh) {
                disclose(made);
            }
            return made.resolve(job.unit() + ".run");
        }

        /** The operator's name goes beside the record, whose digest of it says nothing by itself. */
        private void disclose(RunFolder to) {
            job.operator().ifPresent(name -> {
                int n = 1;
                String file = "operator.json";
                while (Files.exists(to.resolve(file))) {
                    n++;
                    file = "operator-" + n + ".json";
                }
                to.write(file, out -> out.write(name.json()));
            });
        }

        Optional<RunFolder> folder() {
            return folder;
        }
    }

    private Checked judged(RunEnd end, RecordPlace place) {
        RunFolder folder = place.folder().orElseThrow(() -> new NoRecord(end));
        Path record = place.file();
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            JudgeCase judgeCase = input.assemble(Named.nothing(), JudgeOptions.defaults());
            Judged judged = Judge.judge(input.source(), judgeCase);
            new Reports(clock).write(judged, folder, record);
            return new Checked(end, judged, folder, record, length(input));
        }
    }

    /** How long the samples last, seconds. */
    private static double length(JudgeInput input) {
        return input.source() instanceof RunRecord run ? run.samples() * run.intervalS() : 0;
    }

    /** A run is over, and there is no result of it. */
    abstract static class NoResult extends RuntimeException {
        private final transient RunEnd end;

        private NoResult(RunEnd end, String message, @Nullable Throwable cause) {
            super(message, cause);
            this.end = end;
        }

        RunEnd end() {
            return end;
        }
    }

    /** The run ended before the rig had said who it is: there is nothing to judge. */
    static final class NoRecord extends NoResult {
        NoRecord(RunEnd end) {
            super(end, "the run ended before anything was recorded: " + end.reason() + ". " + end.supply(), null);
        }
    }

    /** The run is over and its record is there, but it could not be judged or reported, such as on a full disk. */
    static final class NotJudged extends NoResult {
        NotJudged(RunEnd end, Path record, RuntimeException cause) {
            super(
                    end,
                    (end.reason().isEmpty()
                                    ? "The run did all of its script. "
                                    : "The run ended early: " + end.reason() + ". ")
                            + end.supply() + " Its report could not be made: " + cause.getMessage()
                            + System.lineSeparator() + "The record is " + record
                            + "; 'shiftstand judge' judges it, and with --report makes the report in a folder of its own.",
                    cause);
        }
    }

    private static RunPlan plan(Job job) {
        JobFiles files = job.files();
        Map<String, String> texts = new LinkedHashMap<>();
        Map<String, String> names = new LinkedHashMap<>();
        keep("procedure", files.procedureText(), texts, names);
        keep("spec", files.specText(), texts, names);
        keep("profile", files.profileText(), texts, names);
        files.rigText().ifPresent(text -> keep("rig", text, texts, names));
        files.limits().ifPresent(own -> keep(OwnLimits.ROLE, own.text(), texts, names));
        files.particularsText().ifPresent(text -> keep(Particulars.ROLE, text, texts, names));
        boolean simulated = job.rig() instanceof RigAddress.Simulated;
        Map<String, String> identity = new LinkedHashMap<>();
        identity.put("tool", "shiftstand " + Version.number());
        identity.put("rig address", job.rig().text());
        job.description().ifPresent(d -> identity.put("rig description", d.name()));
        identity.putAll(job.identity());
        return new RunPlan(
                job.unit(),
                files.actions(),
                files.procedure(),
                Optional.of(files.profile()),
                job.description().map(RigDescription::guards).orElse(RunPlan.SIMULATED_GUARDS),
                files.spec().stallCurrentA(),
                job.description().map(RigDescription::currentScaleA).orElse(OptionalDouble.empty()),
                identity,
                texts,
                names,
                simulated);
    }

    private static void keep(String role, TextFile file, Map<String, String> texts, Map<String, String> names) {
        texts.put(role, file.text());
        // the name alone: a record does not carry the folders of the machine it was made on
        names.put(role, String.valueOf(Path.of(file.name()).getFileName()));
    }
}
