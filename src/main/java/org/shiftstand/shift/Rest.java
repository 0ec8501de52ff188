package org.shiftstand.shift;

/** A stay at one angle: samples {@code first…last} of a trace, which moves both when it forgets samples. */
final class Rest {
    int first;
    int last;
    /** Running median, degrees. */
    double levelDeg;

    Rest(int first, int last, double levelDeg) {
        this.first = first;
        this.last = last;
        this.levelDeg = levelDeg;
    }

    boolean holds(int index) {
        return first < index && index <= last;
    }
}
