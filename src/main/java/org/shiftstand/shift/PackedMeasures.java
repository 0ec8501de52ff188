package org.shiftstand.shift;

import java.util.AbstractMap;
import java.util.AbstractSet;
import java.util.Arrays;
import java.util.Iterator;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * What became of the measures of one shift, in the few bytes that its numbers take: a long run has a million shifts, and an
 * object for each number of each would be most of what is kept of them. It never changes.
 */
final class PackedMeasures extends AbstractMap<Measure, Measured> {
    private static final Measure[] ALL = Measure.values();
    private static final Measured NOT_APPLICABLE = new Measured.NotApplicable();
    private static final double[] NO_NUMBERS = {};
    private static final String[] NO_REASONS = {};

    /** By ordinal, a bit for each that has a number, a reason, or does not apply. */
    private final int numbered;

    private final int reasoned;
    private final int inapplicable;
    /** In the order of the measures, of those that have one. */
    private final double[] numbers;

    private final String[] reasons;

    private PackedMeasures(Map<Measure, Measured> measures) {
        Packing packing = new Packing();
        for (Measure measure : ALL) {
            Measured measured = measures.get(measure);
            if (measured != null) {
                packing.add(measure, measured);
            }
        }
        this.numbered = packing.numbered;
        this.reasoned = packing.reasoned;
        this.inapplicable = packing.inapplicable;
        this.numbers = numbered == 0 ? NO_NUMBERS : Arrays.copyOf(packing.numbers, Integer.bitCount(numbered));
        this.reasons = reasoned == 0 ? NO_REASONS : Arrays.copyOf(packing.reasons, Integer.bitCount(reasoned));
    }

    static Map<Measure, Measured> of(Map<Measure, Measured> measures) {
        return measures instanceof PackedMeasures ? measures : new PackedMeasures(measures);
    }

    private static final class Packing implements Measured.Cases<Boolean> {
        private final double[] numbers = new double[ALL.length];
        private final String[] reasons = new String[ALL.length];
        private int numbered;
        private int reasoned;
        private int inapplicable;
        private int bit;

        void add(Measure measure, Measured measured) {
            bit = bit(measure);
            measured.match(this);
        }

        @Override
        public Boolean value(double value) {
            numbers[Integer.bitCount(numbered)] = value;
            numbered |= bit;
            return true;
        }

        @Override
        public Boolean notMeasured(String reason) {
            reasons[Integer.bitCount(reasoned)] = reason;
            reasoned |= bit;
            return true;
        }

        @Override
        public Boolean notApplicable() {
            inapplicable |= bit;
            return true;
        }
    }

    private static int bit(Measure measure) {
        return 1 << measure.ordinal();
    }

    @Override
    public @Nullable Measured get(@Nullable Object key) {
        if (!(key instanceof Measure)) {
            return null;
        }
        int bit = bit((Measure) key);
        if ((numbered & bit) != 0) {
            return new Measured.Value(numbers[Integer.bitCount(numbered & bit - 1)]);
        }
        if ((reasoned & bit) != 0) {
            return new Measured.NotMeasured(reasons[Integer.bitCount(reasoned & bit - 1)]);
        }
        return (inapplicable & bit) == 0 ? null : NOT_APPLICABLE;
    }

    @Override
    public boolean containsKey(@Nullable Object key) {
        return key instanceof Measure && (all() & bit((Measure) key)) != 0;
    }

    @Override
    public int size() {
        return Integer.bitCount(all());
    }

    private int all() {
        return numbered | reasoned | inapplicable;
    }

    @Override
    public Set<Entry<Measure, Measured>> entrySet() {
        return new AbstractSet<>() {
            @Override
            public Iterator<Entry<Measure, Measured>> iterator() {
                return entries();
            }

            @Override
            public int size() {
                return PackedMeasures.this.size();
            }
        };
    }

    private Iterator<Entry<Measure, Measured>> entries() {
        return new Iterator<>() {
            private int left = all();

            @Override
            public boolean hasNext() {
                return left != 0;
            }

            @Override
            public Entry<Measure, Measured> next() {
                if (left == 0) {
                    throw new NoSuchElementException();
                }
                Measure measure = ALL[Integer.numberOfTrailingZeros(left)];
                left &= left - 1;
                return Map.entry(measure, java.util.Objects.requireNonNull(get(measure)));
            }
        };
    }
}
