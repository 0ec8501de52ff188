package org.shiftstand.report;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.planning.cassette.CassettePlan;
import org.shiftstand.planning.cassette.PlannedCassette;
import org.shiftstand.planning.cassette.Room;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Decimal;

/** One planned cassette as a draft profile: YAML that {@code profile.ProfileReader} reads, its comments say what is assumed. */
public final class CassetteProfile {
    private static final int LONGEST_NAME = 64; // of an identifier

    private final CassettePlan plan;
    private final PlannedCassette cassette;
    private final StringBuilder out = new StringBuilder();

    private CassetteProfile(CassettePlan plan, PlannedCassette cassette) {
        this.plan = plan;
        this.cassette = cassette;
    }

    /** The whole text, lines ended by LF; angles rounded to 0.01 deg. */
    public static String of(CassettePlan plan, PlannedCassette cassette) {
        var draft = new CassetteProfile(plan, cassette);
        draft.comments();
        draft.values();
        return draft.out.toString();
    }

    private void comments() {
        Profile from = plan.profile();
        comment("DRAFT: " + cassette.sprockets() + " sprockets planned over the travel of " + from.name() + " version "
                + from.version() + ", which has " + from.sprockets()
                + ". Nothing of it was measured on that cassette.");
        comment("Verdict of the plan: " + CassetteWords.verdict(cassette.room()) + "."
                + (cassette.room() == Room.NOT_DECIDED
                        ? " Not known: " + Words.list(CassetteWords.open(cassette, plan), "and") + "."
                        : ""));
        cassette.tightest()
                .ifPresent(check ->
                        comment("Tightest: " + CassetteWords.place(check) + ". " + CassetteWords.sum(check, plan)));
        out.append("#\n");
        comment("What it takes for granted:");
        CassetteWords.assumptions(plan).forEach(sentence -> comment("- " + sentence));
        out.append("#\n");
        comment(
                "To be proven by learning on that cassette: every position, every overtravel, the hold. First motion one"
                        + " shift at a time, with the supply's current limited and a hand on the emergency stop.");
    }

    private void comment(String sentence) {
        out.append(new Wrapped().line("# ", "#   ", sentence).text());
    }

    private void values() {
        Profile from = plan.profile();
        String ending = "-" + cassette.sprockets();
        String stem = from.name();
        key("profile", stem.substring(0, Math.min(stem.length(), LONGEST_NAME - ending.length())) + ending);
        key("version", "1");
        key("sprockets", String.valueOf(cassette.sprockets()));
        from.screwLeadMm().ifPresent(mm -> key("screw-lead", Decimal.text(mm) + " mm"));
        key("positions", list(cassette.positionsDeg()));
        if (from.outboardLimitDeg().isPresent() || from.inboardLimitDeg().isPresent()) {
            key("mechanical-limits", limits(from.outboardLimitDeg(), from.inboardLimitDeg()));
        }
        from.holdS().ifPresent(s -> key("hold", Decimal.text(s * 1000, 12) + " ms  # to be proven by learning"));
        out.append("overtravel:  # carried over from the present table; to be proven by learning\n");
        out.append("  inboard: ")
                .append(list(cassette.overtravelInboardDeg()))
                .append("  # 1\u21922, 2\u21923, \u2026\n");
        out.append("  outboard: ")
                .append(list(cassette.overtravelOutboardDeg()))
                .append("  # ")
                .append(cassette.sprockets())
                .append(Words.ARROW)
                .append(cassette.sprockets() - 1)
                .append(", \u2026 2\u21921\n");
        out.append("# cassette: [\u2026]  # tooth counts of the new cassette, once it is chosen\n");
    }

    private void key(String key, String value) {
        out.append(key).append(": ").append(value).append('\n');
    }

    private static String limits(OptionalDouble outboard, OptionalDouble inboard) {
        String first = outboard.isPresent() ? "outboard: " + deg(outboard.getAsDouble()) : "";
        String second = inboard.isPresent() ? "inboard: " + deg(inboard.getAsDouble()) : "";
        return "{ " + first + (first.isEmpty() || second.isEmpty() ? "" : ", ") + second + " }";
    }

    private static String list(List<Double> degrees) {
        return degrees.stream().map(CassetteProfile::deg).collect(Collectors.joining(", ", "[", "]"));
    }

    private static String deg(double deg) {
        return Double.isNaN(deg) ? "unknown" : Decimal.text(Math.rint(deg * 100) / 100) + " deg";
    }
}
