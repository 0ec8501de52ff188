package org.shiftstand.archive;

import java.io.IOException;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Names of the files in an archive, as they come: one top folder, safe, sorted, none twice. */
final class EntryNames {
    private final FindingList findings;
    private final int most;
    private final Set<String> folded = new HashSet<>();
    private @Nullable String top;
    private String last = "";
    private int count;

    EntryNames(FindingList findings, BagLimits limits) {
        this.findings = findings;
        this.most = limits.entries();
    }

    /**
     * Takes the next name.
     *
     * @return its path in the bag; empty where it is refused, and a finding says why
     * @throws Stop above the most files a bag may have
     */
    Optional<String> take(String name) throws IOException {
        if (++count > most) {
            throw Stop.bomb("holds more than " + most + " files; reading stopped there");
        }
        Optional<String> problem = MemberPath.problem(name);
        if (problem.isPresent()) {
            findings.add(name, Finding.Kind.ESCAPE, "this name in the archive " + problem.get());
            return Optional.empty();
        }
        return inTop(name).filter(this::fresh);
    }

    private Optional<String> inTop(String name) {
        int slash = name.indexOf('/');
        String first = slash < 0 ? name : name.substring(0, slash);
        if (top == null && slash > 0) {
            top = first;
        }
        if (slash < 0 || !first.equals(top)) {
            findings.add(name, Finding.Kind.EXTRA, "stands outside of the one folder that an archived bag has");
            return Optional.empty();
        }
        if (MemberPath.ORDER.compare(last, name) > 0) {
            findings.add(
                    name, Finding.Kind.FORM, "stands after " + MemberPath.shown(last) + "; files are sorted by path");
        }
        last = name;
        return Optional.of(name.substring(slash + 1));
    }

    private boolean fresh(String path) {
        boolean fresh = folded.add(MemberPath.folded(path));
        if (!fresh) {
            findings.add(
                    path,
                    Finding.Kind.EXTRA,
                    "stands in the archive twice, or beside a name that differs only in case");
        }
        return fresh;
    }

    /** The top folder; empty before the first file. */
    String top() {
        return top == null ? "" : top;
    }
}
