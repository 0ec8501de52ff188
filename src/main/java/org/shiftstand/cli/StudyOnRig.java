package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.GaugeValue;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.OwnLimits;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/** Runs a gauge study: asks for each mounting, checks the unit as {@code check} does, and keeps what was measured so far. */
final class StudyOnRig {
    /** The values' name in the study's folder. */
    static final String VALUES = "values.study.csv";

    private final Bench bench;
    private final StudyPlan plan;
    private final RigAddress address;
    private final Texts texts;
    private final Path folder;
    private final Spread spread;
    private final PrintWriter err;
    private final Progress progress;
    private final List<GaugeValue> values;
    private final List<String> missing = new ArrayList<>();

    /** The files that every run of the study goes by. */
    record Texts(TextFile spec, TextFile profile, Optional<TextFile> rig) {}

    /** How simulated units and their mounts lie apart, standard deviations in degrees. */
    record Spread(double unitsDeg, double mountsDeg) {}

    /**
     * How it ended.
     *
     * @param file where the values are kept
     * @param early exit code where it did not come to its end
     */
    record End(Path file, List<GaugeValue> values, List<String> missing, Optional<Integer> early) {}

    /** @param had values of an earlier part of the same study */
    StudyOnRig(
            Bench bench,
            StudyPlan plan,
            RigAddress address,
            Texts texts,
            Path folder,
            Spread spread,
            List<GaugeValue> had,
            PrintWriter err,
            Progress progress) {
        this.bench = bench;
        this.plan = plan;
        this.address = address;
        this.texts = texts;
        this.folder = folder;
        this.spread = spread;
        this.values = new ArrayList<>(had);
        this.err = err;
        this.progress = progress;
    }

    /** Goes through all mountings; the supply is off between them and at the end. */
    End run() {
        try (SafeStop stop = new SafeStop()) {
            boolean simulated = address instanceof RigAddress.Simulated;
            PersonsWord person = new PersonsWord(err, System.in, PersonsWord.somebodyThere(), stop);
            GoAhead word = simulated ? what -> true : person;
            for (StudyPlan.Mounting mounting : plan.mountings()) {
                if (plan.done(values, mounting)) {
                    continue;
                }
                progress.clear();
                if (stop.getAsBoolean() || !word.given(StudyPlan.request(mounting))) {
                    return early(ExitCode.STOPPED, "The study was stopped before " + named(mounting) + ".");
                }
                Optional<End> end = mounted(mounting, word, stop);
                if (end.isPresent()) {
                    return end.get();
                }
            }
            return new End(folder.resolve(VALUES), values, missing, Optional.empty());
        } finally {
            progress.clear();
        }
    }

    private Optional<End> mounted(StudyPlan.Mounting mounting, GoAhead word, SafeStop stop) {
        Bench.Checked checked;
        try {
            checked = bench.check(job(mounting), new Bench.Watch(told(mounting), word, stop));
        } catch (Bench.NoResult e) {
            progress.clear();
            return Optional.of(early(ExitCode.withoutResult(e.end()), String.valueOf(e.getMessage())));
        }
        if (!(checked.end() instanceof RunEnd.Completed)) {
            progress.clear();
            return Optional.of(early(
                    ExitCode.withoutResult(checked.end()),
                    "The run of " + named(mounting) + " ended early: "
                            + checked.end().reason() + ". " + checked.end().supply()));
        }
        StudyValues.OfRun of = StudyValues.of(checked.judged().judgement().table(), plan, mounting);
        values.removeIf(v -> v.unit().equals(mounting.unit()) && v.mount().equals(String.valueOf(mounting.mount())));
        values.addAll(of.values());
        missing.addAll(of.missing());
        Output.writeWhole(
                folder.resolve(VALUES),
                true,
                out -> out.write(StudyValues.csv(plan, values).getBytes(StandardCharsets.UTF_8)));
        return Optional.empty();
    }

    private End early(int code, String why) {
        err.println(why);
        return new End(folder.resolve(VALUES), values, missing, Optional.of(code));
    }

    private static String named(StudyPlan.Mounting m) {
        return "unit " + m.unit() + ", mount " + m.mount();
    }

    private Bench.Job job(StudyPlan.Mounting mounting) {
        TextFile procedureText = plan.procedure();
        Procedure procedure = ProcedureReader.read(procedureText);
        Profile profile = ProfileReader.read(texts.profile());
        Spec spec = SpecReader.read(texts.spec());
        JobFiles files = new JobFiles(
                        procedureText,
                        procedure,
                        texts.spec(),
                        spec,
                        texts.profile(),
                        profile,
                        texts.rig(),
                        Script.layOut(procedure, profile),
                        Optional.empty(),
                        Optional.empty())
                .with(OwnLimits.forCheck(Optional.empty(), mounting.unit(), Path.of("")));
        Optional<RigDescription> description = texts.rig().map(RigDescriptionReader::read);
        return new Bench.Job(
                mounting.unit(),
                address(mounting),
                description,
                files,
                Optional.of(folder),
                Map.of("attendance", address instanceof RigAddress.Simulated ? "simulated" : "attended"));
    }

    private RigAddress address(StudyPlan.Mounting mounting) {
        return address instanceof RigAddress.Simulated simulated
                ? new RigAddress.Simulated(
                        simulated.text(),
                        plan.simulated(simulated.options(), mounting, spread.unitsDeg(), spread.mountsDeg()))
                : address;
    }

    private RunMonitor told(StudyPlan.Mounting mounting) {
        return new RunMonitor() {
            @Override
            public void progress(RunMonitor.Progress of) {
                progress.show(String.format(
                        Locale.ROOT,
                        "mounting %d of %d, unit %s, mount %d: %s, %.0f %%",
                        mounting.number(),
                        mounting.of(),
                        mounting.unit(),
                        mounting.mount(),
                        of.phase(),
                        of.percent()));
            }

            @Override
            public void notice(String text) {
                progress.clear();
                err.println(named(mounting) + ": " + text);
            }
        };
    }
}
