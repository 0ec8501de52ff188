package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.capture.HeaderWord.Meaning;
import org.shiftstand.capture.Recognition.Finding;
import org.shiftstand.capture.Recognition.Question;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * Puts a dialect together from what a survey saw: what the user said first, then what headers say, then what values show.
 * Where two readings are left, it asks.
 */
final class Recogniser {
    private final String file;
    private final String name;
    private final Survey survey;
    private final Answers answers;
    private final Map<Integer, Finding> findings = new LinkedHashMap<>();
    private final List<String> notes = new ArrayList<>();
    private final List<Question> questions = new ArrayList<>();
    private final Map<String, ColumnFrom> columns = new LinkedHashMap<>();

    Recogniser(String file, String name, Survey survey, Answers answers) {
        this.file = file;
        this.name = name;
        this.survey = survey;
        this.answers = answers;
    }

    Recognition recognise() {
        checkAnswers();
        if (survey.rows() < 2) {
            throw bad("has " + survey.rows() + (survey.rows() == 1 ? " sample" : " samples")
                    + "; expected at least two, a motion needs hundreds. Check that the logger ran.");
        }
        Optional<TimeFrom> time = new TimeColumn(this).find();
        new HallColumns(this).find();
        new OtherColumns(this).find();
        survey.layout().open().ifPresent(this::marks);
        for (int i = 0; i < all().size(); i++) {
            if (!isTaken(i)) {
                found(i, "not used", new OtherColumns(this).whyNot(i));
            }
        }
        List<String> aside = all().stream()
                .filter(c -> isAside(all().indexOf(c)) && c.isNumeric())
                .map(c -> "'" + CsvHeader.shown(c.name) + "'")
                .toList();
        if (!aside.isEmpty()) {
            notes.add(String.join(", ", aside)
                    + " not used: a column that you know is named by --column current_a=HEADER, "
                    + "and so are supply_v, hall_power, window and request");
        }
        if (answers.periodsPerTurn().isEmpty()) {
            notes.add("the magnet is taken for one with one period a turn, which no capture tells; of two periods, add"
                    + " --periods-per-turn 2");
        }
        Optional<Dialect> dialect = questions.isEmpty()
                ? Optional.of(new Dialect(
                        name, survey.layout().format(), time.orElseThrow(), columns, answers.periodsPerTurn()))
                : Optional.empty();
        return new Recognition(
                dialect,
                dialect.filter(this::isPlain).isPresent(),
                survey.layout().because(),
                inOrder(),
                notes,
                questions,
                survey.rows());
    }

    /** Whether marks are decimals or thousands is no question where only Hall outputs have them, and all of theirs do. */
    private void marks(Layout.Open open) {
        boolean same = true;
        for (int i = 0; i < all().size(); i++) {
            ColumnSurvey column = all().get(i);
            Finding finding = findings.get(i);
            boolean hall = finding != null
                    && finding.use().startsWith("hall_")
                    && !finding.use().startsWith("hall_power");
            same &= column.decimals == 0 || isAside(i) || (hall && column.leastDecimals == 3 && column.decimals == 3);
        }
        if (same) {
            notes.add(
                    "the marks in the Hall outputs may set off decimals or thousands; they are read as decimals, and the angle"
                            + " is the same");
        } else {
            questions.add(new Question(open.what(), open.options()));
        }
    }

    private boolean isAside(int column) {
        Finding finding = findings.get(column);
        return finding == null || finding.use().equals("not used");
    }

    private List<Finding> inOrder() {
        List<Finding> inOrder = new ArrayList<>();
        for (int i = 0; i < all().size(); i++) {
            inOrder.add(findings.getOrDefault(i, new Finding(all().get(i).name, "not used", "")));
        }
        return inOrder;
    }

