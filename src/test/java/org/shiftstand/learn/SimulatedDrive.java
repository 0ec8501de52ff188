package org.shiftstand.learn;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import java.util.function.UnaryOperator;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.RigRunner;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.rig.RunPlan;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedPlace;

/** A simulated unit with a table of its own, driven into a record that holds no profile: nothing tells its table. Invented. */
final class SimulatedDrive {
    private SimulatedDrive() {}

    /** A table drawn at random: pitches, overtravel of 40 deg and more, none towards the larger half. */
    static Profile drawn(long seed) {
        Random random = new Random(seed);
        int n = 7 + random.nextInt(8);
        List<Double> positions = new ArrayList<>(List.of(0.0));
        List<Double> inboard = new ArrayList<>();
        List<Double> outboard = new ArrayList<>();
        for (int k = 1; k < n; k++) {
            positions.add(positions.get(k - 1) + 620 + random.nextInt(180));
            inboard.add(k <= n / 2 ? 200.0 + random.nextInt(120) : 0.0);
            outboard.add(40.0 + random.nextInt(200));
        }
        return profile(positions, inboard, outboard);
    }

    static Profile profile(List<Double> positions, List<Double> inboard, List<Double> outboard) {
        return new Profile(
                "drawn",
                1,
                positions.size(),
                positions,
                OptionalDouble.empty(),
                OptionalDouble.of(-520),
                OptionalDouble.of(positions.get(positions.size() - 1) + 520),
                OptionalDouble.of(0.7),
                inboard,
                outboard,
                List.of(),
                "");
    }

    static Profile even(int sprockets, double overtravelDeg) {
        List<Double> positions = new ArrayList<>();
        for (int k = 0; k < sprockets; k++) {
            positions.add(700.0 * k + (k * k * 37 % 90));
        }
        List<Double> table = Collections.nCopies(sprockets - 1, overtravelDeg);
        return profile(positions, table, table);
    }

    /** @param sweeps the step lines of a procedure, such as {@code - sweep: { from: 1, to: last, and-back: true, times: 6 }} */
    static LearningInput run(Path folder, String name, Profile profile, String rig, String sweeps) throws IOException {
        return run(folder, name, profile, rig, "- home: {}\n  " + sweeps, source -> source);
    }

    /** The same as a capture with marked requests only: no script tells which sprockets are meant. */
    static LearningInput capture(Path folder, String name, Profile profile, String rig, String sweeps)
            throws IOException {
        return run(folder, name, profile, rig, sweeps, MarkedOnly::new);
    }

    private static LearningInput run(
            Path folder, String name, Profile profile, String rig, String sweeps, UnaryOperator<SampleSource> heard)
            throws IOException {
        Path record = folder.resolve(name + ".run");
        TextFile text = TextFile.of(
                "drawn.yaml",
                "procedure: drawn\nversion: 1\nsample-rate: 512 Hz\nsteps:\n  - supply: 8.2 V\n  - home: {}\n  "
                        + sweeps + "\n");
        Procedure procedure = ProcedureReader.read(text);
        RunPlan plan = new RunPlan(
                name,
                Script.layOut(procedure, profile),
                procedure,
                Optional.of(profile),
                RunPlan.SIMULATED_GUARDS,
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                Map.of(),
                Map.of("procedure", text.text()),
                Map.of("procedure", "drawn.yaml"),
                true);
        RigRunner.run(
                new SimulatedPlace(profile, SimOptions.parse(rig)),
                plan,
                Optional.empty(),
                header -> SqliteRunWriter.create(record, header),
                RunMonitor.SILENT,
                GoAhead.NOBODY,
                () -> false);
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            Measurement measured =
                    Measuring.measure(heard.apply(input.source()), Optional.empty(), JudgeOptions.defaults());
            return new LearningInput(name, name, input.identity(), measured, OptionalInt.empty());
        } finally {
            Files.deleteIfExists(record);
        }
    }

    private record MarkedOnly(SampleSource source) implements SampleSource {
        @Override
        public SourceIdentity identity() {
            return source.identity();
        }

        @Override
        public Channels channels() {
            return source.channels();
        }

        @Override
        public double intervalS() {
            return source.intervalS();
        }

        @Override
        public SampleReader open() {
            return source.open();
        }

        @Override
        public List<Request> requests() {
            return source.requests().stream()
                    .map(r -> new Request(
                            r.timeS(),
                            r.direction(),
                            OptionalInt.empty(),
                            OptionalInt.empty(),
                            OptionalInt.empty(),
                            Optional.empty(),
                            OptionalDouble.empty(),
                            r.stamped()))
                    .toList();
        }

        @Override
        public List<String> notices() {
            return source.notices();
        }

        @Override
        public void close() {
            source.close();
        }
    }

    static String sweeps(int times) {
        return "- sweep: { from: 1, to: last, and-back: true, times: " + times + ", rest: 350 ms }";
    }
}
