package org.shiftstand.angle;

import java.util.Random;
import org.shiftstand.capture.ArraySource;

/**
 * Readings of a Hall pair, for tests: the distortion of Heydemann 1981 written out here independently of the code under
 * test, {@code cos = R cos θ + p}, {@code sin = (R sin θ cos α − R cos θ sin α) / r + q}.
 */
final class HallPair {
    private final double[] cos;
    private final double[] sin;

    private HallPair(double[] cos, double[] sin) {
        this.cos = cos;
        this.sin = sin;
    }

    double[] cos() {
        return cos;
    }

    double[] sin() {
        return sin;
    }

    /** 360 readings over two turns. */
    static HallPair turning(double p, double q, double r, double phaseDeg, double radius) {
        double[] angle = new double[360];
        for (int i = 0; i < angle.length; i++) {
            angle[i] = 2 * i;
        }
        return of(angle, p, q, r, phaseDeg, radius);
    }

    static HallPair of(double[] angleDeg, double p, double q, double r, double phaseDeg, double radius) {
        double[] cos = new double[angleDeg.length];
        double[] sin = new double[angleDeg.length];
        double phase = Math.toRadians(phaseDeg);
        for (int i = 0; i < angleDeg.length; i++) {
            double u1 = radius * Math.cos(Math.toRadians(angleDeg[i]));
            double u2 = radius * Math.sin(Math.toRadians(angleDeg[i]));
            cos[i] = u1 + p;
            sin[i] = (u2 * Math.cos(phase) - u1 * Math.sin(phase)) / r + q;
        }
        return new HallPair(cos, sin);
    }

    /** A perfect pair of radius 1400 counts around 2048, as a source at 512 Hz. */
    static ArraySource perfect(double... angleDeg) {
        var pair = of(angleDeg, 2048, 2048, 1, 0, 1400);
        return new ArraySource(times(angleDeg.length), pair.sin, pair.cos).interval(1 / 512.0);
    }

    static double[] times(int n) {
        double[] time = new double[n];
        for (int i = 0; i < n; i++) {
            time[i] = i / 512.0;
        }
        return time;
    }

    /** With a third harmonic in both outputs (part of the radius) and converter noise of a seed, rounded to counts. */
    HallPair spoiled(double[] angleDeg, double third, double radius, long seed) {
        var random = new Random(seed);
        double[] c = new double[cos.length];
        double[] s = new double[sin.length];
        for (int i = 0; i < c.length; i++) {
            double three = Math.toRadians(3 * angleDeg[i]);
            c[i] = Math.rint(cos[i] + third * radius * Math.cos(three) + random.nextGaussian());
            s[i] = Math.rint(sin[i] + third * radius * Math.sin(three) + random.nextGaussian());
        }
        return new HallPair(c, s);
    }
}
