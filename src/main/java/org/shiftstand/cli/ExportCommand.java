package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.shiftstand.archive.Bag;
import org.shiftstand.archive.BagCheck;
import org.shiftstand.archive.run.ArchivedRun;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.export.ParquetExport;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Judgement;
import org.shiftstand.report.JsonWriter;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Exports judged runs for the engines that people already run. */
@Command(
        name = "export",
        sortOptions = false,
        description = {
            "Exports samples, shifts and clauses as Parquet files that DuckDB, Spark or ClickHouse query.",
            "",
            "Each run is measured and judged again from its samples, as 'judge' does, and gets one file in each of "
                    + "DIR/samples, DIR/shifts and DIR/clauses, by kind of unit and date. A run exported again "
                    + "replaces its files. reports/EXPORT.md tells every column, with queries."
        },
        footer = {
            "",
            "Exit 0 when every run was exported, whatever its verdict; 2 when one could not be.",
            "",
            "Examples:",
            "  shiftstand export --parquet fleet                        every run below reports",
            "  shiftstand export --parquet fleet capture.csv --spec passive-capture --no-samples"
        })
final class ExportCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(
            paramLabel = "INPUT",
            arity = "0..*",
            description = "Run record, run folder, bag or CSV capture. Default: every run folder below reports.")
    private List<Path> inputs = new ArrayList<>();

    @Option(names = "--parquet", paramLabel = "DIR", required = true, description = "Folder of the Parquet files.")
    private Path folder;

    @Option(names = "--no-samples", description = "Export shifts and clauses only.")
    private boolean noSamples;

    @Mixin
    private JudgingOptions options = new JudgingOptions();

    @Option(names = "--json", description = "Print what was written as JSON.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() {
        JudgeOptions said = said();
        ready();
        List<Problem> problems = new ArrayList<>();
        List<Exported> exported = new ArrayList<>();
        for (Path file : files(problems)) {
            export(file, said, problems).ifPresent(run -> {
                exported.add(run);
                told(run);
            });
        }
        if (json) {
            print(exported);
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return ExitCode.DONE;
    }

    private JudgeOptions said() {
        if (options.unit().isPresent() && inputs.size() != 1) {
            throw new BadInput(new Problem(
                    "--unit " + options.unit().get(),
                    0,
                    0,
                    "is for one INPUT; " + inputs.size() + " are named. Export them one by one"));
        }
        return options.judgeOptions();
    }

    /** Refuses before any work is done. */
    private void ready() {
        if (!ParquetExport.isPossible()) {
            throw new BadInput(new Problem(
                    "export",
                    0,
                    0,
                    "needs the Parquet library, which only this command loads and which is not there; start it by"
                            + " ./shiftstand, or add target/export-lib/* to the class path"));
        }
        SilentLog.start();
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            throw unwritable(e);
        }
        if (!Files.isWritable(folder)) {
            throw new BadInput(
                    new Problem(folder.toString(), 0, 0, "cannot be written; choose another with --parquet"));
        }
    }

    private BadInput unwritable(IOException e) {
        return new BadInput(new Problem(
                folder.toString(),
                0,
                0,
                "cannot be written (" + Output.cause(e) + "); choose another folder with --parquet"));
    }

    private List<Path> files(List<Problem> problems) {
        if (inputs.isEmpty()) {
            return ExportInputs.ofReports(Path.of("reports"));
        }
        List<Path> files = new ArrayList<>();
        for (Path named : inputs) {
            BadInput.gathered(problems, () -> ExportInputs.of(named)).ifPresent(files::addAll);
        }
        return files;
    }

    /** One bad input does not keep the others from being exported. */
    private Optional<Exported> export(Path file, JudgeOptions said, List<Problem> problems) {
        try {
            return Optional.of(export(file, said));
        } catch (BadInput e) {
            problems.addAll(e.problems());
        } catch (IOException e) {
            problems.add(new Problem(
                    file.toString(), 0, 0, "was not exported (" + Output.cause(e) + "); export it again by its name"));
        } catch (UncheckedIOException e) {
            problems.add(new Problem(
                    file.toString(), 0, 0, "was not exported (" + e.getMessage() + "); export it again by its name"));
        }
        return Optional.empty();
    }

    private Exported export(Path file, JudgeOptions said) throws IOException {
        if (Bag.isNamedBy(file)) {
            return bag(file);
        }
        try (JudgeInput input = JudgeInput.open(file, options.csv())) {
            Judged judged = Judge.judge(input.source(), input.assemble(options.named(), said));
            return written(file, judged, input.source());
        }
    }

    /** By what it was judged by, whatever is named: an archive is exported as it stands. */
    private Exported bag(Path file) throws IOException {
        try (Scratch scratch = Scratch.make()) {
            Bag bag = Bag.open(file);
            BagCheck check = bag.check();
            if (!check.sound()) {
                throw new BadInput(new Problem(
                        file.toString(),
                        0,
                        0,
                        "is not what was archived (" + check.findings().get(0)
                                + "); 'shiftstand verify' tells everything that was changed"));
            }
            Path unpacked = bag.extract(scratch.path().resolve("bag"));
            try (ArchivedRun run = ArchivedRun.open(unpacked, scratch.folder("again"))) {
                return written(file, run.judge(), run.source());
            }
        }
    }

    private Exported written(Path file, Judged judged, SampleSource source) throws IOException {
        return new Exported(file, judged.judgement(), new ParquetExport(folder).write(judged, source, !noSamples));
    }

    private record Exported(Path input, Judgement judgement, List<ParquetExport.Written> files) {}

    private void told(Exported run) {
        if (json) {
            return;
        }
        StringBuilder line = new StringBuilder(
                        run.judgement().unit().orElse(run.input().toString()))
                .append("  ")
                .append(Summary.word(run.judgement().verdict()));
        String apart = "  ";
        for (ParquetExport.Written file : run.files()) {
            line.append(apart).append(file.rows()).append(' ').append(file.dataset());
            apart = ", ";
        }
        PrintWriter out = command.commandLine().getOut();
        out.println(line);
        out.flush();
    }

    private void print(List<Exported> runs) {
        PrintWriter out = command.commandLine().getOut();
        JsonWriter writer = new JsonWriter(out);
        writer.object().array("runs");
        for (Exported run : runs) {
            writer.object()
                    .field("input", run.input().toString())
                    .field("unit", run.judgement().unit())
                    .field("run", run.judgement().source().sha256())
                    .field("verdict", run.judgement().verdict().word())
                    .array("files");
            for (ParquetExport.Written file : run.files()) {
                writer.object()
                        .field("dataset", file.dataset())
                        .field("file", file.file().toString())
                        .field("rows", file.rows())
                        .field("bytes", file.bytes())
                        .endObject();
            }
            writer.endArray().endObject();
        }
        writer.endArray().endObject().end();
        out.flush();
    }
}
