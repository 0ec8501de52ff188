package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Plan;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.SpecLint;
import org.shiftstand.spec.SpecReader;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Everything that is wrong in a spec, its profile and a procedure, at once. */
@Command(
        name = "lint",
        sortOptions = false,
        description = {
            "Tells everything that is wrong in a spec, at once.",
            "",
            "Reads a spec and the profile it names, and tells everything that is wrong, with line and "
                    + "column. With a procedure it also tells each clause that the procedure cannot supply with "
                    + "shifts; with a profile, each bound that shuts out the profile's own nominal value. Exit 0 "
                    + "when all is well, 2 otherwise."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand spec lint my-drive.spec.yaml",
            "  shiftstand spec lint tarn-drive-end-of-line --procedure end-of-line"
        })
final class SpecLintCommand implements Callable<Integer> {
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

    @Override
    public Integer call() {
        PrintWriter out = command.commandLine().getOut();
        List<Problem> problems = new ArrayList<>();
        Optional<TextFile> specText = BadInput.gathered(problems, () -> Bundled.find(spec, Bundled.Kind.SPEC));
        Optional<org.shiftstand.spec.Spec> read =
                specText.flatMap(text -> BadInput.gathered(problems, () -> SpecReader.read(text)));
        Optional<String> named = Optional.ofNullable(profile);
        Optional<TextFile> profileText = named.isPresent()
                ? BadInput.gathered(problems, () -> Bundled.find(named.get(), Bundled.Kind.PROFILE))
                : read.flatMap(s -> BadInput.gathered(problems, () -> SpecReader.profileOf(specText.orElseThrow(), s)))
                        .flatMap(found -> found);
        Optional<Profile> nominal =
                profileText.flatMap(text -> BadInput.gathered(problems, () -> ProfileReader.read(text)));
        Optional<Procedure> script = Optional.ofNullable(procedure)
                .flatMap(typed -> BadInput.gathered(problems, () -> ProcedureReader.find(typed)));
        if (procedure != null && nominal.isEmpty() && problems.isEmpty()) {
            problems.add(new Problem(
                    spec, 0, 0, "names no profile, and a procedure is laid out against one; add --profile"));
        }
        Optional<List<PlannedShift>> plan = script.flatMap(s ->
                nominal.flatMap(p -> BadInput.gathered(problems, () -> Plan.of(Script.layOut(s, p)))));
        read.ifPresent(s -> problems.addAll(SpecLint.lint(specText.orElseThrow().name(), s, nominal, plan)));
        if (problems.isEmpty()) {
            out.println(good(read.orElseThrow(), nominal, script));
            return ExitCode.DONE;
        }
        throw new BadInput(problems);
    }

    private static String good(
            org.shiftstand.spec.Spec spec, Optional<Profile> profile, Optional<Procedure> procedure) {
        String text = spec.name() + " version " + spec.version() + ": "
                + spec.clauses().size() + " clauses, no problems";
        if (profile.isPresent()) {
            text += "; profile " + profile.get().name() + " version "
                    + profile.get().version();
        }
        if (profile.isPresent() && procedure.isPresent()) {
            text += "; procedure " + procedure.get().name() + ": " + Script.summary(procedure.get(), profile.get());
        }
        return text + ".";
    }
}
