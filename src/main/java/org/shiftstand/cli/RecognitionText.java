package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.capture.ColumnFrom;
import org.shiftstand.capture.Dialect;
import org.shiftstand.capture.Recognition;
import org.shiftstand.capture.Recognition.Finding;
import org.shiftstand.capture.TimeFrom;

/** Says what was recognised, for people. */
final class RecognitionText {
    private RecognitionText() {}

    static List<String> of(Recognition recognition) {
        List<String> lines = new ArrayList<>();
        lines.add("Layout");
        recognition.layout().forEach(line -> lines.add("  " + line));
        lines.add("");
        lines.add("Columns");
        for (Finding finding : recognition.findings()) {
            lines.add("  " + shown(finding.column()) + ": " + finding.use());
            for (String because : finding.because().split("; ", -1)) {
                if (!because.isEmpty()) {
                    lines.add("      " + because);
                }
            }
        }
        if (!recognition.notes().isEmpty()) {
            lines.add("");
            recognition.notes().forEach(note -> lines.add("note: " + note));
        }
        return lines;
    }

    private static String shown(String column) {
        String plain = column.replaceAll("\\p{Cntrl}", "?");
        return "'" + (plain.length() <= 60 ? plain : plain.substring(0, 60) + "…") + "'";
    }

    /** What must be told, for standard error. */
    static List<String> questions(Path file, Recognition recognition) {
        List<String> lines = new ArrayList<>();
        for (Recognition.Question question : recognition.questions()) {
            lines.add(file + ": not recognised: " + question.what() + ". Tell it with");
            question.options().forEach(option -> lines.add("    " + option));
        }
        lines.add("Nothing was written.");
        return lines;
    }

    /** What is known of a capture that is read by a mapping. */
    static Recognition byMapping(Dialect dialect, long samples) {
        List<Finding> findings = new ArrayList<>();
        String told = "the mapping " + dialect.name() + " says so";
        dialect.time().match(new TimeFrom.Cases<Boolean>() {
            @Override
            public Boolean numbers(TimeFrom.Numbers from) {
                return findings.add(new Finding(from.column(), "time_s", told));
            }

            @Override
            public Boolean stamps(TimeFrom.Stamps from) {
                return findings.add(new Finding(from.column(), "time_s", told));
            }

            @Override
            public Boolean counted(TimeFrom.Counted from) {
                return findings.add(new Finding(from.column().orElse("rows"), "time_s", told));
            }
        });
        dialect.columns().forEach((use, from) -> add(findings, use, from, told));
        return new Recognition(
                Optional.of(dialect),
                false,
                List.of("delimiter " + dialect.format().delimiter().word() + ", decimal "
                        + dialect.format().decimal().word() + ": " + told),
                findings,
                List.of(),
                List.of(),
                samples);
    }

    private static void add(List<Finding> findings, String use, ColumnFrom from, String told) {
        findings.add(new Finding(from.column(), use, told));
        from.minus().ifPresent(minus -> findings.add(new Finding(minus, use + ", subtracted", told)));
    }

    /** Evidence for the head of a mapping file. */
    static List<String> evidence(Path file, Recognition recognition) {
        List<String> lines = new ArrayList<>();
        lines.add("Recognised from " + file.getFileName() + "; check it, then use it with --mapping.");
        lines.addAll(recognition.layout());
        recognition.findings().forEach(f -> lines.add(shown(f.column()) + ": " + f.use() + "; " + f.because()));
        return lines;
    }

    /** What to do next. */
    static List<String> next(
            Path file, Optional<Recognition> recognition, Dialect dialect, Optional<Path> written, boolean dryRun) {
        List<String> lines = new ArrayList<>();
        if (!dryRun) {
            written.ifPresent(path -> lines.add("Plain capture: " + path));
            dialect.periodsPerTurn()
                    .ifPresent(n -> lines.add(
                            "note: a plain capture does not say it: measure it with --periods-per-turn " + n));
        } else if (recognition.filter(Recognition::plain).isPresent()) {
            lines.add("This is a plain capture: it needs no mapping. Next: shiftstand measure " + file);
        } else {
            written.ifPresent(path -> {
                lines.add("Mapping: " + path);
                lines.add("Next: shiftstand measure " + file + " --mapping " + path);
            });
        }
        return lines;
    }
}
