package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.shiftstand.profile.Profile;

/**
 * One way to lay the centres that were seen over the positions of a profile.
 *
 * @param sense which way decoded angles grow
 * @param sprockets number of each centre, outermost first
 * @param offsetDeg what is added to an angle, sense applied, to be in the profile's frame
 * @param residualDeg root mean square of what is left
 */
record Alignment(Sense sense, int[] sprockets, double offsetDeg, double residualDeg) {
    /** How much worse the next best must be. */
    static final double CLEAR = 3;

    /** The best of all ways, and whether it is at least three times better than the next. */
    record Choice(Alignment best, boolean decided, Optional<Alignment> next) {}

    /**
     * Tries every sense and every assignment that is allowed.
     *
     * @param centres of the track as decoded, ascending
     * @param senses those not ruled out
     * @param first number of the outermost centre; 0 where not known
     */
    static Optional<Choice> choose(double[] centres, Profile profile, List<Sense> senses, int first) {
        List<Alignment> all = new ArrayList<>();
        for (Sense sense : senses) {
            double[] turned = new double[centres.length];
            for (int i = 0; i < centres.length; i++) {
                turned[i] = sense == Sense.FORWARD ? centres[i] : -centres[centres.length - 1 - i];
            }
            for (int k = 1; k <= profile.sprockets(); k++) {
                if (first == 0 || first == k) {
                    fit(sense, turned, k, profile).ifPresent(a -> add(all, a));
                }
            }
        }
        all.sort(Comparator.comparingDouble(Alignment::residualDeg));
        if (all.isEmpty()) {
            return Optional.empty();
        }
        Alignment best = all.get(0);
        Optional<Alignment> next = all.size() > 1 ? Optional.of(all.get(1)) : Optional.empty();
        boolean clear = next.isEmpty()
                || next.get().residualDeg() >= CLEAR * best.residualDeg()
                        && next.get().residualDeg() > 0;
        return Optional.of(new Choice(best, clear, next));
    }

    private static void add(List<Alignment> all, Alignment a) {
        if (all.stream().noneMatch(b -> b.sense == a.sense && Arrays.equals(b.sprockets, a.sprockets))) {
            all.add(a);
        }
    }

    private static Optional<Alignment> fit(Sense sense, double[] centres, int first, Profile profile) {
        double offset = profile.positionDeg(first) - centres[0];
        int[] sprockets = new int[centres.length];
        for (int round = 0; round < 3; round++) {
            double[] misses = new double[centres.length];
            for (int i = 0; i < centres.length; i++) {
                sprockets[i] = nearest(centres[i] + offset, profile);
                if (i > 0 && sprockets[i] <= sprockets[i - 1]) {
                    return Optional.empty();
                }
                misses[i] = profile.positionDeg(sprockets[i]) - centres[i];
            }
            if (sprockets[0] != first) {
                return Optional.empty();
            }
            offset = Centres.median(misses);
        }
        double sum = 0;
        for (int i = 0; i < centres.length; i++) {
            double miss = centres[i] + offset - profile.positionDeg(sprockets[i]);
            sum += miss * miss;
        }
        return Optional.of(new Alignment(sense, sprockets, offset, Math.sqrt(sum / centres.length)));
    }

    static int nearest(double deg, Profile profile) {
        int best = 1;
        for (int s = 2; s <= profile.sprockets(); s++) {
            if (Math.abs(profile.positionDeg(s) - deg) < Math.abs(profile.positionDeg(best) - deg)) {
                best = s;
            }
        }
        return best;
    }
}
