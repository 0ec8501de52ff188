package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.shiftstand.document.Problem;
import org.shiftstand.judge.Judgement;
import org.shiftstand.report.JsonWriter;
import org.shiftstand.spec.Verdict;

/** What became of the files of a folder, a line each, and how many there are of each kind. */
final class JudgedFiles {
    private final List<One> all = new ArrayList<>();

    /**
     * One file.
     *
     * @param verdict empty where it could not be judged; then there are problems
     */
    record One(Path file, Optional<Verdict> verdict, Optional<String> unit, String reason, List<Problem> problems) {
        static One judged(Path file, Judgement judgement) {
            return new One(file, Optional.of(judgement.verdict()), judgement.unit(), judgement.reason(), List.of());
        }

        static One notJudged(Path file, List<Problem> problems) {
            return new One(file, Optional.empty(), Optional.empty(), "see below", List.copyOf(problems));
        }

        private String word() {
            return verdict.map(Summary::word).orElse("NOT JUDGED");
        }
    }

    void add(One one) {
        all.add(one);
    }

    static void print(One one, PrintWriter out) {
        out.println(
                PlainText.ofLines(String.format(Locale.ROOT, "%-10s  %s  %s", one.word(), one.file(), one.reason())));
        out.flush();
    }

    /** How many of each; what was wrong with files goes to standard error, once where several share it. */
    void printEnd(PrintWriter out, PrintWriter err) {
        String counts = Stream.concat(
                        Stream.of(Verdict.values()).map(v -> count(of(Optional.of(v)), Summary.word(v))),
                        Stream.of(count(of(Optional.empty()), "NOT JUDGED")))
                .flatMap(Optional::stream)
                .collect(Collectors.joining(", "));
        out.println();
        out.println(all.size() + (all.size() == 1 ? " file: " : " files: ") + counts);
        out.flush();
        printProblems(err);
    }

    void printProblems(PrintWriter err) {
        Set<String> told = new LinkedHashSet<>();
        all.forEach(one -> one.problems().forEach(problem -> told.add(problem.toString())));
        told.forEach(problem -> err.println(PlainText.ofLines(problem)));
    }

    /** As JSON, format 1; what a file has not is {@code null}. */
    void json(Appendable out) {
        JsonWriter json = new JsonWriter(out);
        json.object().field("format", 1).array("files");
        for (One one : all) {
            json.object()
                    .field("file", one.file().toString())
                    .field("verdict", one.verdict().map(Verdict::word))
                    .field("unit", one.unit())
                    .field("reason", one.verdict().map(v -> one.reason()));
            json.texts(
                    "problems", one.problems().stream().map(Problem::toString).toList());
            json.endObject();
        }
        json.endArray().endObject().end();
    }

    /** A unit that fails weighs most, then a file that could not be judged, then one without a verdict. */
    int exitCode() {
        if (of(Optional.of(Verdict.FAIL)) > 0) {
            return ExitCode.FAIL;
        }
        if (of(Optional.empty()) > 0) {
            return ExitCode.BAD_INPUT;
        }
        return of(Optional.of(Verdict.NO_VERDICT)) > 0 ? ExitCode.NO_VERDICT : ExitCode.DONE;
    }

    private long of(Optional<Verdict> verdict) {
        return all.stream().filter(one -> one.verdict().equals(verdict)).count();
    }

    private static Optional<String> count(long n, String word) {
        return n == 0 ? Optional.empty() : Optional.of(n + " " + word);
    }
}
