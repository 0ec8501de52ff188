package org.shiftstand.export;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.export.Column.Kind;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;

/**
 * What every shift and clause tells of its run.
 *
 * @param unit id; empty for a capture that does not say
 * @param run digest of record or capture, SHA-256 in lower-case hex
 * @param unitKind name of the profile; empty without one
 * @param firmware of the unit, as the rig read it
 * @param started UTC of the first sample; empty for a capture
 * @param simulated whether a simulated rig made the run
 */
record RunFacts(
        Optional<String> unit,
        String run,
        String source,
        Optional<String> unitKind,
        Optional<String> firmware,
        String spec,
        int specVersion,
        String specSha256,
        Optional<Instant> started,
        boolean simulated,
        String verdict,
        Optional<String> runEnd) {
    private static final List<Column> COLUMNS = List.of(
            new Column("unit", Kind.TEXT, "", "id of the unit; null for a capture that does not say"),
            new Column("run", Kind.TEXT, "", "SHA-256 of record or capture, lower-case hex: the run's id everywhere"),
            new Column("source", Kind.TEXT, "", "file name of record or capture"),
            new Column("unit_kind", Kind.TEXT, "", "name of the profile, as it is written; null without one"),
            new Column("firmware", Kind.TEXT, "", "firmware of the unit, as the rig read it"),
            new Column("spec", Kind.TEXT, "", "name of the acceptance spec judged by"),
            new Column("spec_version", Kind.WHOLE, "", "its version"),
            new Column("spec_sha256", Kind.TEXT, "", "SHA-256 of its text"),
            new Column("started", Kind.INSTANT, "UTC", "first sample by the record's clock; null for a capture"),
            new Column("simulated", Kind.FLAG, "", "true where a simulated rig made the run: no real unit"),
            new Column("run_verdict", Kind.TEXT, "", "pass, fail or no-verdict of the whole run"),
            new Column("run_end", Kind.TEXT, "", "why the run ended early; null where it did not"));

    static RunFacts of(Judgement judgement) {
        return new RunFacts(
                judgement.unit(),
                judgement.source().sha256(),
                judgement.source().name(),
                judgement.profile().map(Profile::name),
                Optional.ofNullable(judgement.identity().get("unit-firmware")),
                judgement.spec().name(),
                judgement.spec().version(),
                judgement.spec().sha256(),
                judgement.circumstances().began(),
                judgement.identity().containsKey("simulated"),
                judgement.verdict().word(),
                judgement.runEnd());
    }

    /** The columns of the facts, then these. */
    static List<Column> before(List<Column> own) {
        List<Column> all = new ArrayList<>(COLUMNS);
        all.addAll(own);
        return List.copyOf(all);
    }

    /** The cells of {@link #COLUMNS}. */
    void tell(Cells cells) {
        cells.text(unit).text(run).text(source).text(unitKind).text(firmware);
        cells.text(spec).whole(specVersion).text(specSha256);
        cells.instant(started).flag(simulated).text(verdict).text(runEnd);
    }
}
