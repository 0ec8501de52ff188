package org.shiftstand.capture;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a header says its column holds, by words that loggers and benches use (common practice, no published source).
 *
 * @param meaning of the words
 * @param negative whether it is the inverse of a differential pair
 * @param unit as written, lower case; empty where none is
 */
record HeaderWord(Meaning meaning, boolean negative, Optional<String> unit) {
    /** What a column may hold. */
    enum Meaning {
        TIME,
        COUNT,
        SIN,
        COS,
        /** First and second of a Hall pair, where it is not said which is the sine. */
        HALL_FIRST,
        HALL_SECOND,
        POWER,
        WINDOW,
        CURRENT,
        SUPPLY,
        REQUEST,
        /** Nothing that is known: the values must tell. */
        UNKNOWN
    }

    private static final Pattern BRACKETS = Pattern.compile("(.*?)[\\s_]*[\\[(]\\s*([^\\])]*?)\\s*[\\])]\\s*");
    private static final Pattern TAIL = Pattern.compile("(.*?)(?:\\s+in\\s+|[\\s_/.,]+)(\\p{L}+)");
    private static final Set<String> UNITS =
            Set.of("s", "sec", "ms", "us", "µs", "μs", "ns", "v", "mv", "a", "ma", "counts", "cnt", "lsb", "raw");

    private record Words(Meaning meaning, Set<String> phrases) {}

    private static final List<Words> KNOWN = List.of(
            new Words(
                    Meaning.TIME,
                    words(
                            "t time times timestamp ts clock epoch unixtime utc datetime elapsed elapsedtime reltime relativetime"
                                    + " timestamputc abstime absolutetime stamp zeit temps sampletime logtime")),
            new Words(
                    Meaning.COUNT,
                    words(
                            "index idx n no nr sample samples sampleno samplenumber samplenr sampleindex count counter row"
                                    + " rownumber point seq sequence")),
            new Words(
                    Meaning.SIN,
                    words(
                            "sin sine sinus hallsin hallsine sinhall sinehall sinraw sinout sinadc adcsin vsin hallvsin encsin"
                                    + " sinsignal hs")),
            new Words(
                    Meaning.COS,
                    words(
                            "cos cosine cosinus hallcos hallcosine coshall cosinehall cosraw cosout cosadc adccos vcos hallvcos"
                                    + " enccos cossignal hc")),
            new Words(
                    Meaning.HALL_FIRST, words("halla hall1 ha h1 hallx hx halladc1 sensora hallch1 hallouta hallout1")),
            new Words(
                    Meaning.HALL_SECOND,
                    words("hallb hall2 hb h2 hally hy halladc2 sensorb hallch2 halloutb hallout2")),
            new Words(
                    Meaning.POWER,
                    words(
                            "hallpower hallpwr hallen hallenable hallon sensorpower sensorpwr sensoren sensorenable sensoron"
                                    + " power pwr en enable poweron hallsupplyon")),
            new Words(Meaning.WINDOW, words("window win windowno powerup wakeup burst wake")),
            new Words(
                    Meaning.CURRENT,
                    words(
                            "current i amp amps ampere amperes curr isupply supplycurrent ibat ibatt batterycurrent imotor"
                                    + " motorcurrent imot drivecurrent iin inputcurrent unitcurrent strom courant shunt")),
            new Words(
                    Meaning.SUPPLY,
                    words("supply vbat vbatt ubat battery batteryvoltage batt vsupply supplyvoltage usupply vcc vdd vin"
                            + " inputvoltage voltage volts volt u v vbus bus busvoltage spannung tension")),
            new Words(
                    Meaning.REQUEST,
                    words("request requests req mark marker shiftrequest shift cmd command requestmark")));

    private static Set<String> words(String all) {
        return Set.of(all.split(" "));
    }

