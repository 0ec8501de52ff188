package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.judge.OwnLimits;
import org.shiftstand.planning.cassette.CassettePlan;
import org.shiftstand.planning.cassette.CassettePlanner;
import org.shiftstand.planning.cassette.CassetteWish;
import org.shiftstand.planning.cassette.ObservedSpread;
import org.shiftstand.planning.cassette.PlannedCassette;
import org.shiftstand.planning.cassette.SpreadOfShifts;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.report.CassetteJson;
import org.shiftstand.report.CassetteProfile;
import org.shiftstand.report.CassetteText;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Plans another number of sprockets over the travel of a drive. */
@Command(
        name = "cassette",
        sortOptions = false,
        description = {
            "Plans another number of sprockets over the travel of a drive, and says whether there is room.",
            "",
            "From a profile: positions and an overtravel table for each count, and for each shift whether overtravel, "
                    + "the scatter of landings, ringing and uncertainty fit between the sprockets and the mechanical "
                    + "limits. What is not known leaves the verdict open. Everything assumed is printed. A plan "
                    + "proves nothing: learn on the new cassette before anything relies on it."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand cassette tarn-drive --measured capture.csv",
            "  shiftstand cassette tarn-drive --sprockets 11 --pitch 3.6mm --present-pitch 3.95mm \\",
            "      --spread 11deg --shifts 400 --ringing 5deg --out tarn-11.profile.yaml"
        })
final class CassetteCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(
            paramLabel = "PROFILE",
            completionCandidates = PackedNames.Profiles.class,
            description = "Profile of the present cassette, a file or a bundled name.")
    private String profile;

    @Mixin
    private CassetteOptions options = new CassetteOptions();

    @Option(
            names = "--limits",
            paramLabel = "FILE",
            description = "The unit's own mechanical limits (UNIT.limits.yaml); they go before the profile's.")
    private @Nullable String limits;

    @Option(names = "--json", description = "The result as JSON.")
    private boolean json;

    @Option(
            names = "--out",
            paramLabel = "FILE",
            description = "Also write a draft profile of the one count that --sprockets names.")
    private @Nullable Path out;

    @Option(names = "--force", description = "Overwrite the file that --out names.")
    private boolean force;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() {
        CassettePlan plan = plan();
        if (out != null) {
            write(plan, out);
        }
        PrintWriter to = spec.commandLine().getOut();
        if (json) {
            CassetteJson.write(plan, to);
        } else {
            to.print(CassetteText.of(plan));
        }
        to.flush();
        return ExitCode.DONE;
    }

    private CassettePlan plan() {
        List<Problem> problems = new ArrayList<>();
        Optional<Profile> read = BadInput.gathered(problems, () -> ProfileReader.find(profile));
        Optional<OwnLimits> own = BadInput.gathered(problems, this::limits).flatMap(found -> found);
        own.ifPresent(found -> read.ifPresent(p -> problems.addAll(found.problems(p))));
        Optional<CassetteWish> wish = options.wish(problems, read);
        if (out != null && wish.filter(w -> w.cassettes().size() != 1).isPresent()) {
            problems.add(new Problem(
                    "--out " + out,
                    0,
                    0,
                    "takes one cassette, and " + wish.orElseThrow().cassettes().size()
                            + " are planned; expected one count, such as --sprockets 12"));
        }
        CassetteOptions.check(problems);
        Profile present = read.orElseThrow();
        Profile limited = own.map(found -> found.in(present)).orElse(present);
        return CassettePlanner.plan(limited, measured(wish.orElseThrow()));
    }

    private Optional<OwnLimits> limits() {
        return Optional.ofNullable(limits)
                .map(typed -> OwnLimits.read(Bundled.find(typed, Bundled.Kind.LIMITS), Optional.empty()));
    }

    /** The wish with spread and ringing from the files named; as it is where none is. */
    private CassetteWish measured(CassetteWish wish) {
        List<Path> files = options.measured();
        if (files.isEmpty()) {
            return wish;
        }
        List<Problem> problems = new ArrayList<>();
        var seen = new SpreadOfShifts();
        List<Double> uncertainties = new ArrayList<>();
        files.forEach(file -> BadInput.gathered(problems, () -> uncertainties.add(measure(file, seen))));
        CassetteOptions.check(problems);
        String from = "measured in "
                + files.stream().map(file -> file.getFileName().toString()).collect(Collectors.joining(", "));
        double expanded = 2 * uncertainties.stream().mapToDouble(u -> u).max().orElseThrow();
        ObservedSpread observed = options.over(seen.observed(expanded, from));
        if (seen.leftOut() > 0) {
            spec.commandLine()
                    .getErr()
                    .println("note: " + seen.leftOut() + " of " + (seen.landed() + seen.leftOut())
                            + " measured shifts did not land or did not start on their sprocket; they do not count");
        }
        return new CassetteWish(
                wish.cassettes(), wish.presentPitchMm(), wish.spacing(), wish.overtravel(), observed, wish.rule());
    }

    /** Adds the shifts of a file; gives back the standard uncertainty of its angles, degrees. */
    private double measure(Path file, SpreadOfShifts into) {
        try (JudgeInput input = JudgeInput.open(file, CsvOptions.parse(List.of(), List.of()))) {
            Named named = new Named(Optional.empty(), Optional.of(profile), Optional.empty());
            JudgeInput.MeasureCase by = input.measuring(named, JudgeOptions.defaults());
            Measurement measured = Measuring.measure(input.source(), by.profile(), by.options());
            measured.notices()
                    .forEach(notice ->
                            spec.commandLine().getErr().println("note: " + file.getFileName() + ": " + notice));
            into.add(file.toString(), measured.table().shifts());
            return measured.track().correction().uncertaintyDeg();
        }
    }

    private void write(CassettePlan plan, Path file) {
        PlannedCassette cassette = plan.planned().get(0);
        List<Problem> reaching = cassette.reachingLimits().stream()
                .map(check -> new Problem(
                        file.toString(),
                        0,
                        0,
                        "is not written: " + check.from() + "→" + check.to() + " reaches "
                                + Decimal.text(cassette.positionsDeg().get(check.to() - 1), 6) + " deg with "
                                + Decimal.text(check.overtravelDeg().orElse(0), 6)
                                + " deg of overtravel, at or past the "
                                + check.direction().word() + " limit; a drive must never press on it. Take a smaller"
                                + " pitch, or keep the ends"))
                .toList();
        CassetteOptions.check(reaching);
        String text = CassetteProfile.of(plan, cassette);
        Output.writeWhole(file, force, to -> to.write(text.getBytes(StandardCharsets.UTF_8)));
    }
}
