package org.shiftstand.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.Session;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.rig.Continuation;

/**
 * A run that was broken off, as its record tells: what it was to do, where it stood, and how the record is gone on with.
 *
 * @param record its record
 * @param texts exact texts by role
 * @param ended why it was finished early; empty for a record that was never finished
 */
record BrokenOff(
        Path record,
        RunHeader header,
        Map<String, TextFile> texts,
        Optional<String> ended,
        Continuation continuation,
        long samples) {
    /** Identity facts that must not have changed: another rig or firmware is another run. */
    private static final List<String> SAME = List.of("rig", "unit-firmware", "rig-firmware");

    /** Ends of a run that are about the unit and not about bench, line or person. */
    private static final List<String> ENDED_BY_UNIT =
            List.of("stop-when:", "guard:", "over-current", "temperature", "the first shift after the supply came on");

    /**
     * Reads a record to go on with.
     *
     * @throws BadInput where it is none, its script was done, or a guard or stop rule ended it
     */
    static BrokenOff read(Path file) {
        if (!Files.isRegularFile(file)) {
            throw bad(file, "no such record; expected the .run file of a run that was broken off");
        }
        try (RunRecord run = RunRecord.open(file)) {
            if (run.end().equals(Optional.of(""))) {
                throw bad(
                        file,
                        "this run did all of its script; there is nothing to go on with. 'shiftstand judge' judges it");
            }
            Optional<String> guard = run.end().filter(BrokenOff::byTheUnit);
            if (guard.isPresent()) {
                throw bad(
                        file,
                        "this run was ended for what the unit did (" + guard.get()
                                + "), and going on would leave that out; 'shiftstand judge' judges it as it is");
            }
            List<String> missing = new ArrayList<>();
            for (String role : List.of("procedure", "spec", "profile")) {
                if (!run.texts().containsKey(role)) {
                    missing.add(role);
                }
            }
            if (!missing.isEmpty()) {
                throw bad(file, "holds no " + String.join(", no ", missing) + "; a run cannot go on without");
            }
            RunHeader header = run.header();
            Map<String, TextFile> texts = new java.util.TreeMap<>();
            header.texts()
                    .forEach((role, text) ->
                            texts.put(role, TextFile.of(header.textNames().getOrDefault(role, role), text)));
            return new BrokenOff(
                    file,
                    header,
                    Map.copyOf(texts),
                    run.end().filter(reason -> !reason.isEmpty()),
                    continuation(run),
                    run.samples());
        }
    }

    private static boolean byTheUnit(String reason) {
        return ENDED_BY_UNIT.stream().anyMatch(reason::contains);
    }

    private static Continuation continuation(RunRecord run) {
        List<RunRecord.Anchor> anchors = run.anchors();
        RunRecord.Anchor anchor = anchors.isEmpty()
                ? new RunRecord.Anchor(run.lastMicros(), run.header().startUtcMicros())
                : anchors.get(anchors.size() - 1);
        List<Session> sessions = run.sessions();
        long offset = sessions.isEmpty() ? 0 : sessions.get(sessions.size() - 1).offsetMicros();
        // a session may have begun and got no sample; another one never begins before it
        long begun = sessions.isEmpty() ? 0 : sessions.get(sessions.size() - 1).atMicros();
        return new Continuation(
                run.place().map(RunRecord.Place::action).orElse(0),
                Math.max(run.lastMicros(), begun),
                offset,
                anchor.rigMicros(),
                anchor.utcMicros(),
                run.end().map(reason -> "it had ended early: " + reason).orElse("the program or the power had stopped"),
                run.counters());
    }

    /** The folder that the record lies in. */
    Path folder() {
        Path parent = record.getParent();
        return parent == null ? Path.of("") : parent;
    }

    /** The text of a role; those that a run needs are there. */
    TextFile text(String role) {
        return java.util.Objects.requireNonNull(texts.get(role), role);
    }

    /**
     * Where and why it goes on.
     *
     * @param how who goes on with it and by what, for readers of the record
     */
    Continuation continuation(String how) {
        return new Continuation(
                continuation.action(),
                continuation.lastMicros(),
                continuation.offsetMicros(),
                continuation.anchorMicros(),
                continuation.anchorUtcMicros(),
                continuation.cause() + "; gone on with by " + how,
                continuation.counters());
    }

    /** The rig's address as it was given then. */
    Optional<String> address() {
        return Optional.ofNullable(header.identity().get("rig address"));
    }

    /** Whether the record itself may be gone on with; a finished one is sealed, and goes on in a copy. */
    boolean inPlace() {
        return ended.isEmpty();
    }

    /**
     * Opens the record to be continued.
     *
     * @param now what the rig says of itself and its scales
     * @param file where the run goes on: the record itself, or a file that does not exist for a copy
     * @throws BadInput where unit or rig are not what they were
     */
    RunWriter reopen(RunHeader now, Path file) {
        List<String> changed = new ArrayList<>();
        for (String fact : SAME) {
            String was = header.identity().getOrDefault(fact, "not said");
            String is = now.identity().getOrDefault(fact, "not said");
            if (!was.equals(is)) {
                changed.add(fact.replace('-', ' ') + " was '" + was + "' and is '" + is + "'");
            }
        }
        if (now.currentAPerCount() != header.currentAPerCount() || now.supplyVPerCount() != header.supplyVPerCount()) {
            changed.add("the rig's scales of current and supply are others than before");
        }
        if (!changed.isEmpty()) {
            throw bad(
                    record,
                    String.join("; ", changed)
                            + ". What is measured now would be of another unit or rig: start a new check instead");
        }
        return inPlace() ? SqliteRunWriter.resume(record) : SqliteRunWriter.continueFrom(record, file);
    }

    private static BadInput bad(Path file, String what) {
        return new BadInput(new Problem(file.toString(), 0, 0, what));
    }
}
