package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import org.shiftstand.archive.BagDigest;
import org.shiftstand.archive.BagForm;
import org.shiftstand.archive.BagWriter;
import org.shiftstand.archive.Payload;
import org.shiftstand.archive.run.RunPayload;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.history.DisclosedNames;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Judgement;
import org.shiftstand.judge.TextsHandedOut;
import org.shiftstand.report.JsonWriter;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Packs a run with everything that its verdict came from. */
@Command(
        name = "archive",
        sortOptions = false,
        description = {
            "Packs a run into a bag (BagIt 1.0, RFC 8493) that can be signed, checked, and judged again years later.",
            "",
            "The bag holds the record or capture, the report, the result, the shift table, every text that the run was "
                    + "made and judged by, and the version of this program with its libraries. The same input gives the "
                    + "same bytes; so the report in it has no date, and each signature has one."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand archive reports/TD-0107-…/TD-0107.run --out TD-0107.tar.gz",
            "  shiftstand archive capture.csv --spec passive-capture --unit TD-0107 --out bag",
            "",
            "Then 'shiftstand sign' signs it, and 'shiftstand verify' checks it.",
            "How a bag is made, byte by byte: reports/ARCHIVE.md"
        })
final class ArchiveCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(
            paramLabel = "RUN",
            description = "Run record (.run), the folder of a run, or CSV capture (.csv, .csv.gz).")
    private Path run;

    @Option(
            names = "--out",
            required = true,
            paramLabel = "BAG",
            description = "The bag: a folder, or a file whose name ends in .tar.gz or .zip.")
    private Path out;

    @Option(names = "--force", description = "Overwrite a bag of that name; its signatures go with it.")
    private boolean force;

    @Mixin
    private JudgingOptions options = new JudgingOptions();

    @Option(names = "--json", description = "Print what was archived as JSON.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        JudgeOptions said = options.judgeOptions();
        CsvOptions csv = options.csv();
        Path file = RunFile.in(run);
        RunFile.refuseWhileWritten(file);
        try (Scratch scratch = Scratch.make();
                JudgeInput input = JudgeInput.open(file, csv)) {
            TextsHandedOut texts = new TextsHandedOut(options.named());
            Judged judged = Judge.judge(input.source(), input.assemble(texts, said));
            String unit = judged.judgement().unit().orElseThrow(() -> nameless(file));
            SortedMap<String, Payload> payload = RunPayload.of(
                    file, judged, input.texts(), texts.kept(), options.asJudged(), scratch.path(), Version.number());
            BagDigest digest = BagWriter.write(
                    out, BagForm.of(out), unit, "shiftstand " + Version.number(), payload, names(file), force);
            tell(judged.judgement(), unit, digest.text(), payload.size());
        }
        return ExitCode.DONE;
    }

    /** Names that stand beside the record, which holds their digests. */
    private static SortedMap<String, byte[]> names(Path file) throws IOException {
        SortedMap<String, byte[]> names = new TreeMap<>();
        DisclosedNames.beside(file).forEach((name, salted) -> names.put(name, salted.json()));
        return names;
    }

    private static BadInput nameless(Path file) {
        return new BadInput(new Problem(
                file.toString(),
                0,
                0,
                "does not say whose it is, and an archive is of one unit; add --unit, such as --unit TD-0107"));
    }

    private void tell(Judgement judgement, String unit, String digest, int files) {
        var text = command.commandLine().getOut();
        if (json) {
            new JsonWriter(text)
                    .object()
                    .field("format", 1)
                    .field("bag", out.toString())
                    .field("digest", digest)
                    .field("files", files)
                    .field("unit", unit)
                    .field("verdict", judgement.verdict().word())
                    .field("reason", judgement.reason())
                    .endObject()
                    .end();
            return;
        }
        text.println("Archived unit " + unit + " in " + out + ": " + files + " files.");
        text.println("Verdict in it: " + judgement.verdict().word().replace('-', ' ') + ". " + judgement.reason());
        text.println("Digest: " + digest);
        text.println("Not signed yet: 'shiftstand sign " + out + " --key … --role tested-by --name …'.");
    }
}
