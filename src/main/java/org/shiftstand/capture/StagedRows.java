package org.shiftstand.capture;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Rows on their way into a spool: a second thread parses while the caller's packs and spools what was parsed before. */
final class StagedRows {
    private static final int STAGES = 4;

    private final Bytes bytes;
    private final Rows rows;
    private final RowCheck check;
    private @Nullable IOException failure;

    /** Parses rows. */
    interface Rows {
        /** Where rows go from now on. */
        void into(RowStage empty);

        /** Reads the row at {@code bytes.position} and goes to the next line. */
        void read(Bytes bytes);
    }

    private StagedRows(Bytes bytes, Rows rows, RowCheck check) {
        this.bytes = bytes;
        this.rows = rows;
        this.check = check;
    }

    /**
     * Parses and spools until no row is left.
     *
     * @param present columns that are parsed; requests are events, and not spooled
     * @throws IOException what reading threw
     */
    static void spool(boolean[] present, Bytes bytes, Rows rows, RowCheck check, Spool spool) throws IOException {
        var spooled = present.clone();
        spooled[Column.REQUEST.index()] = false;
        ByteBuffer block = ByteBuffer.allocate(8 + Column.COUNT * ColumnBlock.maxBytes(RowStage.ROWS))
                .order(ByteOrder.LITTLE_ENDIAN);
        List<RowStage> ring =
                Stream.generate(() -> new RowStage(present)).limit(STAGES).toList();
        var staged = new StagedRows(bytes, rows, check);
        Ahead.run(ring, staged::fill, stage -> stage.flush(spooled, block, spool));
        if (staged.failure != null) {
            throw staged.failure;
        }
    }

    private boolean fill(RowStage stage) {
        try {
            rows.into(stage);
            while (stage.rows < RowStage.ROWS && bytes.hasLine()) {
                rows.read(bytes);
            }
            check.lastOf(stage);
        } catch (IOException e) {
            failure = e;
            stage.rows = 0; // what was read of it is of no use
        }
        return stage.rows > 0;
    }
}
