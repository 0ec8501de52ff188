package org.shiftstand.planning.cassette;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import org.shiftstand.profile.Profile;

/** Profiles made up for tests. */
final class Profiles {
    private Profiles() {}

    /** Three sprockets, 6.5 mm of travel a sprocket on average, 1 deg to 0.01 mm. */
    static Profile three() {
        return of(
                List.of(0.0, 600.0, 1300.0),
                OptionalDouble.of(3.6),
                OptionalDouble.of(-200),
                OptionalDouble.of(1400),
                List.of(100.0, 0.0),
                List.of(50.0, 80.0));
    }

    static Profile of(
            List<Double> positions,
            OptionalDouble lead,
            OptionalDouble outboard,
            OptionalDouble inboard,
            List<Double> overtravelIn,
            List<Double> overtravelOut) {
        return new Profile(
                "made",
                1,
                positions.size(),
                positions,
                lead,
                outboard,
                inboard,
                OptionalDouble.of(0.7),
                overtravelIn,
                overtravelOut,
                List.of(),
                "");
    }

    /** 7 to 14 sprockets, 500 to 900 deg apart, overtravel of none or 40 to 350 deg, room of 400 to 900 deg to both limits. */
    static Profile random(long seed) {
        Random random = new Random(seed);
        int n = 7 + random.nextInt(8);
        List<Double> positions = new ArrayList<>();
        double at = random.nextInt(101) - 50;
        for (int k = 0; k < n; k++) {
            positions.add(at);
            at += 500 + 400 * random.nextDouble();
        }
        return of(
                positions,
                OptionalDouble.of(1 + 3 * random.nextDouble()),
                OptionalDouble.of(positions.get(0) - 400 - 500 * random.nextDouble()),
                OptionalDouble.of(positions.get(n - 1) + 400 + 500 * random.nextDouble()),
                overtravel(n - 1, random),
                overtravel(n - 1, random));
    }

    private static List<Double> overtravel(int rows, Random random) {
        List<Double> values = new ArrayList<>();
        for (int i = 0; i < rows; i++) {
            values.add(random.nextInt(3) == 0 ? 0.0 : 40 + 310 * random.nextDouble());
        }
        return values;
    }
}
