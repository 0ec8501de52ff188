package org.shiftstand.planning.cassette;

import java.util.List;
import org.shiftstand.profile.Profile;

/**
 * Cassettes, planned.
 *
 * @param profile of the present cassette
 * @param factor by which the standard deviation of landings was widened
 * @param present the present cassette held against the same rule, positions and table unchanged
 * @param planned in the order wanted
 */
public record CassettePlan(
        Profile profile,
        CassetteWish wish,
        SprocketLine line,
        double factor,
        PlannedCassette present,
        List<PlannedCassette> planned) {
    public CassettePlan {
        planned = List.copyOf(planned);
    }
}
