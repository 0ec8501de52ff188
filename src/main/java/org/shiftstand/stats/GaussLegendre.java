package org.shiftstand.stats;

import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;

/** Integrals of smooth functions over short stretches, by 20 points. */
final class GaussLegendre {
    private static final GaussIntegrator ON_UNIT = new GaussIntegratorFactory().legendre(20);

    private GaussLegendre() {}

    static double integral(DoubleUnaryOperator function, double from, double to) {
        double half = (to - from) / 2;
        double middle = (to + from) / 2;
        double sum = 0;
        for (int i = 0; i < ON_UNIT.getNumberOfPoints(); i++) {
            sum += ON_UNIT.getWeight(i) * function.applyAsDouble(middle + half * ON_UNIT.getPoint(i));
        }
        return sum * half;
    }

    /** Places and their weights over equal pieces. */
    record Points(double[] at, double[] weights) {}

    static Points points(double from, double to, int pieces) {
        int each = ON_UNIT.getNumberOfPoints();
        double[] at = new double[pieces * each];
        double[] weights = new double[at.length];
        double half = (to - from) / pieces / 2;
        for (int piece = 0; piece < pieces; piece++) {
            double middle = from + (2 * piece + 1) * half;
            for (int i = 0; i < each; i++) {
                at[piece * each + i] = middle + half * ON_UNIT.getPoint(i);
                weights[piece * each + i] = half * ON_UNIT.getWeight(i);
            }
        }
        return new Points(at, weights);
    }

    /** Over equal pieces. */
    static double integral(DoubleUnaryOperator function, double from, double to, int pieces) {
        double sum = 0;
        for (int i = 0; i < pieces; i++) {
            sum += integral(function, from + (to - from) * i / pieces, from + (to - from) * (i + 1) / pieces);
        }
        return sum;
    }
}
