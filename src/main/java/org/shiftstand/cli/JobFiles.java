package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.OwnLimits;
import org.shiftstand.judge.Particulars;
import org.shiftstand.judge.ParticularsReader;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/** The files of a job, read and fitting each other. */
record JobFiles(
        TextFile procedureText,
        Procedure procedure,
        TextFile specText,
        Spec spec,
        TextFile profileText,
        Profile profile,
        Optional<TextFile> rigText,
        List<Action> actions,
        Optional<OwnLimits> limits,
        Optional<TextFile> particularsText) {
    /** The same with a unit's own mechanical limits in the place of the profile's. */
    JobFiles with(Optional<OwnLimits> own) {
        List<Problem> wrong = own.map(l -> l.problems(profile)).orElse(List.of());
        if (!wrong.isEmpty()) {
            throw new BadInput(wrong);
        }
        return new JobFiles(
                procedureText,
                procedure,
                specText,
                spec,
                profileText,
                own.map(l -> l.in(profile)).orElse(profile),
                rigText,
                actions,
                own,
                particularsText);
    }

    /**
     * The same with what people state for the report.
     *
     * @throws BadInput where the file cannot be used, or is of another unit
     */
    JobFiles stating(Optional<String> named, String unit) {
        Optional<TextFile> text = named.map(ParticularsReader::find);
        text.ifPresent(t -> ParticularsReader.read(t, Optional.of(unit)));
        return new JobFiles(
                procedureText, procedure, specText, spec, profileText, profile, rigText, actions, limits, text);
    }

    /** Where the mechanical limits come from, for messages. */
    String limitsFrom() {
        return limits.map(own -> own.text().name()).orElse("profile " + profile.name());
    }

    /**
     * Reads procedure, spec and profile, and lays the script out.
     *
     * @throws BadInput with everything that is wrong in all of them at once
     */
    static JobFiles read(String procedure, String spec, Optional<String> profile, Optional<TextFile> rigText) {
        var problems = new ArrayList<Problem>();
        Optional<TextFile> procedureText =
                BadInput.gathered(problems, () -> Bundled.find(procedure, Bundled.Kind.PROCEDURE));
        Optional<Procedure> script =
                procedureText.flatMap(text -> BadInput.gathered(problems, () -> ProcedureReader.read(text)));
        Optional<TextFile> specText = BadInput.gathered(problems, () -> Bundled.find(spec, Bundled.Kind.SPEC));
        Optional<Spec> read = specText.flatMap(text -> BadInput.gathered(problems, () -> SpecReader.read(text)));
        Optional<TextFile> profileText = profile.isPresent()
                ? BadInput.gathered(problems, () -> Bundled.find(profile.get(), Bundled.Kind.PROFILE))
                : read.flatMap(s -> BadInput.gathered(problems, () -> SpecReader.profileOf(specText.orElseThrow(), s)))
                        .flatMap(found -> found);
        Optional<Profile> nominal =
                profileText.flatMap(text -> BadInput.gathered(problems, () -> ProfileReader.read(text)));
        if (problems.isEmpty() && nominal.isEmpty()) {
            problems.add(new Problem(
                    spec, 0, 0, "names no profile, and a rig needs one to lay out its script; add --profile"));
        }
        Optional<List<Action>> actions =
                script.flatMap(s -> nominal.flatMap(p -> BadInput.gathered(problems, () -> Script.layOut(s, p))));
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return new JobFiles(
                procedureText.orElseThrow(),
                script.orElseThrow(),
                specText.orElseThrow(),
                read.orElseThrow(),
                profileText.orElseThrow(),
                nominal.orElseThrow(),
                rigText,
                actions.orElseThrow(),
                Optional.empty(),
                Optional.empty());
    }

    /**
     * The files that a record holds, so that a run goes on as it began whatever has become of them since.
     *
     * @throws BadInput where this version cannot read one of them
     */
    static JobFiles of(BrokenOff run) {
        TextFile procedureText = run.text("procedure");
        TextFile specText = run.text("spec");
        TextFile profileText = run.text("profile");
        Procedure script = ProcedureReader.read(procedureText);
        Profile nominal = ProfileReader.read(profileText);
        Optional<OwnLimits> own = Optional.ofNullable(run.texts().get(OwnLimits.ROLE))
                .map(text -> OwnLimits.read(text, Optional.of(run.header().unit())));
        return new JobFiles(
                        procedureText,
                        script,
                        specText,
                        SpecReader.read(specText),
                        profileText,
                        nominal,
                        Optional.ofNullable(run.texts().get("rig")),
                        Script.layOut(script, nominal),
                        Optional.empty(),
                        Optional.ofNullable(run.texts().get(Particulars.ROLE)))
                .with(own);
    }
}
