package org.shiftstand.sim;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;

/** The Tarn drive as its maker in our scenario states it: ten sprockets. Invented. */
final class TarnDrive {
    private TarnDrive() {}

    static Profile profile() {
        return new Profile(
                "tarn-drive",
                2,
                10,
                List.of(0.0, 712.0, 1455.0, 2170.0, 2930.0, 3700.0, 4410.0, 5190.0, 5905.0, 6680.0),
                OptionalDouble.of(2.4),
                OptionalDouble.of(-520),
                OptionalDouble.of(7100),
                OptionalDouble.of(0.7),
                List.of(270.0, 300.0, 300.0, 300.0, 0.0, 0.0, 0.0, 0.0, 0.0),
                List.of(60.0, 70.0, 65.0, 110.0, 90.0, 150.0, 190.0, 240.0, 160.0),
                List.of(11, 12, 13, 14, 16, 18, 20, 22, 25, 28),
                "");
    }
}
