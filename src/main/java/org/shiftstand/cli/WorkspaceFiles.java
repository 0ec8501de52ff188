package org.shiftstand.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.planning.cassette.CassettePlanner;
import org.shiftstand.planning.cassette.CassetteWish;
import org.shiftstand.planning.cassette.ObservedSpread;
import org.shiftstand.planning.cassette.OvertravelRule;
import org.shiftstand.planning.cassette.PlannedCassette;
import org.shiftstand.planning.cassette.Room;
import org.shiftstand.planning.cassette.RoomRule;
import org.shiftstand.planning.cassette.Spacing;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

/**
 * The texts of a new workspace. Ten sprockets have the figures of the packed Tarn drive; other counts are laid over its travel
 * as {@code cassette} does, and the profile's comments say so.
 */
final class WorkspaceFiles {
    static final String NEXT = "NEXT.md";

    private static final String PROCEDURE = "end-of-line" + Workspace.PROCEDURE;

    /** Room that the example bounds leave to either side of a nominal overtravel, degrees. */
    private static final int ROOM_DEG = 60;

    /** Overtravel below the settle band cannot be told from none. */
    private static final int BAND_DEG = 20;

    private static final int WIDTH = 110;

    private final WorkspaceWish wish;
    private final List<Long> positions;
    private final List<Long> inboard;
    private final List<Long> outboard;
    private final String derived;

    private WorkspaceFiles(WorkspaceWish wish) {
        this.wish = wish;
        Profile tarn = ProfileReader.find(Bundles.TARN_DRIVE);
        PlannedCassette laid = laid(tarn, wish.sprockets());
        positions = whole(laid.positionsDeg());
        inboard = whole(laid.overtravelInboardDeg());
        outboard = whole(laid.overtravelOutboardDeg());
        derived = wish.sprockets() == tarn.sprockets() ? "." : derived(tarn, laid);
    }

    /** File names, in the order to be read, with their texts. */
    static Map<String, String> of(WorkspaceWish wish) {
        return new WorkspaceFiles(wish).files();
    }

    private Map<String, String> files() {
        Map<String, String> words = words();
        Map<String, String> files = new LinkedHashMap<>();
        files.put(profile(), filled("profile.yaml", words));
        files.put(spec(), filled("spec.yaml", words));
        files.put(PROCEDURE, filled("procedure.yaml", words));
        files.put(rig(), filled("rig.yaml", words));
        files.put(NEXT, filled("NEXT.md", words));
        return files;
    }

    private String profile() {
        return wish.name() + Workspace.PROFILE;
    }

    private String spec() {
        return wish.name() + "-end-of-line" + Workspace.SPEC;
    }

    private String rig() {
        return wish.rig() + Workspace.RIG;
    }

    private static PlannedCassette laid(Profile tarn, int sprockets) {
        CassetteWish wanted = new CassetteWish(
                List.of(CassetteWish.Wanted.keepingEnds(sprockets)),
                OptionalDouble.empty(),
                Spacing.MEASURED,
                OvertravelRule.KEPT,
                ObservedSpread.unknown(),
                RoomRule.USUAL);
        return CassettePlanner.plan(tarn, wanted).planned().get(0);
    }

    private static String derived(Profile tarn, PlannedCassette laid) {
        String said = ",\n# laid over the same travel for " + laid.sprockets()
                + " sprockets: between its positions, with both ends kept and its overtravel as it is"
                + ".\n# What that takes for granted: shiftstand cassette " + tarn.name() + " --sprockets "
                + laid.sprockets();
        return laid.room() == Room.NO_ROOM
                ? said
                        + "\n# It leaves NO ROOM by the rule of that command: some overtravel goes more than half way to the"
                        + " next sprocket."
                : said;
    }

    private Map<String, String> words() {
        Map<String, String> words = new LinkedHashMap<>();
        words.put("name", wish.name());
        words.put("sprockets", String.valueOf(wish.sprockets()));
        words.put("before", String.valueOf(wish.sprockets() - 1));
        words.put("port", wish.port());
        words.put("rig", wish.rig());
        words.put("profile", profile());
        words.put("spec", spec());
        words.put("procedure", PROCEDURE);
        words.put("rigFile", rig());
        words.put("derived", derived);
        words.put("positions", degrees(positions, 3));
        words.put("inboard", degrees(inboard, 5));
        words.put("outboard", degrees(outboard, 5));
        words.put("overtravel", overtravelClauses());
        long widest = 0;
        for (int i = 1; i < positions.size(); i++) {
            widest = Math.max(widest, positions.get(i) - positions.get(i - 1));
        }
        // the Tarn drive's bounds, longer where sprockets lie farther apart than its own 780 deg
        double longer = Math.max(0, widest - 780) / 780.0;
        words.put("travel", toTens(300 + 300 * longer) + " ms");
        words.put("settle", toTens(1400 + 300 * longer) + " ms");
        return words;
    }

