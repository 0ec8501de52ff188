package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.shiftstand.quantity.Direction;

/** Reads the text form of {@link SimOptions}; collects every problem before it complains. */
final class SimOptionsText {
    private enum Key {
        SEED("seed", "whole number", "1", "everything random follows from it"),
        START("start", "sprocket", "1", "where the unit stands at first"),
        GATED("gated", "true or false", "true", "sensors powered only around motion"),
        DRIVE("drive", "direct or requests", "requests", "direct: the rig can turn the motor itself"),
        LANDING_SD("landing-sd", "deg", "10.5", "usual spread of landings"),
        NOISE("noise", "counts", "2", "noise of a Hall channel, sd"),
        THIRD_HARMONIC("third-harmonic", "%", "0.4", "of the Hall outputs"),
        WAKE_UP("wake-up", "deg", "10", "most reading error right after power-up"),
        FAULT("fault", "word", "none", "opens a fault; a+b opens several with one address"),
        PAIR("pair", "FROM-TO", "all", "of the fault before: only this pair of sprockets"),
        DIRECTION("direction", "inboard or outboard", "both", "of the fault before"),
        FROM_CYCLE("from-cycle", "cycle", "1", "of the fault before; a cycle opens on leaving sprocket 1"),
        TO_CYCLE("to-cycle", "cycle", "last", "of the fault before"),
        AMOUNT("amount", "number", "see below", "of the fault before, in its unit"),
        RATE("rate", "0…1", "1", "of the fault before: probability for each shift addressed"),
        REPLUG_AFTER("replug-after", "s", "never", "so long after each unplug-at the line is whole again"),
        REBOOT("reboot", "true or false", "false", "the rig boots at each re-plug, its clock at 0"),
        SILENT("silent", "true or false", "false", "the rig never answers"),
        PROTOCOL("protocol", "number", "the right one", "major version that the rig speaks");

        final String word;
        final String form;
        final String usual;
        final String meaning;

        Key(String word, String form, String usual, String meaning) {
            this.word = word;
            this.form = form;
            this.usual = usual;
            this.meaning = meaning;
        }
    }

    private static final Pattern PAIR = Pattern.compile("(\\d{1,3})-(\\d{1,3})");

    private final String text;
    private final List<String> problems = new ArrayList<>();
    private final List<SimFault> faults = new ArrayList<>();
    private int openFaults; // how many of the last faults the address keys speak of

    private long seed = 1;
    private int start = 1;
    private boolean gated = true;
    private double landingSdDeg = 10.5;
    private double noiseCounts = 2;
    private double thirdHarmonic = 0.004;
    private double maxWakeUpDeg = 10;
    private final Map<Mishap, List<Double>> mishaps = new EnumMap<>(Mishap.class);
    private boolean direct;
    private OptionalDouble replugAfterS = OptionalDouble.empty();
    private boolean reboot;
    private boolean silent;
    private int protocol;

    SimOptionsText(String text) {
        this.text = text;
    }

    SimOptions read() {
        if (!text.isBlank()) {
            for (String item : text.split(",", -1)) {
                readItem(item.strip());
            }
        }
        if (!problems.isEmpty()) {
            throw new IllegalArgumentException(String.join("\n", problems));
        }
        return new SimOptions(
                seed,
                start,
                gated,
                direct,
                landingSdDeg,
                noiseCounts,
                thirdHarmonic,
                maxWakeUpDeg,
                faults,
                new SimOptions.Line(mishaps, replugAfterS, reboot, silent, protocol));
    }

    private void readItem(String item) {
        int equals = item.indexOf('=');
        String word = equals < 0 ? item : item.substring(0, equals).strip();
        Optional<Key> key =
                Stream.of(Key.values()).filter(k -> k.word.equals(word)).findFirst();
        Optional<Mishap> mishap =
                Stream.of(Mishap.values()).filter(m -> m.word().equals(word)).findFirst();
        if (key.isEmpty() && mishap.isEmpty()) {
            problems.add("sim: unknown key '" + word + "'; expected one of " + keys() + nearest(word, keyWords()));
        } else if (equals < 0) {
            problems.add("sim: '" + word + "' has no value; expected " + word + "=<"
                    + key.map(k -> k.form).orElse("s") + ">");
        } else {
            String value = item.substring(equals + 1).strip();
            key.ifPresent(k -> take(k, value));
            mishap.ifPresent(
                    m -> mishaps.computeIfAbsent(m, none -> new ArrayList<>()).add(number(word, value, 0, 1e9)));
        }
    }

