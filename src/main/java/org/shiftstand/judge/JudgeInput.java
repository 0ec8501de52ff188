package org.shiftstand.judge;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.NamedTexts.Role;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/**
 * A file to measure or judge: a run record or a CSV capture, told by its first bytes.
 *
 * <p>A unit's own mechanical limits, named or in the record, go before the profile's.
 *
 * <p>A record brings its own spec, profile and procedure; named files go before them. Which profile is used: the one
 * named, else that of the named spec, else the record's own, else the one that the record's spec names. Close it after
 * the track is no longer used.
 */
public final class JudgeInput implements AutoCloseable {
    // first 16 bytes of every SQLite 3 database, https://www.sqlite.org/fileformat.html, 1.3
    private static final byte[] DATABASE = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);

    private final SampleSource source;
    private final Map<String, TextFile> texts;
    private final Optional<String> unit;
    private final Map<String, String> identity;
    private final Optional<String> runEnd;
    private final Optional<Instant> began;
    private final Optional<Instant> ended;

    private JudgeInput(
            SampleSource source,
            Map<String, TextFile> texts,
            Optional<String> unit,
            Map<String, String> identity,
            Optional<String> runEnd,
            Optional<Instant> began,
            Optional<Instant> ended) {
        this.source = source;
        this.texts = texts;
        this.unit = unit;
        this.identity = identity;
        this.runEnd = runEnd;
        this.began = began;
        this.ended = ended;
    }

    /**
     * Opens a record or capture; blocks while a capture is read.
     *
     * @param csv how a capture differs from the usual one; without meaning for a record
     * @throws BadInput where it is neither, or damaged
     */
    public static JudgeInput open(Path file, CsvOptions csv) {
        if (isDatabase(file)) {
            RecordFacts facts = RecordFacts.read(file);
            return new JudgeInput(
                    facts.source(),
                    facts.texts(),
                    facts.unit(),
                    facts.identity(),
                    facts.runEnd(),
                    facts.began(),
                    facts.ended());
        }
        return new JudgeInput(
                CsvCapture.open(file, csv),
                Map.of(),
                Optional.empty(),
                Map.of(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }

    /** The samples. */
    public SampleSource source() {
        return source;
    }

    /** Id of the unit, where the file says it. */
    public Optional<String> unit() {
        return unit;
    }

    /** Texts that a record holds, by role; none of a capture. */
    public Map<String, TextFile> texts() {
        return Map.copyOf(texts);
    }

    /** What a record says of unit, rig and station, in reading order; nothing of a capture. */
    public Map<String, String> identity() {
        return java.util.Collections.unmodifiableMap(identity);
    }

    /** UTC of the first sample; empty for a capture. */
    public Optional<Instant> began() {
        return began;
    }

    /** Why a run ended early; empty where its script was done, and for a capture. */
    public Optional<String> runEnd() {
        return runEnd;
    }

    /**
     * The profile to measure by; empty where none is named and the file has none.
     *
     * @throws BadInput with everything that is wrong
     */
    public Optional<Profile> profile(NamedTexts named) {
        Optional<NamingSpec> spec = named.text(Role.SPEC).map(text -> new NamingSpec(text, SpecReader.read(text)));
        return profileText(named, spec).map(found -> ProfileReader.read(found.text()));
    }

    /**
     * Spec, profile and options for judging, complete with what the file says of unit, run and procedure.
     *
     * @param options what the user said; unit and plan given there go before those of the file
     * @throws BadInput with everything that is wrong in all files at once
     */
    public JudgeCase assemble(NamedTexts named, JudgeOptions options) {
        List<Problem> problems = new ArrayList<>();
        Optional<TextFile> specText =
                BadInput.gathered(problems, () -> specText(named)).flatMap(text -> text);
        Optional<Spec> spec = specText.flatMap(text -> BadInput.gathered(problems, () -> SpecReader.read(text)));
        Optional<FoundProfile> profileText = BadInput.gathered(
                        problems, () -> profileText(named, spec.map(s -> new NamingSpec(specText.orElseThrow(), s))))
                .flatMap(found -> found);
        Optional<Profile> profile =
                profileText.flatMap(found -> BadInput.gathered(problems, () -> ProfileReader.read(found.text())));
        Optional<Procedure> procedure = BadInput.gathered(
                        problems, () -> procedureText(named).map(ProcedureReader::read))
                .flatMap(read -> read);
        Optional<OwnLimits> limits =
                BadInput.gathered(problems, () -> ownLimits(named, options)).flatMap(read -> read);
        limits.ifPresent(own -> profile.ifPresent(p -> problems.addAll(own.problems(p))));
        Optional<Particulars> stated =
                BadInput.gathered(problems, () -> particulars(named, options)).flatMap(read -> read);
        Optional<RigDescription> rig =
                BadInput.gathered(problems, () -> rig(named)).flatMap(read -> read);
        if (specText.isEmpty() && problems.isEmpty()) {
            problems.add(new Problem(
                    source.identity().name(),
                    0,
                    0,
                    "has no spec of its own; expected one, such as --spec" + " specs/passive-capture.spec.yaml"));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        JudgeOptions completed = onRig(completed(options, profileText, procedure), rig);
        if (procedure.isPresent() && profile.isPresent() && options.plan().isEmpty()) {
            completed = completed.withPlan(Plan.of(Script.layOut(procedure.get(), profile.get())));
        }
        JudgeOptions limited = limits.isPresent() ? limits.get().in(completed) : completed;
        return new JudgeCase(
                spec.orElseThrow(),
                profile.map(p -> limits.map(own -> own.in(p)).orElse(p)),
                limited,
                new Circumstances(
                        stated.orElseGet(Particulars::none),
                        procedure,
                        began,
                        ended,
                        new Departures(texts, named)
                                .of(
                                        specText.orElseThrow(),
                                        spec.orElseThrow(),
                                        profileText.map(FoundProfile::text),
                                        procedure)));
    }

    /**
     * The profile and the options to measure by, with the unit's own limits and the rig's description where they are known.
     *
     * @throws BadInput with everything that is wrong
     */
    public MeasureCase measuring(NamedTexts named, JudgeOptions options) {
        List<Problem> problems = new ArrayList<>();
        Optional<Profile> profile =
                BadInput.gathered(problems, () -> profile(named)).flatMap(read -> read);
        Optional<OwnLimits> limits =
                BadInput.gathered(problems, () -> ownLimits(named, options)).flatMap(read -> read);
        limits.ifPresent(own -> profile.ifPresent(p -> problems.addAll(own.problems(p))));
        Optional<RigDescription> rig =
                BadInput.gathered(problems, () -> rig(named)).flatMap(read -> read);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        JudgeOptions on = onRig(options, rig);
        return new MeasureCase(
                profile.map(p -> limits.map(own -> own.in(p)).orElse(p)),
                limits.map(own -> own.in(on)).orElse(on));
    }

    /** What {@code measure} needs beside the samples. */
    public record MeasureCase(Optional<Profile> profile, JudgeOptions options) {}

    /** The description of the rig that the user named, else the record's own. */
    private Optional<RigDescription> rig(NamedTexts named) {
        return named.text(Role.RIG)
                .or(() -> Optional.ofNullable(texts.get("rig")))
                .map(RigDescriptionReader::read);
    }

    private static JudgeOptions onRig(JudgeOptions options, Optional<RigDescription> rig) {
        return rig.isPresent() && options.bench().rig().isEmpty()
                ? options.withBench(options.bench().with(rig.get()))
                : options;
    }

    /** The limits that the user named, else the record's own; none where the options have some already. */
    private Optional<OwnLimits> ownLimits(NamedTexts named, JudgeOptions options) {
        if (options.limitsFrom().isPresent()) {
            return Optional.empty();
        }
        return named.text(Role.LIMITS)
                .or(() -> Optional.ofNullable(texts.get(OwnLimits.ROLE)))
                .map(text -> OwnLimits.read(text, options.unit().or(() -> unit)));
    }

    /** What the user named, else what the record holds. */
    private Optional<Particulars> particulars(NamedTexts named, JudgeOptions options) {
        return named.text(Role.PARTICULARS)
                .or(() -> Optional.ofNullable(texts.get(Particulars.ROLE)))
                .map(text -> ParticularsReader.read(text, options.unit().or(() -> unit)));
    }

    private JudgeOptions completed(
            JudgeOptions options, Optional<FoundProfile> profile, Optional<Procedure> procedure) {
        Map<String, String> facts = new LinkedHashMap<>(identity);
        procedure.ifPresent(p -> facts.put("procedure", p.name() + " version " + p.version()));
        profile.ifPresent(p -> facts.put("profile from", p.from()));
        facts.putAll(options.identity());
        JudgeOptions completed = options.withIdentity(facts);
        if (options.unit().isEmpty() && unit.isPresent()) {
            completed = completed.withUnit(unit.get());
        }
        if (options.runEnd().isEmpty() && runEnd.isPresent()) {
            completed = completed.withRunEnd(runEnd.get());
        }
        return completed;
    }

    private Optional<TextFile> specText(NamedTexts named) {
        return named.text(Role.SPEC).or(() -> Optional.ofNullable(texts.get("spec")));
    }

    private Optional<TextFile> procedureText(NamedTexts named) {
        return named.text(Role.PROCEDURE).or(() -> Optional.ofNullable(texts.get("procedure")));
    }

    private Optional<FoundProfile> profileText(NamedTexts named, Optional<NamingSpec> spec) {
        Optional<TextFile> wanted = named.text(Role.PROFILE);
        if (wanted.isPresent()) {
            return Optional.of(new FoundProfile(
                    wanted.get(), "named by the user: " + wanted.get().name()));
        }
        Optional<FoundProfile> own =
                Optional.ofNullable(texts.get("profile")).map(text -> new FoundProfile(text, "the run record"));
        Optional<FoundProfile> ofSpec = spec.filter(
                        s -> own.isEmpty() || named.text(Role.SPEC).isPresent())
                .flatMap(s -> named.profileOf(s.text(), s.spec())
                        .map(text -> new FoundProfile(text, "named by the spec: " + text.name())));
        return ofSpec.or(() -> own);
    }

    private record NamingSpec(TextFile text, Spec spec) {}

    private record FoundProfile(TextFile text, String from) {}

    private static boolean isDatabase(Path file) {
        if (!Files.isRegularFile(file)) {
            return false; // the capture's own message says what is wrong with it
        }
        try (InputStream in = Files.newInputStream(file)) {
            return Arrays.equals(in.readNBytes(DATABASE.length), DATABASE);
        } catch (IOException e) {
            return false; // likewise
        }
    }

    @Override
    public void close() {
        source.close();
    }
}
