package org.shiftstand.record;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/** The sessions of a record as its table states them; checked, since whoever goes on with a record relies on them. */
final class Sessions {
    private static final int MOST = 100_000;

    private final List<Session> all = new ArrayList<>();

    /** Those of a record of version 1: one, from the start. */
    static List<Session> only(RunHeader header) {
        return List.of(new Session(1, 0, 0, header.startUtcMicros(), ""));
    }

    /**
     * Takes the current row.
     *
     * @throws org.shiftstand.document.BadInput where it cannot follow the one before it
     */
    void add(Rows rows) throws SQLException {
        rows.integer();
        Session session = new Session(rows.integer(), rows.integer(), rows.integer(), rows.integer(), rows.text());
        if (all.isEmpty() ? session.firstBlock() != 1 : session.firstBlock() < last().firstBlock()) {
            throw rows.bad("a session that begins at block row " + session.firstBlock() + "; expected "
                    + (all.isEmpty() ? "1" : "none before that of the last, " + last().firstBlock()));
        }
        if (!all.isEmpty() && session.atMicros() < last().atMicros()) {
            throw rows.bad("a session that begins at " + session.atMicros()
                    + " us; expected none before the last one, at " + last().atMicros() + " us");
        }
        if (all.size() == MOST) {
            throw rows.bad("more than " + MOST + " sessions; a run has a handful");
        }
        all.add(session);
    }

    List<Session> all() {
        return List.copyOf(all);
    }

    private Session last() {
        return all.get(all.size() - 1);
    }
}
