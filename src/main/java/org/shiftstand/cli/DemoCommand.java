package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.judge.Judgement;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Three simulated units, nothing attached. */
@NeedsSpring
@Command(
        name = "demo",
        sortOptions = false,
        description = {
            "Checks three simulated drives; nothing needs to be attached.",
            "",
            "One Tarn drive is good, one has a fault that comes only late in a long run, one has too little "
                    + "overtravel in one place. Two hundred sweeps of ten sprockets are driven in simulated time, "
                    + "recorded, measured, judged and reported as 'check' does.",
            "",
            "All data of the demo are invented. Exit 0 when each verdict is the expected one."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand demo",
            "  shiftstand demo --seed 8 --out elsewhere       other numbers, the same verdicts"
        })
final class DemoCommand implements Callable<Integer> {
    private static final String SPEC = "specs/tarn-drive-end-of-line.spec.yaml";
    private static final String PARTICULARS = "specs/quillmoor-works.particulars.yaml";

    /**
     * One demonstration unit.
     *
     * @param seedStep added to the seed, so that the units differ
     */
    private record Drive(String unit, String about, String procedure, String faults, int seedStep, Verdict expected) {}

    private static final List<Drive> DRIVES = List.of(
            new Drive("TD-0101", "a good drive", "acceptance/end-of-line.yaml", "", 0, Verdict.PASS),
            new Drive(
                    "TD-0102",
                    "creeps outboard between shifts, late in a long run",
                    "acceptance/long-run.yaml",
                    ",fault=creep,from-cycle=110,rate=0.05,amount=40",
                    1,
                    Verdict.FAIL),
            new Drive(
                    "TD-0103",
                    "too little overtravel from 3 to 4",
                    "acceptance/end-of-line.yaml",
                    ",fault=overtravel-short,pair=3-4,rate=0.2,amount=110",
                    2,
                    Verdict.FAIL));

    private final Supplier<Bench> bench;

    @Spec
    private CommandSpec command;

    @Option(
            names = "--seed",
            paramLabel = "N",
            description =
                    "Seed of the simulated units; the same seed gives the same shifts. Default: ${DEFAULT-VALUE}.")
    private int seed = 7;

    @Option(names = "--out", paramLabel = "DIR", description = "Folder for the runs' folders. Default: reports.")
    private @Nullable Path out;

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Mixin
    private ProgressOption progress = ProgressOption.ownLine();

    DemoCommand(Supplier<Bench> bench) {
        this.bench = bench;
    }

    @Override
    public Integer call() {
        pdf.ready();
        PrintWriter text = command.commandLine().getOut();
        Progress line = progress.line(command.commandLine().getErr());
        long start = System.nanoTime();
        double simulatedS = 0;
        List<String> surprises = new ArrayList<>();
        text.println("Three simulated Tarn drives of Quillmoor Works (invented data), spec " + SPEC + ":");
        text.println();
        text.flush();
        try (SafeStop stop = new SafeStop()) {
            for (Drive drive : DRIVES) {
                Bench.Checked checked = check(drive, line, stop);
                line.clear();
                if (checked.end() instanceof RunEnd.StoppedByUser) {
                    text.println(drive.unit() + "  stopped by the user; the record is " + checked.record());
                    return ExitCode.STOPPED;
                }
                Judgement judgement = checked.judged().judgement();
                tell(drive, judgement, checked, text);
                pdf.write(checked.folder(), Reports.HTML);
                if (judgement.verdict() != drive.expected()) {
                    surprises.add(drive.unit() + ": expected " + Summary.word(drive.expected()) + ", got "
                            + Summary.word(judgement.verdict()));
                }
                simulatedS += checked.recordedS();
            }
        }
        double seconds = (System.nanoTime() - start) / 1e9;
        text.println(String.format(
                Locale.ROOT,
                "%.0f min of bench time in %.1f s (%.0f times real time).",
                simulatedS / 60,
                seconds,
                simulatedS / seconds));
        if (surprises.isEmpty()) {
            text.println("Each verdict is the expected one.");
            return ExitCode.DONE;
        }
        surprises.forEach(text::println);
        return ExitCode.FAIL;
    }

    private Bench.Checked check(Drive drive, Progress line, SafeStop stop) {
        String address = "sim:seed=" + (seed * 3L + drive.seedStep()) + drive.faults();
        RigAddress rig = RigAddress.parse(address);
        JobFiles files = JobFiles.read(
                        drive.procedure(), SPEC, Optional.empty(), Bundles.rigText(rig, Optional.empty()))
                .stating(Optional.of(PARTICULARS), drive.unit());
        Bench.Job job = new Bench.Job(
                drive.unit(),
                rig,
                Optional.empty(),
                files,
                Optional.ofNullable(out),
                Map.of("attendance", "simulated"));
        RunMonitor monitor =
                new RunProgress(drive.unit(), line, command.commandLine().getErr());
        return bench.get().check(job, new Bench.Watch(monitor, GoAhead.NOBODY, stop));
    }

    private static void tell(Drive drive, Judgement judgement, Bench.Checked checked, PrintWriter text) {
        int cycles = judgement.table().shifts().stream()
                .mapToInt(shift -> shift.cycle())
                .max()
                .orElse(0);
        text.println(String.format(
                Locale.ROOT,
                "%s  %-10s %3d sweeps, %4d shifts   %s",
                drive.unit(),
                Summary.word(judgement.verdict()),
                cycles,
                judgement.table().shifts().size(),
                drive.about()));
        List<ClauseResult> deciding = judgement.clauses().stream()
                .filter(clause -> clause.verdict() == judgement.verdict() && clause.verdict() != Verdict.PASS)
                .toList();
        if (deciding.isEmpty()) {
            text.println("         " + judgement.reason());
        }
        for (ClauseResult clause : deciding) {
            text.println("         " + clause.clause().id() + ": " + clause.reason());
        }
        text.println("         report " + checked.folder().resolve(Reports.HTML));
        text.println("         record " + checked.record());
        text.println();
        text.flush();
    }
}