    private void checkAnswers() {
        List<Problem> problems = new ArrayList<>();
        List<String> names = all().stream().map(c -> c.name).toList();
        for (Map<String, String> said : List.of(answers.columns(), answers.minus())) {
            for (Map.Entry<String, String> entry : new java.util.TreeMap<>(said).entrySet()) {
                if (!names.contains(entry.getValue())) {
                    problems.add(new Problem(
                            file,
                            survey.layout().heading().line(),
                            1,
                            "no column '" + CsvHeader.shown(entry.getValue()) + "' for " + entry.getKey()
                                    + "; expected one of "
                                    + CsvHeader.shown(String.join(", ", names)) + "."
                                    + Nearest.hint(entry.getValue(), names)));
                }
            }
        }
        for (String header : names.stream().distinct().toList()) {
            if (names.indexOf(header) != names.lastIndexOf(header)) {
                problems.add(new Problem(
                        file,
                        survey.layout().heading().line(),
                        1,
                        "the header '" + CsvHeader.shown(header) + "' stands twice (fields "
                                + (names.indexOf(header) + 1) + " and " + (names.lastIndexOf(header) + 1)
                                + "); expected each name once. Rename one of them."));
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    private BadInput bad(String text) {
        return new BadInput(new Problem(file, 0, 0, text));
    }

    private boolean isPlain(Dialect dialect) {
        Dialect.Format format = dialect.format();
        boolean time = dialect.time().equals(new TimeFrom.Numbers(Column.TIME.header(), TimeFrom.TimeUnit.S, false));
        return time
                && format.delimiter() == Dialect.Delimiter.COMMA
                && format.decimal() == Dialect.DecimalMark.POINT
                && format.grouping() == Dialect.Grouping.NONE
                && format.header()
                && survey.layout().heading().units().isEmpty()
                && survey.layout().preamble().stream().allMatch(line -> line.startsWith("#"))
                && dialect.periodsPerTurn().isEmpty()
                && dialect.columns().entrySet().stream()
                        .allMatch(e -> e.getValue().equals(ColumnFrom.of(e.getKey())));
    }

    List<ColumnSurvey> all() {
        return survey.columns();
    }

    Survey survey() {
        return survey;
    }

    Answers answers() {
        return answers;
    }

    boolean isTaken(int column) {
        return findings.containsKey(column);
    }

    void found(int column, String use, String because) {
        findings.put(column, new Finding(all().get(column).name, use, because));
    }

    void note(String text) {
        notes.add(text);
    }

    void ask(String what, List<String> options) {
        questions.add(new Question(what, options));
    }

    void take(Column column, ColumnFrom from) {
        columns.put(column.header(), from);
    }

    /** Where the user said a column is; empty where nothing was said. */
    OptionalInt said(Column column) {
        return place(answers.columns().get(column.header()));
    }

    OptionalInt saidMinus(Column column) {
        return place(answers.minus().get(column.header()));
    }

    private OptionalInt place(@org.jspecify.annotations.Nullable String header) {
        for (int i = 0; i < all().size(); i++) {
            if (all().get(i).name.equals(header)) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }

    /** Free columns whose header has this meaning; only the plain name where it is among them. */
    List<Integer> named(Meaning meaning, boolean negative) {
        List<Integer> named = new ArrayList<>();
        for (int i = 0; i < all().size(); i++) {
            HeaderWord word = all().get(i).word;
            if (!isTaken(i) && word.meaning() == meaning && word.negative() == negative) {
                named.add(i);
            }
        }
        List<Integer> plain = named.stream()
                .filter(i -> Column.named(all().get(i).name).isPresent())
                .toList();
        return plain.size() == 1 ? plain : named;
    }

    /** Options that give each of these columns the use. */
    List<String> choices(Column column, List<Integer> of) {
        return of.stream().map(i -> choice(column, i)).toList();
    }

    String choice(Column column, int i) {
        String text = column.header() + "=" + all().get(i).name;
        return "--column " + (text.matches("[A-Za-z0-9_=.+-]+") ? text : "'" + text.replace("'", "'\\''") + "'");
    }
}
