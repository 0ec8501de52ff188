package org.shiftstand.spec;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.shift.Measure;

/** Whether measure, statistic, grouping, selection and decision of a clause make sense together. */
final class ClauseFit {
    static final String OUTCOME = "outcome";
    private static final Set<Statistic.Kind> OVER_CYCLES =
            EnumSet.of(Statistic.Kind.DRIFT, Statistic.Kind.CHANGE_POINT, Statistic.Kind.FIRST_FAILURE);
    private static final Set<Statistic.Kind> OF_POSITIONS =
            EnumSet.of(Statistic.Kind.REPEATABILITY, Statistic.Kind.REVERSAL);

    private final Table table;
    private final String measure;
    private final Statistic statistic;
    private final Statistic.Kind kind;
    private final List<Per> per;
    private final Optional<Selection> where;

    ClauseFit(Table table, String measure, Statistic statistic, List<Per> per, Optional<Selection> where) {
        this.table = table;
        this.measure = measure;
        this.statistic = statistic;
        this.kind = statistic.kind();
        this.per = per;
        this.where = where;
    }

    /** Notes everything that does not fit. */
    void check(Decision decision) {
        statistic();
        grouping();
        claim(decision);
    }

    private void statistic() {
        boolean counted = kind == Statistic.Kind.COUNT || kind == Statistic.Kind.PROPORTION;
        if (statistic.settings() instanceof Statistic.Settings.Alike alike) {
            alike(alike.of());
        } else if (measure.equals(OUTCOME) && !counted) {
            at("statistic").problem("statistic '" + kind.word() + "' of an outcome; expected count or proportion");
        }
        if (!measure.equals(OUTCOME) && kind == Statistic.Kind.PROPORTION) {
            at("statistic").problem("statistic 'proportion' of " + measure + "; it goes with measure outcome only");
        }
        if (OF_POSITIONS.contains(kind) && !ofLandings()) {
            at("statistic")
                    .problem("statistic '" + kind.word() + "' of " + measure
                            + "; ISO 230-2 defines it of positions: expected measure landing or landing-error");
        }
    }

    /** A share is of an outcome, or of the shifts that have a plateau; an outcome has nothing but a share. */
    private void alike(Statistic.Likeness likeness) {
        boolean share = likeness == Statistic.Likeness.PROPORTION;
        if (measure.equals(OUTCOME) && !share) {
            at("statistic")
                    .problem("equivalent-to '" + likeness.word() + "' of an outcome; expected 'equivalent-to' or '{"
                            + " equivalent-to: proportion }'");
        }
        if (share && !measure.equals(OUTCOME) && !measure.equals(Measure.OVERTRAVEL.key())) {
            at("statistic")
                    .problem("equivalent-to 'proportion' of " + measure + "; it goes with measure outcome, or with"
                            + " overtravel, as the share of shifts that have a plateau");
        }
    }

    private boolean ofLandings() {
        return measure.equals(Measure.LANDING.key()) || measure.equals(Measure.LANDING_ERROR.key());
    }

    private void grouping() {
        if (per.contains(Per.EACH) && kind.nature() == Statistic.Nature.ESTIMATOR) {
            at("statistic")
                    .problem("statistic '" + kind.word() + "' per each shift; one shift has none: expected 'every', or"
                            + " another grouping");
        }
        boolean cut = per.contains(Per.EACH) || per.contains(Per.CYCLE);
        if (kind == Statistic.Kind.EQUIVALENT_TO && per.contains(Per.CYCLE)) {
            at("statistic")
                    .problem("equivalent-to per cycle; cycles of two runs have nothing in common but their number:"
                            + " expected another grouping, such as 'per: [sprocket, direction]'");
        }
        if (OVER_CYCLES.contains(kind) && cut) {
            at("statistic")
                    .problem("statistic '" + kind.word() + "' is about many cycles, and each group holds one; expected"
                            + " another grouping than 'per: cycle' or 'per: each'");
        }
        if (kind == Statistic.Kind.REVERSAL && (per.contains(Per.DIRECTION) || per.contains(Per.PAIR))) {
            at("statistic")
                    .problem("a reversal is the difference of both directions, and each group holds one; expected 'per:"
                            + " sprocket'");
        }
        boolean placed = measure.equals(Measure.LANDING.key()) || measure.equals(Measure.EXTREME.key());
        boolean apart = per.contains(Per.SPROCKET)
                || per.contains(Per.PAIR)
                || where.filter(ClauseFit::oneTo).isPresent();
        if (placed && mixes() && !apart && where.isPresent()) {
            at("statistic")
                    .problem(kind.word() + " of " + measure + " over several sprockets mixes their positions; expected"
                            + " 'per: sprocket', 'per: pair' or one 'to' in where");
        }
    }

    private boolean mixes() {
        return switch (kind) {
            case MEAN, MEDIAN, PERCENTILE, STANDARD_DEVIATION, RANGE, TOLERANCE_INTERVAL, CAPABILITY -> true;
            // a spread is compared within sprocket and direction, a mean by its place
            case EQUIVALENT_TO -> statistic.settings().equals(new Statistic.Settings.Alike(Statistic.Likeness.MEAN));
            // the others look at single shifts, or at each sprocket and direction by itself
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    POOLED_STANDARD_DEVIATION,
                    COUNT,
                    PROPORTION,
                    REPEATABILITY,
                    REVERSAL,
                    DRIFT,
                    CHANGE_POINT,
                    FIRST_FAILURE -> false;
        };
    }

    private void claim(Decision decision) {
        if (decision.claim() != Decision.Claim.PROCESS) {
            return;
        }
        if (!kind.longRun()) {
            claimNode()
                    .problem("claim 'process' of statistic '" + kind.word() + "': it has no long-run value to claim;"
                            + " expected 'claim: observed' in this clause, or a statistic such as "
                            + (kind.nature() == Statistic.Nature.COUNTED ? "proportion" : "tolerance-interval"));
        }
        if (kind == Statistic.Kind.REPEATABILITY && !per.contains(Per.DIRECTION)) {
            claimNode()
                    .problem("claim 'process' of a bidirectional repeatability: no confidence limit of it is known;"
                            + " expected 'per: [sprocket, direction]' or 'claim: observed'");
        }
    }

    private Node claimNode() {
        return table.find("claim").orElse(at("statistic"));
    }

    private static boolean oneTo(Selection where) {
        return where.to().size() == 1
                && where.to().get(0).low() == where.to().get(0).high();
    }

    private Node at(String key) {
        return table.find(key).orElse(table);
    }
}
