package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Plan;
import org.shiftstand.planning.Assumptions;
import org.shiftstand.planning.Explainer;
import org.shiftstand.planning.Explanation;
import org.shiftstand.planning.Schedule;
import org.shiftstand.planning.SoundUnit;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.procedure.Step;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.report.ExplanationJson;
import org.shiftstand.report.ExplanationText;
import org.shiftstand.report.OperatingDrawing;
import org.shiftstand.spec.SpecReader;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** What a spec demands, what it takes, and what its verdicts are worth. */
@Command(
        name = "explain",
        sortOptions = false,
        description = {
            "Says in plain words what a spec demands, and what its verdicts are worth.",
            "",
            "Tells for each clause what it demands and why, how many shifts it needs, and how long a "
                    + "procedure takes to deliver them. Then simulates units from sound to bad, judges them as real "
                    + "ones are judged, and tells the chance that a sound unit does not pass and that a bad one slips "
                    + "through. Without a procedure, sweeps of the whole cassette and back are taken, as many as "
                    + "every clause needs."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand spec explain tarn-drive-end-of-line --procedure end-of-line --drawing curves.svg",
            "  shiftstand spec explain my-drive.spec.yaml --landing-sd '12 deg' --power 95%%"
        })
final class SpecExplainCommand implements Callable<Integer> {
    /** One sweep and back, as the bundled procedures make them; begun again as often as it takes. */
    private static final Procedure SWEEPS = new Procedure(
            "sweeps",
            1,
            512,
            List.of(new Step.Supply(8.2), new Step.Home(), new Step.Sweep(1, OptionalInt.empty(), true, 24, 0.35)),
            Procedure.StopWhen.NOTHING,
            "");

    @Spec
    private CommandSpec command;

    @Parameters(
            paramLabel = "SPEC",
            completionCandidates = PackedNames.Specs.class,
            description = "A spec, a file or a bundled name.")
    private String spec;

    @Option(
            names = "--procedure",
            paramLabel = "P",
            completionCandidates = PackedNames.Procedures.class,
            description = "The procedure that is to supply the spec.")
    private @Nullable String procedure;

    @Option(
            names = "--profile",
            paramLabel = "P",
            completionCandidates = PackedNames.Profiles.class,
            description = "A profile; goes before the one the spec names.")
    private @Nullable String profile;

    @Option(
            names = "--landing-sd",
            paramLabel = "ANGLE",
            defaultValue = "10.5 deg",
            description = "Standard deviation of a sound unit's landings; ${DEFAULT-VALUE} unless told otherwise: "
                    + "common practice, no published source.")
    private String landingSd;

    @Option(
            names = "--power",
            paramLabel = "CHANCE",
            description = "Also find the fewest cycles by which each clause tells a sound unit and a bad one with this "
                    + "chance, such as 95%%.")
    private @Nullable String power;

    @Option(
            names = "--everywhere",
            description = "A bad unit is bad in every group; else in the one nearest to its bound.")
    private boolean everywhere;

    @Option(
            names = "--repetitions",
            paramLabel = "N",
            defaultValue = "200",
            description = "Simulated units of each quality; ${DEFAULT-VALUE} unless told otherwise.")
    private int repetitions;

    @Option(
            names = "--seed",
            paramLabel = "S",
            defaultValue = "1",
            description = "Of everything random; ${DEFAULT-VALUE} unless told otherwise.")
    private long seed;

    @Option(names = "--json", description = "The result as JSON.")
    private boolean json;

    @Option(names = "--drawing", paramLabel = "FILE", description = "Also draw the curves into this file, as SVG.")
    private @Nullable Path drawing;

    @Option(names = "--force", description = "Overwrite an existing drawing.")
    private boolean force;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() {
        Assumptions given = assumptions();
        TextFile text = Bundled.find(spec, Bundled.Kind.SPEC);
        org.shiftstand.spec.Spec read = SpecReader.read(text);
        Optional<Profile> nominal = Optional.ofNullable(profile)
                .map(named -> Bundled.find(named, Bundled.Kind.PROFILE))
                .or(() -> SpecReader.profileOf(text, read))
                .map(ProfileReader::read);
        Optional<Procedure> script = Optional.ofNullable(procedure).map(ProcedureReader::find);
        Explanation explained =
                nominal.map(p -> explain(read, p, script, given)).orElseGet(() -> Explainer.demands(read, given));
        PrintWriter out = command.commandLine().getOut();
        if (json) {
            ExplanationJson.write(explained, out);
        } else {
            out.print(ExplanationText.of(explained, procedureWords(script, nominal)));
        }
        out.flush();
        if (drawing != null) {
            String svg = OperatingDrawing.of(explained);
            Output.writeWhole(drawing, force, to -> to.write(svg.getBytes(StandardCharsets.UTF_8)));
        }
        return ExitCode.DONE;
    }

    private static Explanation explain(
            org.shiftstand.spec.Spec spec, Profile profile, Optional<Procedure> script, Assumptions given) {
        List<Action> actions = Script.layOut(script.orElse(SWEEPS), profile);
        Schedule schedule = Schedule.of(actions, Plan.of(actions), profile);
        return Explainer.explain(spec, profile, schedule, script.isPresent(), given);
    }

    private static String procedureWords(Optional<Procedure> script, Optional<Profile> profile) {
        return script.isPresent() && profile.isPresent()
                ? "Procedure " + script.get().name() + ": " + Script.summary(script.get(), profile.get()) + "."
                : "No procedure is named: sweeps of the whole cassette and back, 350 ms of rest after each shift.";
    }

    private Assumptions assumptions() {
        double sd = quantity("--landing-sd", landingSd, Dimension.ANGLE);
        if (!(sd > 0)) {
            throw misuse("--landing-sd is " + landingSd + "; expected an angle above 0, such as '10.5 deg'");
        }
        if (repetitions < 1 || repetitions > 100_000) {
            throw misuse("--repetitions is " + repetitions + "; expected 1 to 100000");
        }
        OptionalDouble wanted =
                power == null ? OptionalDouble.empty() : OptionalDouble.of(quantity("--power", power, Dimension.RATIO));
        if (wanted.isPresent() && !(wanted.getAsDouble() > 0 && wanted.getAsDouble() < 1)) {
            throw misuse("--power is " + power + "; expected more than 0 % and less than 100 %, such as 95%");
        }
        return new Assumptions(new SoundUnit(sd), everywhere, repetitions, seed, wanted);
    }

    private double quantity(String option, String typed, Dimension dimension) {
        try {
            Quantity quantity = Quantity.parse(typed);
            if (quantity.unit().dimension() == dimension) {
                return quantity.base();
            }
        } catch (NotAQuantity e) {
            throw misuse(option + ": " + e.getMessage());
        }
        throw misuse(option + " is " + typed + "; expected " + dimension.phrase() + ", such as '" + dimension.example()
                + "'");
    }

    private ParameterException misuse(String text) {
        return new ParameterException(command.commandLine(), text);
    }
}
