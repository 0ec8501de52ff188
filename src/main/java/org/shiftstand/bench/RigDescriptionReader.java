package org.shiftstand.bench;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.bench.RigDescription.Calibration;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.bench.RigDescription.Hall;
import org.shiftstand.bench.RigDescription.Power;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Dates;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads rig descriptions: every problem of a file at once. */
public final class RigDescriptionReader {
    private static final int USUAL_SPEED = 921_600;
    private static final int FASTEST = 12_000_000;
    private static final Pattern COUNTS = Pattern.compile("(-?[0-9]{1,9})\\.\\.(-?[0-9]{1,9})");

    private static final int MOST_TURNS = 64;
    /** Part by which a written ratio may differ from the one that is meant: 0.333 is a third. */
    private static final double AS_WRITTEN = 0.005;

    /** What can be calibrated, and the unit of what is left uncertain. */
    private static final Map<String, Dimension> CALIBRATED = Map.of(
            "angle", Dimension.ANGLE,
            "current", Dimension.CURRENT,
            "supply", Dimension.VOLTAGE,
            "temperature", Dimension.TEMPERATURE,
            "time", Dimension.TIME);

    private final Problems problems;
    private final Table root;
    private final String sha256;

    private RigDescriptionReader(TextFile file) {
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a rig description");
        this.sha256 = file.sha256();
    }

    /**
     * Finds a rig description as the user named it and reads it.
     *
     * @throws BadInput with everything that is wrong
     */
    public static RigDescription find(String typed) {
        return read(Bundled.find(typed, Bundled.Kind.RIG));
    }

    /**
     * Reads a rig description.
     *
     * @throws BadInput with everything that is wrong
     */
    public static RigDescription read(TextFile file) {
        return new RigDescriptionReader(file).description();
    }

    private RigDescription description() {
        root.only(
                "rig",
                "title",
                "link",
                "drive",
                "channels",
                "guards",
                "calibrations",
                "guard",
                "power",
                "uncertainty",
                "study");
        Optional<String> name =
                root.need("rig", "the rig's name, such as 'bench-two'").flatMap(Node::identifier);
        root.find("title").ifPresent(node -> node.text("a title in words"));
        Optional<Table> link = root.find("link").flatMap(node -> node.table("{ port: /dev/ttyACM0, speed: 921600 }"));
        link.ifPresent(table -> table.only("port", "speed"));
        Optional<String> port = link.flatMap(table -> table.need("port", "a serial port such as /dev/ttyACM0"))
                .flatMap(node -> node.text("a serial port such as /dev/ttyACM0"));
        Optional<Integer> speed = link.flatMap(table -> table.find("speed")).flatMap(node -> node.whole(1200, FASTEST));
        Optional<String> drive = root.need("drive", "'requests', or 'direct' where the rig itself commands the motor")
                .flatMap(node -> node.oneOf("drive", List.of("requests", "direct")));
        Optional<Table> channels = root.find("channels").flatMap(node -> node.table("{ hall: {…}, current: {…} }"));
        channels.ifPresent(table -> table.only("hall", "current"));
        Hall hall = channels.flatMap(table -> table.find("hall"))
                .flatMap(RigDescriptionReader::hall)
                .orElse(Hall.USUAL);
        Optional<Quantity> scale =
                channels.flatMap(table -> table.find("current")).flatMap(RigDescriptionReader::scale);
        Optional<Guards> guards = root.need(
                        "guards", "what cuts the supply: current, average-current, on-time, temperature")
                .flatMap(node -> node.table("{ current: 9 A for 20 ms, … }"))
                .flatMap(GuardsReader::read);
        List<Calibration> calibrations = calibrations();
        Optional<String> guard = root.find("guard").flatMap(node -> node.oneOf("guard", List.of("closed", "open")));
        Optional<Power> power = root.find("power")
                .flatMap(node -> node.oneOf(
                        "power", Arrays.stream(Power.values()).map(Power::word).toList()))
                .flatMap(Power::of);
        List<Declared> uncertainties =
                root.find("uncertainty").map(UncertaintyReader::read).orElse(List.of());
        List<StudyResult> studies = root.find("study").map(StudyReader::read).orElse(List.of());
        problems.check();
        return new RigDescription(
                name.orElseThrow(),
                port.orElse(""),
                speed.orElse(USUAL_SPEED),
                drive.orElseThrow(),
                guards.orElseThrow(),
                hall,
                scale.map(q -> OptionalDouble.of(q.base())).orElse(OptionalDouble.empty()),
                calibrations,
                guard.equals(Optional.of("closed")),
                power,
                uncertainties,
                studies,
                sha256);
    }

