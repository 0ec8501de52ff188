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

    /** Over equal pieces. */
    static double integral(DoubleUnaryOperator function, double from, double to, int pieces) {
        double sum = 0;
        for (int i = 0; i < pieces; i++) {
            sum += integral(function, from + (to - from) * i / pieces, from + (to - from) * (i + 1) / pieces);
        }
        return sum;
    }
}
