package org.shiftstand.export;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.apache.hadoop.conf.Configuration;
import org.apache.parquet.conf.ParquetConfiguration;
import org.apache.parquet.conf.PlainParquetConfiguration;
import org.apache.parquet.hadoop.ParquetFileWriter;
import org.apache.parquet.hadoop.ParquetWriter;
import org.apache.parquet.hadoop.api.WriteSupport;
import org.apache.parquet.hadoop.metadata.CompressionCodecName;
import org.apache.parquet.io.LocalOutputFile;
import org.apache.parquet.io.OutputFile;
import org.apache.parquet.io.api.RecordConsumer;
import org.apache.parquet.schema.MessageTypeParser;
import org.jspecify.annotations.Nullable;

/**
 * One Parquet file being written, row by row. Format version 1 pages, dictionary and plain encodings, Zstandard: what every
 * engine of the last years reads. The same rows give the same bytes.
 *
 * <p>Memory: one row group, some 16 MB, and the index of pages, some kilobytes a million rows.
 */
final class ParquetFile implements AutoCloseable {
    /** Large enough for engines to skip by, small enough for a heap of 256 MB. */
    private static final long ROW_GROUP_BYTES = 16L << 20;

    private static final int PAGE_BYTES = 256 << 10;

    private final ParquetWriter<Consumer<Cells>> writer;
    private long rows;

    private ParquetFile(ParquetWriter<Consumer<Cells>> writer) {
        this.writer = writer;
    }

    /** Starts a file; one of that name is written over. */
    static ParquetFile create(Path file, Dataset dataset) throws IOException {
        return new ParquetFile(new Builder(new LocalOutputFile(file), dataset)
                .withConf(new PlainParquetConfiguration())
                .withWriteMode(ParquetFileWriter.Mode.OVERWRITE)
                .withCompressionCodec(CompressionCodecName.ZSTD)
                .withRowGroupSize(ROW_GROUP_BYTES)
                .withPageSize(PAGE_BYTES)
                .build());
    }

    /** Writes a row: told its cells in order. */
    void row(Consumer<Cells> row) throws IOException {
        writer.write(row);
        rows++;
    }

    /** Rows written so far. */
    long rows() {
        return rows;
    }

    @Override
    public void close() throws IOException {
        writer.close();
    }

    private static final class Builder extends ParquetWriter.Builder<Consumer<Cells>, Builder> {
        private final Dataset dataset;

        Builder(OutputFile file, Dataset dataset) {
            super(file);
            this.dataset = dataset;
        }

        @Override
        protected Builder self() {
            return this;
        }

        @Override
        protected WriteSupport<Consumer<Cells>> getWriteSupport(Configuration unused) {
            return new RowSupport(dataset);
        }

        @Override
        protected WriteSupport<Consumer<Cells>> getWriteSupport(ParquetConfiguration unused) {
            return new RowSupport(dataset);
        }
    }

    private static final class RowSupport extends WriteSupport<Consumer<Cells>> {
        private final Dataset dataset;
        private @Nullable Cells cells;

        RowSupport(Dataset dataset) {
            this.dataset = dataset;
        }

        @Override
        public WriteContext init(Configuration unused) {
            return context();
        }

        @Override
        public WriteContext init(ParquetConfiguration unused) {
            return context();
        }

        private WriteContext context() {
            Map<String, String> told = new TreeMap<>();
            told.put("shiftstand.schema", String.valueOf(Dataset.SCHEMA));
            told.put("shiftstand.dataset", dataset.word());
            return new WriteContext(MessageTypeParser.parseMessageType(dataset.schema()), told);
        }

        @Override
        public void prepareForWrite(RecordConsumer consumer) {
            cells = new Cells(dataset.columns(), consumer);
        }

        @Override
        public void write(Consumer<Cells> row) {
            Cells filled = Objects.requireNonNull(cells);
            filled.begin();
            row.accept(filled);
            filled.end();
        }
    }
}
