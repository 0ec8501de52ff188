package org.shiftstand.stats;

import java.util.Optional;

/**
 * Where a straight line will reach a limit if it goes on as it did, and how well that is known.
 *
 * <p>The ends of the interval are where the {@link LineBand} reaches the limit: (limit − m − bd)² = dm² + (db·d)², d the
 * distance from its middle, m the line's height there, b its slope; as E. C. Fieller, J. R. Stat. Soc. B 16, 175–185, 1954.
 *
 * @param at abscissa where the line reaches the limit
 * @param from nearer end of the interval
 * @param to farther end
 */
public record Projection(double at, double from, double to, double confidence) {
    /** Empty where the line leads away from the limit or has passed it at {@code ahead}, or may be level. */
    public static Optional<Projection> of(TheilSen line, LineBand band, double limit, double ahead) {
        double b = line.slope();
        double at = (limit - line.intercept()) / b;
        if (Math.abs(b) <= band.slope() || !(at > ahead)) {
            return Optional.empty();
        }
        double gap = limit - line.at(band.centre());
        // (b² − db²) d² − 2 b gap d + gap² − dm² = 0
        double a = b * b - band.slope() * band.slope();
        double root = Math.sqrt(Math.max(0, b * b * gap * gap - a * (gap * gap - band.height() * band.height())));
        double one = (b * gap - root) / a;
        double two = (b * gap + root) / a;
        return Optional.of(new Projection(
                at, band.centre() + Math.min(one, two), band.centre() + Math.max(one, two), band.confidence()));
    }
}