    private void take(Key key, String value) {
        switch (key) {
            case SEED -> seed = seed(value);
            case START -> start = whole(key, value, 1, 99);
            case GATED -> gated = truth(key, value);
            case LANDING_SD -> landingSdDeg = number(key, value, 0, 1000);
            case NOISE -> noiseCounts = number(key, value, 0, 1000);
            case THIRD_HARMONIC -> thirdHarmonic = number(key, value, 0, 20) / 100;
            case WAKE_UP -> maxWakeUpDeg = number(key, value, 0, 90);
            case FAULT -> openFaults(value);
            case PAIR, DIRECTION, FROM_CYCLE, TO_CYCLE, AMOUNT, RATE -> address(key, value);
            case DRIVE -> direct = direct(value);
            case REPLUG_AFTER -> replugAfterS = OptionalDouble.of(number(key, value, 0, 1e9));
            case REBOOT -> reboot = truth(key, value);
            case SILENT -> silent = truth(key, value);
            case PROTOCOL -> protocol = whole(key, value, 1, 255);
        }
    }

    private void openFaults(String words) {
        openFaults = 0;
        for (String word : words.split("\\+", -1)) {
            Optional<FaultKind> kind = Stream.of(FaultKind.values())
                    .filter(k -> k.word().equals(word.strip()))
                    .findFirst();
            if (kind.isPresent()) {
                faults.add(SimFault.of(kind.get()));
            } else {
                problems.add("sim: unknown fault '" + word + "'; expected one of " + String.join(", ", faultWords())
                        + nearest(word, faultWords()));
                faults.add(SimFault.of(FaultKind.MISSED)); // keeps the place, so that its address is still checked
            }
            openFaults++;
        }
    }

    private void address(Key key, String value) {
        if (openFaults == 0) {
            problems.add("sim: '" + key.word + "=" + value + "' speaks of no fault; expected after a fault=<word>");
            return;
        }
        for (int i = faults.size() - openFaults; i < faults.size(); i++) {
            SimFault f = faults.get(i);
            faults.set(
                    i,
                    switch (key) {
                        case PAIR -> paired(f, value);
                        case DIRECTION -> directed(f, value);
                        case FROM_CYCLE -> f.withCycles(whole(key, value, 0, Integer.MAX_VALUE), f.toCycle());
                        case TO_CYCLE -> f.withCycles(f.fromCycle(), whole(key, value, 0, Integer.MAX_VALUE));
                        case AMOUNT -> f.withAmount(number(key, value, -1e6, 1e6));
                        default -> f.withRate(number(key, value, 0, 1));
                    });
            if (problems.size() > 0 && i < faults.size() - 1) {
                break; // the same value would be reported once for each fault
            }
        }
    }

    private SimFault paired(SimFault fault, String value) {
        Matcher m = PAIR.matcher(value);
        if (!m.matches()) {
            problems.add("sim: pair=" + value + " is no pair; expected FROM-TO, such as pair=4-5");
            return fault;
        }
        return fault.withPair(Integer.parseInt(m.group(1)), Integer.parseInt(m.group(2)));
    }

    private SimFault directed(SimFault fault, String value) {
        Optional<Direction> direction = Stream.of(Direction.values())
                .filter(d -> d.word().equals(value))
                .findFirst();
        if (direction.isEmpty()) {
            problems.add("sim: direction=" + value + " is unknown; expected inboard or outboard"
                    + nearest(value, List.of("inboard", "outboard")));
            return fault;
        }
        return fault.withDirection(direction.get());
    }

    private long seed(String value) {
        try {
            return Long.parseLong(value);
        } catch (NumberFormatException e) {
            problems.add("sim: seed=" + value + " is no whole number; expected such as seed=7");
            return 0;
        }
    }

