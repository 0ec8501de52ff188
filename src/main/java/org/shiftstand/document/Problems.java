package org.shiftstand.document;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Collects what is wrong in one file, so that all of it is told at once. Not thread-safe. */
public final class Problems {
    /** Beyond this nobody reads on, and a hostile file must not fill the memory. */
    private static final int MOST = 50;

    private final String file;
    private final List<Problem> found = new ArrayList<>();
    private int more;

    /** @param file as the user named it */
    public Problems(String file) {
        this.file = file;
    }

    /** The file's name as the user gave it. */
    public String file() {
        return file;
    }

    public void add(Place place, String text) {
        add(new Problem(file, place.line(), place.column(), text));
    }

    public void add(Problem problem) {
        if (found.contains(problem)) {
            return;
        }
        if (found.size() < MOST) {
            found.add(problem);
        } else {
            more++;
        }
    }

    public boolean none() {
        return found.isEmpty();
    }

    /** In the order of their places; those of one place as they were found. */
    public List<Problem> sorted() {
        var sorted = new ArrayList<>(found);
        sorted.sort(Comparator.comparingInt(Problem::line).thenComparingInt(Problem::column));
        if (more > 0) {
            sorted.add(new Problem(file, 0, 0, more + " further problems are not shown; mend these first"));
        }
        return List.copyOf(sorted);
    }

    /**
     * Goes on only where nothing is wrong.
     *
     * @throws BadInput with all problems, where there are any
     */
    public void check() {
        if (!none()) {
            throw new BadInput(sorted());
        }
    }
}
