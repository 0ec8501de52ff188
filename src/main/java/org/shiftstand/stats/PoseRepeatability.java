package org.shiftstand.stats;

/**
 * Pose repeatability by ISO 9283:1998, 7.2.2 (definition from memory): RP = l̄ + 3 s of the distances l from the barycentre of
 * the attained points. Distances are never below 0, so on one axis it is not three times the coordinate's deviation.
 *
 * @param distances l of each point
 * @param meanDistance l̄
 * @param sdDistance of the distances, divisor n − 1
 */
public record PoseRepeatability(Sample distances, double meanDistance, double sdDistance) {
    /**
     * Of attained points.
     *
     * @param points two or more, each with the same one to three coordinates, finite; not changed
     */
    public static PoseRepeatability of(double[][] points) {
        if (points.length < 2) {
            throw new IllegalArgumentException("two points or more: points=" + points.length);
        }
        int axes = points[0].length;
        for (int i = 0; i < points.length; i++) {
            if (axes < 1 || axes > 3 || points[i].length != axes) {
                throw new IllegalArgumentException("each point has the same one to three coordinates: point[" + i
                        + "] has " + points[i].length + ", point[0] has " + axes);
            }
        }
        double[] centre = new double[axes];
        for (int axis = 0; axis < axes; axis++) {
            double[] along = new double[points.length];
            for (int i = 0; i < points.length; i++) {
                along[i] = points[i][axis];
            }
            centre[axis] = Sample.of(along).mean().orElseThrow();
        }
        double[] distances = new double[points.length];
        for (int i = 0; i < points.length; i++) {
            double square = 0;
            for (int axis = 0; axis < axes; axis++) {
                double off = points[i][axis] - centre[axis];
                square += off * off;
            }
            distances[i] = Math.sqrt(square);
        }
        Sample sample = Sample.of(distances);
        return new PoseRepeatability(
                sample, sample.mean().orElseThrow(), sample.standardDeviation().orElseThrow());
    }

    /** RP. */
    public double repeatability() {
        return meanDistance + 3 * sdDistance;
    }
}
