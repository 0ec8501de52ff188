package org.shiftstand.classification;

import java.util.List;
import java.util.Locale;
import java.util.Random;

/** What a seed draws; {@link Random} is specified to the bit, so that a seed is the same unit on every machine. */
final class Draw {
    private final Random random;

    Draw(long seed) {
        random = new Random(seed * 0x9E3779B97F4A7C15L); // golden ratio: neighbouring seeds begin alike otherwise
        random.nextInt();
    }

    boolean chance(double p) {
        return random.nextDouble() < p;
    }

    double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    /** Between two values above zero, each size as likely as its tenfold: most lie near the lower end. */
    double logarithmic(double low, double high) {
        return low * Math.pow(high / low, random.nextDouble());
    }

    int whole(int low, int high) {
        return low + random.nextInt(high - low + 1);
    }

    double sign() {
        return random.nextBoolean() ? 1 : -1;
    }

    <T> T one(List<T> of) {
        return of.get(random.nextInt(of.size()));
    }

    /** As options of a simulated rig write a number. */
    static String text(double value) {
        return String.format(Locale.ROOT, "%.3f", value);
    }
}
