package org.shiftstand.profile;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** Reads profiles: every problem of a file at once. */
public final class ProfileReader {
    /** More sprockets than any cassette has; a bound so that a slip of the hand is told as one. */
    static final int MOST_SPROCKETS = 64;

    private final Problems problems;
    private final Table root;
    private final String sha256;

    private ProfileReader(TextFile file) {
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a profile");
        this.sha256 = file.sha256();
    }

    /**
     * Finds a profile as the user named it and reads it.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Profile find(String typed) {
        return read(Bundled.find(typed, Bundled.Kind.PROFILE));
    }

    /**
     * Reads a profile.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Profile read(TextFile file) {
        return new ProfileReader(file).profile();
    }

    private Profile profile() {
        root.only(
                "profile",
                "version",
                "title",
                "sprockets",
                "screw-lead",
                "positions",
                "mechanical-limits",
                "hold",
                "overtravel",
                "cassette");
        Optional<String> name =
                root.need("profile", "the profile's name, such as 'tarn-drive'").flatMap(Node::identifier);
        Optional<Integer> version = root.need("version", "a whole number, raised whenever the text changes")
                .flatMap(node -> node.whole(1, 1_000_000));
        root.find("title").ifPresent(node -> node.text("a title in words"));
        Optional<Integer> sprockets =
                root.need("sprockets", "how many sprockets there are").flatMap(node -> node.whole(2, MOST_SPROCKETS));
        Optional<Quantity> lead = root.find("screw-lead").flatMap(node -> node.positive(Dimension.LENGTH));
        Optional<Quantity> hold = root.find("hold").flatMap(node -> node.positive(Dimension.TIME));
        List<Double> positions = positions(sprockets);
        Optional<Table> limits =
                root.find("mechanical-limits").flatMap(node -> node.table("{ outboard: …, inboard: … }"));
        limits.ifPresent(table -> table.only("outboard", "inboard"));
        OptionalDouble outboard = limit(limits, "outboard", positions);
        OptionalDouble inboard = limit(limits, "inboard", positions);
        var overtravel = new OvertravelTable(root, sprockets, positions, outboard, inboard);
        List<Double> inboardDeg = overtravel.inboard();
        List<Double> outboardDeg = overtravel.outboard();
        List<Integer> cassette = cassette(sprockets);
        problems.check();
        return new Profile(
                name.orElseThrow(),
                version.orElseThrow(),
                sprockets.orElseThrow(),
                positions,
                base(lead),
                outboard,
                inboard,
                base(hold),
                inboardDeg,
                outboardDeg,
                cassette,
                sha256);
    }

    private static OptionalDouble base(Optional<Quantity> quantity) {
        return quantity.map(q -> OptionalDouble.of(q.base())).orElse(OptionalDouble.empty());
    }

    /** Ascending, as many as there are sprockets; empty where they cannot be used. */
    private List<Double> positions(Optional<Integer> sprockets) {
        Optional<Node> node =
                root.need("positions", "the nominal landing of each sprocket, such as [0 deg, 712 deg, …]");
        if (node.isEmpty()) {
            return List.of();
        }
        Optional<List<Quantity>> read = node.get().quantities(Dimension.ANGLE);
        if (read.isEmpty()) {
            return List.of();
        }
        List<Quantity> positions = read.get();
        long before = problems.sorted().size();
        sprockets
                .filter(n -> n != positions.size())
                .ifPresent(n -> node.get()
                        .problem("positions has " + positions.size() + " values; expected " + n + ", one a sprocket"));
        List<Node> items = node.get().oneOrMany();
        for (int i = 1; i < positions.size(); i++) {
            if (!(positions.get(i).base() > positions.get(i - 1).base())) {
                items.get(i)
                        .problem("the position of sprocket " + (i + 1) + ", " + positions.get(i)
                                + ", is not beyond that of sprocket " + i + ", " + positions.get(i - 1)
                                + "; expected positions that ascend from the smallest sprocket");
            }
        }
        return problems.sorted().size() > before
                ? List.of()
                : positions.stream().map(Quantity::base).toList();
    }

    private static OptionalDouble limit(Optional<Table> limits, String side, List<Double> positions) {
        Optional<Node> node = limits.flatMap(table -> table.find(side));
        Optional<Quantity> limit = node.flatMap(n -> n.quantity(Dimension.ANGLE));
        if (limit.isPresent() && !positions.isEmpty()) {
            boolean outboard = side.equals("outboard");
            int sprocket = outboard ? 1 : positions.size();
            double position = positions.get(sprocket - 1);
            if (outboard ? limit.get().base() >= position : limit.get().base() <= position) {
                node.get()
                        .problem("the " + side + " limit, " + limit.get()
                                + ", is not outside the positions; expected it "
                                + (outboard ? "below" : "above") + " that of sprocket " + sprocket + ", "
                                + new Quantity(position, Unit.DEG));
            }
        }
        return base(limit);
    }

    private List<Integer> cassette(Optional<Integer> sprockets) {
        Optional<Node> node = root.find("cassette");
        if (node.isEmpty()) {
            return List.of();
        }
        List<Node> items = node.get().items("the tooth count of each sprocket, such as [11, 12, 13]");
        var teeth = new ArrayList<Integer>();
        items.forEach(item -> item.whole(5, 200).ifPresent(teeth::add));
        if (teeth.size() < items.size() || items.isEmpty()) {
            return List.of();
        }
        sprockets
                .filter(n -> n != teeth.size())
                .ifPresent(n -> node.get()
                        .problem("cassette has " + teeth.size() + " tooth counts; expected " + n + ", one a sprocket"));
        for (int i = 1; i < teeth.size(); i++) {
            if (teeth.get(i) <= teeth.get(i - 1)) {
                items.get(i)
                        .problem("sprocket " + (i + 1) + " has " + teeth.get(i) + " teeth, not more than sprocket " + i
                                + "; expected tooth counts that ascend from the smallest sprocket");
            }
        }
        return teeth;
    }
}
