package org.shiftstand.export;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.apache.parquet.io.api.Binary;
import org.apache.parquet.io.api.RecordConsumer;
import org.shiftstand.export.Column.Kind;

/** The cells of one row, told from the first column to the last; what is empty or NaN is null. Reused from row to row. */
final class Cells {
    private final List<Column> columns;
    private final RecordConsumer consumer;
    private int next;

    Cells(List<Column> columns, RecordConsumer consumer) {
        this.columns = columns;
        this.consumer = consumer;
    }

    void begin() {
        next = 0;
        consumer.startMessage();
    }

    void end() {
        if (next != columns.size()) {
            throw new IllegalStateException("a row lacks cells: cells=" + next + ", columns=" + columns.size());
        }
        consumer.endMessage();
    }

    /** A text that many rows share, encoded once. */
    static Binary shared(String text) {
        return Binary.fromConstantByteArray(text.getBytes(StandardCharsets.UTF_8));
    }

    Cells text(Binary value) {
        start(Kind.TEXT);
        consumer.addBinary(value);
        return stop();
    }

    Cells text(String value) {
        return text(shared(value)); // half a surrogate pair becomes a question mark: files hold UTF-8 only
    }

    Cells text(Optional<String> value) {
        return value.isPresent() ? text(value.get()) : none(Kind.TEXT);
    }

    Cells number(double value) {
        if (Double.isNaN(value)) {
            return none(Kind.NUMBER);
        }
        start(Kind.NUMBER);
        consumer.addDouble(value);
        return stop();
    }

    Cells number(OptionalDouble value) {
        return number(value.orElse(Double.NaN));
    }

    Cells whole(int value) {
        start(Kind.WHOLE);
        consumer.addInteger(value);
        return stop();
    }

    Cells whole(OptionalInt value) {
        return value.isPresent() ? whole(value.getAsInt()) : none(Kind.WHOLE);
    }

    Cells whole(long value) {
        start(Kind.LONG);
        consumer.addLong(value);
        return stop();
    }

    Cells flag(boolean value) {
        start(Kind.FLAG);
        consumer.addBoolean(value);
        return stop();
    }

    /** Null unless known. */
    Cells whole(boolean known, int value) {
        return known ? whole(value) : none(Kind.WHOLE);
    }

    /** Null unless known. */
    Cells flag(boolean known, boolean value) {
        return known ? flag(value) : none(Kind.FLAG);
    }

    Cells instant(Optional<Instant> value) {
        if (value.isEmpty()) {
            return none(Kind.INSTANT);
        }
        start(Kind.INSTANT);
        consumer.addLong(ChronoUnit.MICROS.between(Instant.EPOCH, value.get()));
        return stop();
    }

    private void start(Kind kind) {
        check(kind);
        consumer.startField(columns.get(next).name(), next);
    }

    private Cells stop() {
        consumer.endField(columns.get(next).name(), next);
        next++;
        return this;
    }

    private Cells none(Kind kind) {
        check(kind);
        next++;
        return this;
    }

    private void check(Kind kind) {
        if (columns.get(next).kind() != kind) {
            throw new IllegalStateException("a cell is of another kind than its column: column="
                    + columns.get(next).name() + ", kind=" + kind);
        }
    }
}