    private static Optional<Hall> hall(Node node) {
        Optional<Table> table = node.table("{ range: 0..4095, turns-per-cycle: 1 }");
        table.ifPresent(t -> t.only("range", "turns-per-cycle"));
        Optional<int[]> range = table.flatMap(t -> t.find("range"))
                .map(RigDescriptionReader::counts)
                .orElse(Optional.of(new int[] {Hall.USUAL.low(), Hall.USUAL.high()}));
        Optional<Double> turns = table.flatMap(t -> t.find("turns-per-cycle"))
                .map(RigDescriptionReader::turnsPerCycle)
                .orElse(Optional.of(1.0));
        return range.isEmpty() || turns.isEmpty()
                ? Optional.empty()
                : Optional.of(new Hall(range.get()[0], range.get()[1], turns.get()));
    }

    /** A whole number, or 1 over one. */
    private static Optional<Double> turnsPerCycle(Node node) {
        Optional<Quantity> read = node.quantity(Dimension.RATIO);
        if (read.isEmpty()) {
            return Optional.empty();
        }
        double written = read.get().base();
        double whole = Math.rint(written < 1 ? 1 / written : written);
        double meant = written < 1 ? 1 / whole : whole;
        if (whole >= 1 && whole <= MOST_TURNS && Math.abs(written / meant - 1) <= AS_WRITTEN) {
            return Optional.of(meant);
        }
        node.problem("turns-per-cycle is " + read.get()
                + "; expected turns of the shaft in one electrical turn, a whole number from 1 to 64 or 1 over one: 0.5 for a"
                + " magnet of two periods a turn");
        return Optional.empty();
    }

    private static Optional<int[]> counts(Node node) {
        String expected = "a range of counts such as 0..4095";
        Optional<String> text = node.text(expected);
        Matcher range = COUNTS.matcher(text.orElse(""));
        if (range.matches()) {
            int low = Integer.parseInt(range.group(1));
            int high = Integer.parseInt(range.group(2));
            if (low < high && low >= Short.MIN_VALUE && high <= Short.MAX_VALUE) {
                return Optional.of(new int[] {low, high});
            }
        }
        text.ifPresent(t ->
                node.problem("range is '" + t + "'; expected " + expected + ", the smaller first, within 16 bits"));
        return Optional.empty();
    }

    private static Optional<Quantity> scale(Node node) {
        Optional<Table> table = node.table("{ scale: 1.2 mA/count }");
        table.ifPresent(t -> t.only("scale"));
        return table.flatMap(t -> t.find("scale"))
                .flatMap(n -> n.per("count", Dimension.CURRENT, "a current a count, such as '1.2 mA/count'"));
    }

    private List<Calibration> calibrations() {
        var read = new ArrayList<Calibration>();
        if (root.find("calibrations").isPresent()) {
            root.find("calibrations")
                    .get()
                    .items("a list of calibrations")
                    .forEach(item -> item.table("{ what: current, on: 2026-09-14, uncertainty: 0.02 A }")
                            .flatMap(RigDescriptionReader::calibration)
                            .ifPresent(read::add));
        }
        return read;
    }

    private static Optional<Calibration> calibration(Table table) {
        table.only("what", "on", "uncertainty");
        Optional<String> what = table.need("what", "what was calibrated")
                .flatMap(node -> node.oneOf(
                        "calibration", CALIBRATED.keySet().stream().sorted().toList()));
        Optional<LocalDate> on = table.need("on", "a date such as 2026-09-14").flatMap(Dates::day);
        Optional<Quantity> uncertainty = table.need(
                        "uncertainty", "the standard uncertainty that is left, with its unit")
                .flatMap(node -> what.flatMap(w -> node.positive(Objects.requireNonNull(CALIBRATED.get(w)))));
        return what.isEmpty() || on.isEmpty() || uncertainty.isEmpty()
                ? Optional.empty()
                : Optional.of(new Calibration(what.get(), on.get(), uncertainty.get()));
    }
}
