package org.shiftstand.archive;

import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.Finding.Kind;

/** What holds for the entries of every packed bag: one folder on top, in the order of their paths, not too many. */
final class PackedEntries {
    private final String bag;
    private final BagLimits limits;
    private final List<Finding> findings;
    private @Nullable String top;
    private String last = "";
    private int count;

    PackedEntries(String bag, BagLimits limits, List<Finding> findings) {
        this.bag = bag;
        this.limits = limits;
        this.findings = findings;
    }

    /** The folder on top, once an entry was seen. */
    String top() {
        return top == null ? "" : top;
    }

    /** The path in the bag; empty where it is none, which was told. */
    Optional<String> path(String name) throws Gzip.Bomb {
        if (++count > limits.files()) {
            throw new Gzip.Bomb("has more than " + limits.files() + " entries");
        }
        int slash = name.indexOf('/');
        String first = slash < 0 ? "" : name.substring(0, slash);
        String path = name.substring(slash + 1);
        Optional<Finding> wrong = BagPath.wrong(name).or(() -> BagPath.wrong(path));
        if (wrong.isPresent()) {
            findings.add(wrong.get());
            return Optional.empty();
        }
        if (top == null) {
            top = first;
        }
        if (first.isEmpty() || !first.equals(top)) {
            findings.add(new Finding(BagPath.shown(name), Kind.EXTRA, "lies outside of the folder " + top()));
            return Optional.empty();
        }
        if (path.compareTo(last) <= 0) {
            findings.add(new Finding(path, Kind.FORM, "is not in its place: entries are sorted by path, each once"));
        }
        last = path;
        return Optional.of(path);
    }

    /** An entry that is no file. */
    void noFile(String name, String what) {
        findings.add(new Finding(BagPath.shown(name), Kind.LINK, "is " + what + "; it was not unpacked"));
    }

    /** The container is not as it would have been written. */
    void differs() {
        findings.add(new Finding(
                bag,
                Kind.CHANGED,
                "bytes between its files (headers, times, modes, padding) are not those that the archive was written"
                        + " with"));
    }
}