    /**
     * Reads a header.
     *
     * @param unitBelow unit of a row of units below, or empty text
     */
    static HeaderWord of(String header, String unitBelow) {
        Optional<Column> plain = Column.named(header.strip());
        if (plain.isPresent()) {
            return new HeaderWord(meaning(plain.get()), false, unit(plain.get()));
        }
        Optional<String> below = Optional.of(Heading.bare(unitBelow).toLowerCase(Locale.ROOT))
                .filter(u -> !u.isEmpty() && !u.equals("-") && !u.equals("1"));
        String name = header.strip();
        Matcher brackets = BRACKETS.matcher(name);
        if (brackets.matches() && !brackets.group(1).isBlank()) {
            HeaderWord inner = of(brackets.group(1), unitBelow);
            String unit = brackets.group(2).toLowerCase(Locale.ROOT);
            return new HeaderWord(inner.meaning, inner.negative, unit.isEmpty() ? inner.unit : Optional.of(unit));
        }
        String phrase = phrase(name);
        if (UNITS.contains(phrase) && below.isEmpty() && isTime(phrase)) {
            return new HeaderWord(Meaning.TIME, false, Optional.of(phrase));
        }
        for (boolean negative : new boolean[] {false, true}) {
            Optional<Meaning> found = known(signless(phrase, negative));
            if (found.isPresent()) {
                return new HeaderWord(found.get(), negative, below);
            }
        }
        Matcher tail = TAIL.matcher(name);
        if (tail.matches() && UNITS.contains(tail.group(2).toLowerCase(Locale.ROOT))) {
            HeaderWord inner = of(tail.group(1), "");
            return new HeaderWord(
                    inner.meaning, inner.negative, Optional.of(tail.group(2).toLowerCase(Locale.ROOT)));
        }
        return new HeaderWord(byOneWord(name), phrase.endsWith("-"), below);
    }

    private static boolean isTime(String unit) {
        return timeUnit(unit).isPresent() && !unit.equals("s");
    }

    private static Meaning meaning(Column column) {
        return switch (column) {
            case TIME -> Meaning.TIME;
            case SIN -> Meaning.SIN;
            case COS -> Meaning.COS;
            case POWER -> Meaning.POWER;
            case WINDOW -> Meaning.WINDOW;
            case CURRENT -> Meaning.CURRENT;
            case SUPPLY -> Meaning.SUPPLY;
            case REQUEST -> Meaning.REQUEST;
        };
    }

    private static Optional<String> unit(Column column) {
        return switch (column) {
            case TIME -> Optional.of("s");
            case CURRENT -> Optional.of("a");
            case SUPPLY -> Optional.of("v");
            case SIN, COS, POWER, WINDOW, REQUEST -> Optional.empty();
        };
    }

    /** Letters and digits, with a sign at the end where there is one. */
    private static String phrase(String name) {
        String lower = name.toLowerCase(Locale.ROOT);
        String sign = lower.endsWith("+") ? "+" : lower.endsWith("-") || lower.endsWith("−") ? "-" : "";
        return lower.replaceAll("[^\\p{L}\\p{N}]", "") + sign;
    }

    /** The phrase without what makes it the direct or the inverse one of a pair. */
    private static String signless(String phrase, boolean negative) {
        return negative
                ? phrase.replaceAll("(-|minus|neg|inv|bar|n|m)$", "")
                : phrase.replaceAll("(?<=sin|cos|sine|cosine|halla|hallb|hall1|hall2)(plus|pos|p)$|\\+$", "");
    }

    private static Optional<Meaning> known(String phrase) {
        return KNOWN.stream()
                .filter(w -> w.phrases.contains(phrase))
                .map(Words::meaning)
                .findFirst();
    }

    /** One telling word among others: {@code Motor current}, {@code Hall sensor sine output}. */
    private static Meaning byOneWord(String name) {
        List<String> words = Arrays.asList(name.replaceAll("([a-z])([A-Z])", "$1 $2")
                .toLowerCase(Locale.ROOT)
                .split("[^\\p{L}\\p{N}]+"));
        if (words.contains("sin") || words.contains("sine")) {
            return Meaning.SIN;
        }
        if (words.contains("cos") || words.contains("cosine")) {
            return Meaning.COS;
        }
        if (words.contains("current")) {
            return Meaning.CURRENT;
        }
        if (words.contains("timestamp") || words.contains("time") || words.contains("elapsed")) {
            return Meaning.TIME;
        }
        return words.contains("supply") || words.contains("battery") ? Meaning.SUPPLY : Meaning.UNKNOWN;
    }

    /** The unit as one of time. */
    static Optional<TimeFrom.TimeUnit> timeUnit(String unit) {
        return switch (unit) {
            case "s", "sec", "secs", "second", "seconds" -> Optional.of(TimeFrom.TimeUnit.S);
            case "ms", "msec", "millis", "milliseconds" -> Optional.of(TimeFrom.TimeUnit.MS);
            case "us", "µs", "μs", "usec", "micros", "microseconds" -> Optional.of(TimeFrom.TimeUnit.US);
            case "ns", "nsec", "nanos", "nanoseconds" -> Optional.of(TimeFrom.TimeUnit.NS);
            default -> Optional.empty();
        };
    }
}
