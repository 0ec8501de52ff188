package org.shiftstand.learn;

import java.util.List;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Decimal;

/**
 * A draft of a spec: bounds that hold a stated share of a good unit's shifts with a stated confidence, and a margin.
 *
 * <p>Normal theory within each row: mean ± k·sd, k exact for few shifts of a row and a spread pooled over rows. Only shifts
 * that are not held back count. Each clause says where its bound comes from. A row that was not seen, or does not always do
 * the same, has no bound: a comment names it.
 */
public final class DraftSpec {
    private DraftSpec() {}

    /**
     * The text of the spec, version 1; {@code spec lint} has nothing to say of it.
     *
     * @param profile the learned one
     * @param profileFile its file, beside the spec's
     * @param sources all that were learned from, measured again by it
     */
    public static String of(Learned learned, Profile profile, String profileFile, List<Remeasured> sources) {
        LearnOptions options = learned.options();
        StringBuilder text = new StringBuilder();
        text.append(Provenance.yaml(Provenance.lines(learned)));
        text.append(
                Provenance.yaml(
                        List.of(
                                "A draft: bounds hold " + Figure.percent(options.coverage()) + " of such shifts with "
                                        + Figure.percent(options.confidence())
                                        + " confidence, normal within each row, and a margin of",
                                "our own choice beyond. Look at each before it judges anything. What it does not bound is said below.")));
        text.append("spec: ").append(options.name()).append("-learned\n");
        text.append("version: 1\n");
        text.append("title: ").append(DraftClause.quoted(title(learned))).append('\n');
        text.append("profile: ").append(profileFile).append('\n');
        text.append("settle-band: ").append(Decimal.text(learned.bandDeg())).append(" deg\n");
        text.append("decision: { rule: simple, claim: observed }\n");
        text.append("clauses:\n");
        DraftClauses clauses = new DraftClauses(learned, profile, sources);
        return text.append(String.join("\n", clauses.written())).toString();
    }

    private static String title(Learned learned) {
        String units = Provenance.units(learned);
        return learned.options().name() + ", draft as learned; " + Character.toLowerCase(units.charAt(0))
                + units.substring(1, units.length() - 1);
    }
}
