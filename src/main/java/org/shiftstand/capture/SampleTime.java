package org.shiftstand.capture;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/** Time of samples in seconds, from whatever says it. */
abstract sealed class SampleTime {
    static SampleTime of(TimeFrom from, NumberText number) {
        return from.match(new TimeFrom.Cases<>() {
            @Override
            public SampleTime numbers(TimeFrom.Numbers numbers) {
                return new OfNumbers(numbers, number);
            }

            @Override
            public SampleTime stamps(TimeFrom.Stamps stamps) {
                return new OfStamps(stamps);
            }

            @Override
            public SampleTime counted(TimeFrom.Counted counted) {
                return new OfCounts(counted, number);
            }
        });
    }

    /** Header of its column; empty where samples are counted as they come. */
    abstract Optional<String> column();

    /** Reads the field; false where it is no time. */
    abstract boolean reads(Fields fields, byte[] b, int field);

    /** What a field is to be, for messages. */
    abstract String expected();

    /** Stages the time that was read. */
    abstract void put(RowStage stage);

    /** What became of the origin. */
    abstract List<String> notices();

    private static final class OfNumbers extends SampleTime {
        private final TimeFrom.Numbers from;
        private final NumberText number;
        private boolean started;
        private BigDecimal first = BigDecimal.ZERO;
        /** The first time as a mantissa, where it has one. */
        private long firstMantissa;

        private int firstDecimals;
        private boolean firstExact;

        OfNumbers(TimeFrom.Numbers from, NumberText number) {
            this.from = from;
            this.number = number;
        }

        @Override
        Optional<String> column() {
            return Optional.of(from.column());
        }

        @Override
        boolean reads(Fields fields, byte[] b, int field) {
            return number.read(b, fields.from(field), fields.to(field));
        }

        @Override
        String expected() {
            return "a time in " + from.unit().word();
        }

        @Override
        void put(RowStage stage) {
            if (!started) {
                started = true;
                first = number.decimal();
                firstMantissa = number.mantissa();
                firstDecimals = number.decimals();
                firstExact = number.isExact();
            }
            int unit = from.unit().decimals();
            if (!from.fromFirst() && number.isExact()) {
                DialectRows.stagePut(stage, 0, number.mantissa(), number.decimals() + unit);
            } else if (!from.fromFirst()) {
                stage.put(0, number.value() * from.unit().seconds());
            } else if (number.isExact() && firstExact && number.decimals() == firstDecimals) {
                DialectRows.stagePut(stage, 0, number.mantissa() - firstMantissa, firstDecimals + unit);
            } else {
                stage.put(
                        0,
                        number.decimal()
                                .subtract(first)
                                .scaleByPowerOfTen(-unit)
                                .doubleValue());
            }
        }

        @Override
        List<String> notices() {
            return from.fromFirst() && started
                    ? List.of("times are counted from the first sample, which was at "
                            + first.scaleByPowerOfTen(-from.unit().decimals()).toPlainString()
                            + " s")
                    : List.of();
        }
    }

    private static final class OfStamps extends SampleTime {
        private final TimeFrom.Stamps from;
        private String firstText = "";
        private String text = "";
        private long first;
        private long nanos;

        OfStamps(TimeFrom.Stamps from) {
            this.from = from;
        }

        @Override
        Optional<String> column() {
            return Optional.of(from.column());
        }

        @Override
        boolean reads(Fields fields, byte[] b, int field) {
            text = fields.text(b, field);
            OptionalLong read = Stamp.nanos(text);
            nanos = read.orElse(0);
            return read.isPresent();
        }

        @Override
        String expected() {
            return "a time such as 2026-09-14T08:15:00.001953Z";
        }

        @Override
        void put(RowStage stage) {
            if (firstText.isEmpty()) {
                firstText = text;
                first = nanos;
            }
            DialectRows.stagePut(stage, 0, nanos - first, 9);
        }

        @Override
        List<String> notices() {
            return List.of("times are counted from the first sample, which was at " + firstText);
        }
    }

    private static final class OfCounts extends SampleTime {
        private final TimeFrom.Counted from;
        private final NumberText number;
        private double count = -1;
        private boolean started;
        private double first;

        OfCounts(TimeFrom.Counted from, NumberText number) {
            this.from = from;
            this.number = number;
        }

        @Override
        Optional<String> column() {
            return from.column();
        }

        @Override
        boolean reads(Fields fields, byte[] b, int field) {
            if (!number.read(b, fields.from(field), fields.to(field)) || number.value() != Math.rint(number.value())) {
                return false;
            }
            count = number.value();
            return true;
        }

        @Override
        String expected() {
            return "a whole number that counts samples";
        }

        @Override
        void put(RowStage stage) {
            if (from.column().isEmpty()) {
                count++;
            } else if (!started) {
                started = true;
                first = count;
            }
            stage.put(0, (count - first) / from.rateHz());
        }

        @Override
        List<String> notices() {
            return List.of("times are sample counts over "
                    + new BigDecimal(from.rateHz()).stripTrailingZeros().toPlainString() + " Hz, as told");
        }
    }
}
