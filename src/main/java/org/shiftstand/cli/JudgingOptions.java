package org.shiftstand.cli;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.run.AsJudged;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Named;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** By which files and how a record or capture is judged, the same for every command that judges one. */
final class JudgingOptions {
    @Option(
            names = "--spec",
            paramLabel = "S",
            completionCandidates = PackedNames.Specs.class,
            description = "Acceptance spec, a file or a bundled name. A record has its own.")
    private @Nullable String spec;

    @Mixin
    private MeasureOptions measuring = new MeasureOptions();

    @Option(
            names = "--procedure",
            paramLabel = "P",
            completionCandidates = PackedNames.Procedures.class,
            description = "Procedure that says which shifts were to be seen. A record has its own.")
    private @Nullable String procedure;

    @Option(
            names = "--bench",
            paramLabel = "R",
            completionCandidates = PackedNames.Rigs.class,
            description = "Description of the rig that the run was made on (a YAML file), for uncertainty budgets. A "
                    + "record has its own.")
    private @Nullable String benchDescription;

    @Option(names = "--unit", paramLabel = "ID", description = "Id of the unit in a capture.")
    private @Nullable String unit;

    @Option(
            names = "--particulars",
            paramLabel = "FILE",
            completionCandidates = PackedNames.Particulars.class,
            description = "What people state for the report: laboratory, customer, item. A record has its own.")
    private @Nullable String particulars;

    /** Id of the unit in a capture, where it was given. */
    Optional<String> unit() {
        return Optional.ofNullable(unit);
    }

    /** How a capture is read. */
    CsvOptions csv() {
        return measuring.csv();
    }

    /** What was said beside the files; throws with everything that is wrong. */
    JudgeOptions judgeOptions() {
        JudgeOptions said = measuring.judgeOptions();
        return unit == null ? said : said.withUnit(UnitId.check(unit));
    }

    /** The same in a form that can be kept. */
    AsJudged asJudged() {
        return measuring.asJudged(Optional.ofNullable(unit).map(UnitId::check));
    }

    /** The files that go before those of a record. */
    Named named() {
        return new Named(Optional.ofNullable(spec), measuring.profile(), Optional.ofNullable(procedure))
                .withLimits(measuring.limits())
                .withParticulars(Optional.ofNullable(particulars))
                .withBench(Optional.ofNullable(benchDescription));
    }
}
