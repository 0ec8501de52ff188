package org.shiftstand.export;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Comparator;
import org.apache.parquet.format.ColumnChunk;
import org.apache.parquet.format.ColumnMetaData;
import org.apache.parquet.format.Encoding;
import org.apache.parquet.format.FileMetaData;
import org.apache.parquet.format.PageEncodingStats;
import org.apache.parquet.format.RowGroup;
import org.apache.parquet.format.Util;

/**
 * The end of a Parquet file: its metadata in Thrift's compact form, then where it begins.
 *
 * <pre>
 * … pages | metadata, n bytes | n, 4 bytes, low first | P A R 1
 * </pre>
 */
final class Footer {
    private static final int TAIL = 8;

    private Footer() {}

    /**
     * Puts the lists of encodings in order. The library keeps them in sets whose order differs from one start of Java to the
     * next; readers do not mind, but the same rows must give the same bytes.
     */
    static void putInOrder(Path file) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
            long end = channel.size() - TAIL;
            int length = read(channel, end, Integer.BYTES).getInt();
            byte[] known = read(channel, end - length, length).array();
            FileMetaData metadata = Util.readFileMetaData(new ByteArrayInputStream(known));
            order(metadata);
            ByteArrayOutputStream sorted = new ByteArrayOutputStream(length);
            Util.writeFileMetaData(metadata, sorted);
            if (sorted.size() != length) {
                throw new IllegalStateException(
                        "the metadata changed more than its order: length=" + length + ", now=" + sorted.size());
            }
            write(channel, end - length, sorted.toByteArray());
        }
    }

    private static void order(FileMetaData metadata) {
        for (RowGroup group : metadata.getRow_groups()) {
            for (ColumnChunk chunk : group.getColumns()) {
                ColumnMetaData column = chunk.getMeta_data();
                column.getEncodings().sort(Comparator.comparingInt(Encoding::getValue));
                if (column.isSetEncoding_stats()) {
                    column.getEncoding_stats().sort(STATS);
                }
            }
        }
    }

    private static final Comparator<PageEncodingStats> STATS = Comparator.<PageEncodingStats>comparingInt(
                    stats -> stats.getPage_type().getValue())
            .thenComparingInt(stats -> stats.getEncoding().getValue());

    private static ByteBuffer read(FileChannel channel, long from, int length) throws IOException {
        ByteBuffer bytes = ByteBuffer.allocate(length).order(ByteOrder.LITTLE_ENDIAN);
        while (bytes.hasRemaining()) {
            if (channel.read(bytes, from + bytes.position()) < 0) {
                throw new IOException("the file ended while it was written: " + from);
            }
        }
        return bytes.flip();
    }

    private static void write(FileChannel channel, long at, byte[] content) throws IOException {
        ByteBuffer bytes = ByteBuffer.wrap(content);
        while (bytes.hasRemaining()) {
            channel.write(bytes, at + bytes.position());
        }
    }
}
