package org.shiftstand.archive.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.KeptTexts;
import org.shiftstand.judge.NamedTexts.Role;

/** The run in an unpacked bag, to be judged as it was. Close it after the track of a judgement is no longer used. */
public final class ArchivedRun implements AutoCloseable {
    private final JudgeInput input;
    private final KeptTexts texts;
    private final AsJudged said;

    private ArchivedRun(JudgeInput input, KeptTexts texts, AsJudged said) {
        this.input = input;
        this.texts = texts;
        this.said = said;
    }

    /**
     * Opens it; blocks while a capture is read.
     *
     * @param bag the unpacked bag
     * @param scratch a folder that the samples are copied to, under the name that they had
     * @throws BadInput where the bag lacks what is needed, or its samples cannot be read
     */
    public static ArchivedRun open(Path bag, Path scratch) throws IOException {
        JudgingJson how = JudgingJson.read(Files.readAllBytes(needed(bag, BagNames.JUDGING)));
        AsJudged said = said(how, bag);
        KeptTexts texts = texts(how, bag);
        return new ArchivedRun(JudgeInput.open(samples(bag, how, scratch), said.csv()), texts, said);
    }

    /** Judges it by the texts and options that it was judged by. */
    public Judged judge() {
        return Judge.judge(input.source(), input.assemble(texts, said.options()));
    }

    /** Its samples. */
    public SampleSource source() {
        return input.source();
    }

    @Override
    public void close() {
        input.close();
    }

    /** Under the name that they had, which a result repeats. */
    private static Path samples(Path bag, JudgingJson how, Path scratch) throws IOException {
        if (!List.of(BagNames.RECORD, BagNames.CAPTURE, BagNames.CAPTURE_PACKED).contains(how.source())) {
            throw bad(
                    BagNames.JUDGING,
                    "names '" + how.source() + "' as its samples; expected " + BagNames.RECORD + ", " + BagNames.CAPTURE
                            + " or " + BagNames.CAPTURE_PACKED);
        }
        Path folder = Files.createDirectory(scratch.resolve("samples"));
        Path file = folder.resolve(how.sourceName());
        Files.copy(needed(bag, how.source()), file);
        Path log = bag.resolve(BagNames.RECORD_LOG);
        if (Files.exists(log)) {
            Files.copy(log, file.resolveSibling(file.getFileName() + "-wal"));
        }
        return file;
    }

    private static AsJudged said(JudgingJson how, Path bag) {
        AsJudged said = how.said();
        return new AsJudged(
                said.unit(),
                said.sense(),
                said.firstSprocket(),
                said.bandDeg(),
                said.periodsPerTurn(),
                said.columns(),
                said.scales(),
                how.mapping().map(kept -> text(bag, kept)));
    }

    private static KeptTexts texts(JudgingJson how, Path bag) {
        Map<Role, TextFile> texts = new EnumMap<>(Role.class);
        how.texts().forEach((role, kept) -> texts.put(role, text(bag, kept)));
        return new KeptTexts(texts);
    }

    /** A text under the name that it had; it stands nowhere, so that it cannot lead to files of this machine. */
    private static TextFile text(Path bag, JudgingJson.KeptFile kept) {
        if (!kept.path().matches("data/texts/[a-z-]+\\.yaml")) {
            throw bad(BagNames.JUDGING, "names '" + kept.path() + "' as a text; expected one in data/texts");
        }
        return TextFile.of(
                kept.name(),
                TextFile.read(kept.path(), needed(bag, kept.path())).text());
    }

    static Path needed(Path bag, String path) {
        Path file = bag.resolve(path);
        if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
            throw ArchivedRun.bad(
                    path, "is not in this bag, and judging again needs it; was it made by 'shiftstand archive'?");
        }
        return file;
    }

    static BadInput bad(String path, String what) {
        return new BadInput(new Problem(path, 0, 0, what));
    }
}
