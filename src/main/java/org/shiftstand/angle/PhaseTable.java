package org.shiftstand.angle;

import org.shiftstand.capture.SampleBlock;

/**
 * Applies a correction to Hall pairs: wrapped angle in degrees and radius over its mean.
 *
 * <p>The arc tangent is a table of 1025 exact values and the series of what is left; error below 1e-11 degrees against
 * {@code StrictMath.atan2}, several times as fast.
 */
final class PhaseTable {
    private static final int CELLS = 1024;
    private static final double[] ATAN_DEG = new double[CELLS + 1];
    private static final double DEG = 180 / Math.PI;

    static {
        for (int i = 0; i <= CELLS; i++) {
            ATAN_DEG[i] = StrictMath.atan((double) i / CELLS) * DEG;
        }
    }

    private final double cosOffset;
    private final double sinOffset;
    private final double ofCos;
    private final double ofSin;
    private final double perRadius;
    private final double gainRatio;
    private final double sin2;
    private final double cos2;
    private final HigherOrder higher;
    private final Rails rails;
    private final double phaseDeg;
    private final double radiusTolerance;
    private final byte ofUnpowered;

    /** @param readsUnpowered whether sensors that are off give angles: then what they fail to give is a fault */
    PhaseTable(Correction c, boolean readsUnpowered) {
        ofUnpowered = readsUnpowered ? AngleBlock.FAULT : AngleBlock.OFF;
        cosOffset = c.cosOffset();
        sinOffset = c.sinOffset();
        double phase = Math.toRadians(c.phaseDeg());
        ofCos = StrictMath.tan(phase);
        ofSin = c.gainRatio() / StrictMath.cos(phase);
        gainRatio = c.gainRatio();
        perRadius = c.radius() > 0 ? 1 / c.radius() : 0;
        sin2 = c.sin2Deg();
        cos2 = c.cos2Deg();
        higher = c.higher();
        rails = c.rails();
        phaseDeg = c.phaseDeg();
        // an uncorrected pair is far from a circle already
        radiusTolerance = c.ellipseFrom().equals("nominal") ? 0.4 : 0.15;
    }

    /**
     * Decodes the first {@code n} samples of a block to {@code at} and on of {@code out}; a sample whose radius tells
     * that it is none gets the angle 0.
     */
    void decode(SampleBlock in, int n, AngleBlock out, int at) {
        double[] cos = in.hallCos;
        double[] sin = in.hallSin;
        double[] radii = out.radius;
        for (int i = 0; i < n; i++) { // by itself: the compiler makes it a vector loop
            double u = cos[i] - cosOffset;
            double v = u * ofCos + (sin[i] - sinOffset) * ofSin;
            radii[at + i] = Math.sqrt(u * u + v * v) * perRadius;
        }
        double[] angleDeg = out.angleDeg;
        byte[] state = out.state;
        double ofSin2 = 2 * sin2;
        for (int i = 0; i < n; i++) {
            if (!(Math.abs(radii[at + i] - 1) <= radiusTolerance)) {
                // most samples of a long run: sensors that are off need no arc tangent
                angleDeg[at + i] = 0;
                state[at + i] = in.powered[i] ? AngleBlock.FAULT : ofUnpowered;
                continue;
            }
            double u = cos[i] - cosOffset;
            double v = u * ofCos + (sin[i] - sinOffset) * ofSin;
            double uu = u * u;
            double vv = v * v;
            double square = uu + vv;
            double inverse = square > 0 ? 1 / square : 0;
            angleDeg[at + i] = atan2Deg(v, u) - (ofSin2 * u * v + cos2 * (uu - vv)) * inverse;
            state[at + i] = AngleBlock.GOOD;
        }
        if (rails.isAny()) {
            tellClipped(in, n, out, at);
        }
        if (higher.isLearned()) { // a loop of its own: records without pay nothing
            takeHigher(cos, sin, n, out, at);
        }
    }