    private int whole(Key key, String value, int least, int most) {
        try {
            int n = Integer.parseInt(value);
            if (n >= least && n <= most) {
                return n;
            }
        } catch (NumberFormatException e) {
            // told below, with the range
        }
        problems.add("sim: " + key.word + "=" + value + " is out of range; expected a whole number, at least " + least
                + (most == Integer.MAX_VALUE ? "" : ", at most " + most));
        return least;
    }

    private double number(Key key, String value, double least, double most) {
        return number(key.word, value, least, most);
    }

    private double number(String word, String value, double least, double most) {
        try {
            double x = Double.parseDouble(value);
            if (x >= least && x <= most && !value.endsWith("d") && !value.endsWith("f")) {
                return x;
            }
        } catch (NumberFormatException e) {
            // told below, with the range
        }
        problems.add("sim: " + word + "=" + value + " is out of range; expected a number from " + plain(least) + " to "
                + plain(most));
        return least;
    }

    private boolean direct(String value) {
        if (!value.equals("direct") && !value.equals("requests")) {
            problems.add("sim: drive=" + value + " is unknown; expected direct or requests"
                    + nearest(value, List.of("direct", "requests")));
        }
        return value.equals("direct");
    }

    private boolean truth(Key key, String value) {
        if (!value.equals("true") && !value.equals("false")) {
            problems.add("sim: " + key.word + "=" + value + " is unknown; expected true or false");
        }
        return value.equals("true");
    }

    private static String plain(double x) {
        return x == StrictMath.rint(x) ? Long.toString((long) x) : Double.toString(x);
    }

    private static List<String> keyWords() {
        return Stream.concat(
                        Stream.of(Key.values()).map(k -> k.word),
                        Stream.of(Mishap.values()).map(Mishap::word))
                .toList();
    }

    private static String keys() {
        return String.join(", ", keyWords());
    }

    private static List<String> faultWords() {
        return Stream.of(FaultKind.values()).map(FaultKind::word).toList();
    }

    /** The nearest words, if any is near: at most a third of the letters differ. */
    private static String nearest(String word, List<String> words) {
        List<String> near = words.stream()
                .filter(w ->
                        distance(word, w) <= Math.max(1, w.length() / 3) || (w.startsWith(word) && word.length() > 2))
                .sorted(java.util.Comparator.comparingInt(w -> distance(word, w)))
                .limit(2)
                .toList();
        return near.isEmpty()
                ? ""
                : ". Did you mean " + near.stream().map(w -> "'" + w + "'").collect(Collectors.joining(" or ")) + "?";
    }

    /** Levenshtein distance. */
    private static int distance(String a, String b) {
        int[] row = new int[b.length() + 1];
        for (int j = 0; j < row.length; j++) {
            row[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int cost = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
                int best = Math.min(Math.min(row[j], row[j - 1]) + 1, diagonal + cost);
                diagonal = row[j];
                row[j] = best;
            }
        }
        return row[b.length()];
    }

    static String help() {
        StringBuilder out = new StringBuilder(
                "Keys, separated by commas; the same go into --rig, as in sim:seed=7,fault=ringing,pair=4-5\n");
        for (Key k : Key.values()) {
            out.append(String.format(Locale.ROOT, "  %-16s %s (%s; default %s)%n", k.word, k.meaning, k.form, k.usual)
                    .replace(System.lineSeparator(), "\n"));
        }
        out.append("Mishaps of rig and line, at so many seconds from its start; each may be repeated\n");
        for (Mishap m : Mishap.values()) {
            out.append(String.format(Locale.ROOT, "  %-18s %s%n", m.word(), m.meaning())
                    .replace(System.lineSeparator(), "\n"));
        }
        out.append("Faults of the unit, with the usual amount\n");
        for (FaultKind f : FaultKind.values()) {
            String amount = f.unit().isEmpty() ? "no amount" : plain(f.usual()) + " " + f.unit();
            out.append(String.format(Locale.ROOT, "  %-18s %s (%s)%n", f.word(), f.meaning(), amount)
                    .replace(System.lineSeparator(), "\n"));
        }
        return out.toString();
    }
}