    private static long toTens(double value) {
        return Math.round(value / 10) * 10;
    }

    /** A clause for each stretch of sprockets whose overtravel is alike, for either direction. */
    private String overtravelClauses() {
        StringBuilder text = new StringBuilder();
        for (boolean in : new boolean[] {true, false}) {
            int sprocket = in ? 2 : 1;
            while (sprocket <= (in ? wish.sprockets() : wish.sprockets() - 1)) {
                int last = alike(in, sprocket);
                text.append(clause(in, sprocket, last)).append('\n');
                sprocket = last + 1;
            }
        }
        return text.toString().stripTrailing() + "\n";
    }

    private int alike(boolean in, int first) {
        int end = in ? wish.sprockets() : wish.sprockets() - 1;
        long least = nominal(in, first);
        long most = least;
        int last = first;
        while (last < end) {
            long next = nominal(in, last + 1);
            if (next > 0 != least > 0 || Math.max(most, next) - Math.min(least, next) > ROOM_DEG) {
                return last;
            }
            least = Math.min(least, next);
            most = Math.max(most, next);
            last++;
        }
        return last;
    }

    private String clause(boolean in, int first, int last) {
        long least = Long.MAX_VALUE;
        long most = 0;
        for (int sprocket = first; sprocket <= last; sprocket++) {
            least = Math.min(least, nominal(in, sprocket));
            most = Math.max(most, nominal(in, sprocket));
        }
        boolean none = most == 0;
        long low = none ? -BAND_DEG : Math.max(BAND_DEG, least - ROOM_DEG);
        long high = none ? BAND_DEG : most + ROOM_DEG;
        String direction = in ? "inboard" : "outboard";
        String to = first == last ? String.valueOf(first) : first + ".." + last;
        return String.format(
                Locale.ROOT,
                """
                  - id: overtravel-%s-%s
                    measure: overtravel
                    where: { direction: %s, to: %s }
                    statistic: every
                    per: sprocket
                    between: [%d deg, %d deg]
                    because: %s
                """,
                direction,
                to.replace("..", "-"),
                direction,
                to,
                low,
                high,
                none
                        ? "there these sprockets catch the chain by themselves, and overtravel throws it too far"
                        : "less does not carry the chain, more risks the next sprocket");
    }

    /** The profile's overtravel towards a sprocket. */
    private long nominal(boolean in, int sprocket) {
        return in ? inboard.get(sprocket - 2) : outboard.get(wish.sprockets() - 1 - sprocket);
    }

    private static List<Long> whole(List<Double> degrees) {
        return degrees.stream().map(Math::round).toList();
    }

    private static String degrees(List<Long> values, int indent) {
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder();
        for (int i = 0; i < values.size(); i++) {
            String value = values.get(i) + " deg" + (i + 1 < values.size() ? "," : "");
            if (line.length() + value.length() + 1 > WIDTH) {
                lines.add(line.toString());
                line.setLength(0);
            }
            line.append(line.isEmpty() ? "" : " ").append(value);
        }
        lines.add(line.toString());
        return lines.stream().collect(Collectors.joining("\n" + " ".repeat(indent)));
    }

    private static String filled(String template, Map<String, String> words) {
        String text = template(template);
        for (Map.Entry<String, String> word : words.entrySet()) {
            text = text.replace("${" + word.getKey() + "}", word.getValue());
        }
        Optional<String> left = text.lines().filter(line -> line.contains("${")).findFirst();
        if (left.isPresent()) {
            throw new IllegalStateException(
                    "a word of a template is not known: template=" + template + ", line=" + left);
        }
        return text;
    }

    private static String template(String name) {
        try (InputStream in = WorkspaceFiles.class.getResourceAsStream("workspace/" + name)) {
            if (in == null) {
                throw new IllegalStateException("a template is missing from the program: name=" + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