    /** Where one output is clipped: the angle that the other one tells, if it is so far out that the first one must be. */
    private void tellClipped(SampleBlock in, int n, AngleBlock out, int at) {
        for (int i = 0; i < n; i++) {
            int cosSide = rails.ofCos(in.hallCos[i]);
            int sinSide = rails.ofSin(in.hallSin[i]);
            if (cosSide == 0 && sinSide == 0) {
                continue;
            }
            double ofSine = (in.hallSin[i] - sinOffset) * gainRatio * perRadius; // sin(φ − α)
            double ofCosine = (in.hallCos[i] - cosOffset) * perRadius; // cos φ
            double part = cosSide != 0 ? ofSine : ofCosine;
            double rest = Math.sqrt(Math.max(0, 1 - part * part));
            double beyond = cosSide != 0 ? Math.abs(ofCosine) : Math.abs(ofSine);
            boolean told = (cosSide == 0 || sinSide == 0)
                    && Math.abs(part) <= 1 + radiusTolerance
                    && rest >= beyond - radiusTolerance;
            if (!told) {
                out.angleDeg[at + i] = 0;
                out.state[at + i] = in.powered[i] ? AngleBlock.FAULT : ofUnpowered;
                continue;
            }
            double phi = cosSide != 0 ? atan2Deg(part, cosSide * rest) + phaseDeg : atan2Deg(sinSide * rest, part);
            double twice = Math.toRadians(2 * phi);
            double angle = phi - sin2 * Math.sin(twice) - cos2 * Math.cos(twice) - ofHigher(Math.toRadians(phi));
            out.angleDeg[at + i] = Math.IEEEremainder(angle, 360);
            out.state[at + i] = AngleBlock.GOOD;
        }
    }

    private double ofHigher(double phi) {
        return higher.sin3Deg() * Math.sin(3 * phi)
                + higher.cos3Deg() * Math.cos(3 * phi)
                + higher.sin4Deg() * Math.sin(4 * phi)
                + higher.cos4Deg() * Math.cos(4 * phi);
    }

    private void takeHigher(double[] cos, double[] sin, int n, AngleBlock out, int at) {
        double sin3 = higher.sin3Deg();
        double cos3 = higher.cos3Deg();
        double sin4 = higher.sin4Deg();
        double cos4 = higher.cos4Deg();
        for (int i = 0; i < n; i++) {
            if (out.state[at + i] != AngleBlock.GOOD || rails.ofCos(cos[i]) != 0 || rails.ofSin(sin[i]) != 0) {
                continue; // those clipped have had theirs
            }
            double u = cos[i] - cosOffset;
            double v = u * ofCos + (sin[i] - sinOffset) * ofSin;
            double inverse = 1 / (u * u + v * v); // a good sample is not the origin
            double s2 = 2 * u * v * inverse;
            double c2 = (u * u - v * v) * inverse;
            double root = Math.sqrt(inverse);
            double s3 = (s2 * u + c2 * v) * root;
            double c3 = (c2 * u - s2 * v) * root;
            out.angleDeg[at + i] -= sin3 * s3 + cos3 * c3 + sin4 * 2 * s2 * c2 + cos4 * (c2 * c2 - s2 * s2);
        }
    }

    boolean isHealthy(double cos, double sin) {
        double u = cos - cosOffset;
        double v = u * ofCos + (sin - sinOffset) * ofSin;
        return Math.abs(Math.sqrt(u * u + v * v) * perRadius - 1) <= radiusTolerance;
    }

    /** atan2 in degrees, in [−180, 180]; 0 for (0, 0). */
    static double atan2Deg(double y, double x) {
        double ax = Math.abs(x);
        double ay = Math.abs(y);
        double large = ay > ax ? ay : ax; // not Math.max: it also cares for NaN, which showed
        double small = ay > ax ? ax : ay;
        if (large == 0) {
            return 0;
        }
        double ratio = small / large;
        int cell = (int) (ratio * CELLS + 0.5);
        double z = (double) cell / CELLS;
        double rest = (ratio - z) / (1 + ratio * z); // tan(a − b), at most 1/2048
        double square = rest * rest;
        double deg = ATAN_DEG[cell] + rest * (1 - square * (1.0 / 3)) * DEG; // next term: 3.6e-16 degrees
        deg = ay > ax ? 90 - deg : deg;
        deg = x < 0 ? 180 - deg : deg;
        return y < 0 ? -deg : deg;
    }
}
