package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.compress.archivers.tar.TarUtils;
import org.jspecify.annotations.Nullable;

/**
 * Reads a {@code .tar.gz}, strictly: the tar within must be byte for byte the one that {@link TarGzSink} makes of the same
 * files, and so must what gzip puts around it. What gzip's compressed data looks like is free.
 */
final class TarGzSource implements Source {
    private static final int SIZE_AT = 124;
    private static final int SIZE_OCTETS = 12;
    private static final int TYPE_AT = 156;

    private final ArchiveBytes bytes;
    private final Inflated tar;
    private final FindingList findings;
    private final EntryNames names;
    private @Nullable Slice current;
    private boolean begun;

    TarGzSource(InputStream in, BagLimits limits, Budget budget, FindingList findings) {
        this.bytes = new ArchiveBytes(in);
        this.tar = new Inflated(bytes, budget);
        this.findings = findings;
        this.names = new EntryNames(findings, limits);
    }

    @Override
    public Optional<Member> next() throws IOException {
        begin();
        while (true) {
            finishCurrent();
            byte[] header = block();
            if (isZero(header)) {
                end();
                return Optional.empty();
            }
            Optional<Member> member = member(header);
            if (member.isPresent()) {
                return member;
            }
        }
    }

    private void begin() throws IOException {
        if (begun) {
            return;
        }
        begun = true;
        byte[] header = bytes.take(GzipFrame.header().length);
        if (header.length < 10 || header[0] != 0x1f || (header[1] & 0xFF) != 0x8b || header[2] != 8 || header[3] != 0) {
            throw Stop.unreadable("does not begin as a gzip file without name, comment or other fields");
        }
        if (!Arrays.equals(header, GzipFrame.header())) {
            findings.container(
                    Finding.Kind.CHANGED,
                    "has a gzip header with a time, level or system; the one that was written has none");
        }
    }

    private Optional<Member> member(byte[] first) throws IOException {
        byte[] header = first;
        String name = text(first, 0, 100);
        if (first[TYPE_AT] == 'L') {
            long length = size(first);
            if (length > 8L * TarHeader.BLOCK) {
                throw Stop.unreadable("holds a name of " + length + " bytes");
            }
            byte[] longName = blocks((int) length);
            byte[] own = block();
            name = text(longName, 0, (int) length);
            header = joined(joined(first, longName), own);
        }
        byte[] own = Arrays.copyOfRange(header, header.length - TarHeader.BLOCK, header.length);
        long octets = size(own);
        current = new Slice(octets);
        Optional<String> path = regular(name, own) ? names.take(name) : refused(name, own);
        if (path.isPresent() && !Arrays.equals(header, TarHeader.of(name, octets))) {
            findings.add(
                    path.get(),
                    Finding.Kind.CHANGED,
                    "has a header in the archive (time, mode, owner, padding) other than the one that was written");
        }
        Slice content = current;
        return path.map(p -> Member.of(p, octets, content));
    }

    private boolean regular(String name, byte[] header) {
        return header[TYPE_AT] == '0' && !name.endsWith("/");
    }

    /** Anything but a regular file: reported, its name as well, its data passed over. */
    private Optional<String> refused(String name, byte[] header) throws IOException {
        char type = (char) (header[TYPE_AT] & 0xFF);
        boolean link = "123467".indexOf(type) >= 0;
        findings.add(
                name,
                link ? Finding.Kind.LINK : Finding.Kind.FORM,
                link
                        ? "is a link, device or pipe in the archive; only regular files are taken"
                        : "is an entry of type '" + MemberPath.shown(String.valueOf(type))
                                + "' in the archive; only regular files are written");
        names.take(name.endsWith("/") ? name.substring(0, name.length() - 1) : name);
        return Optional.empty();
    }

    private void finishCurrent() throws IOException {
        if (current == null) {
            return;
        }
        current.transferTo(java.io.OutputStream.nullOutputStream());
        int padding = (int) (-current.octets & (TarHeader.BLOCK - 1));
        current = null;
        if (!isZero(tarBytes(padding))) {
            findings.container(
                    Finding.Kind.CHANGED, "has bytes in the padding behind a file, where zeros were written");
        }
    }

    private void end() throws IOException {
        boolean zero = isZero(block());
        long afterwards = tar.octets();
        tar.drain();
        if (!zero || tar.octets() != afterwards) {
            findings.container(Finding.Kind.EXTRA, "has data behind the end of the tar");
        }
        if (!Arrays.equals(bytes.take(8), GzipFrame.trailer(tar.crc(), tar.octets()))) {
            findings.container(Finding.Kind.CHANGED, "has a gzip checksum or size that does not fit its content");
        }
        if (!bytes.atEnd()) {
            findings.container(Finding.Kind.EXTRA, "has data behind its end, at byte " + bytes.position());
        }
    }

    private byte[] block() throws IOException {
        return tarBytes(TarHeader.BLOCK);
    }

    private byte[] blocks(int octets) throws IOException {
        return tarBytes((octets + TarHeader.BLOCK - 1) / TarHeader.BLOCK * TarHeader.BLOCK);
    }

    private byte[] tarBytes(int count) throws IOException {
        byte[] read = tar.readNBytes(count);
        if (read.length < count) {
            throw Stop.unreadable("ends in the middle of the tar, after " + tar.octets() + " bytes of it");
        }
        return read;
    }

    private static long size(byte[] header) throws IOException {
        try {
            long octets = TarUtils.parseOctalOrBinary(header, SIZE_AT, SIZE_OCTETS);
            if (octets >= 0) {
                return octets;
            }
        } catch (IllegalArgumentException e) {
            // said below, in words of its own
        }
        throw Stop.unreadable("has a file whose size is no number: "
                + MemberPath.shown(new String(header, 0, 100, StandardCharsets.ISO_8859_1).trim()));
    }

    /** Up to the first NUL; anything behind it shows when the whole header is compared. */
    private static String text(byte[] bytes, int from, int most) {
        int end = from;
        while (end < from + most && bytes[end] != 0) {
            end++;
        }
        return new String(bytes, from, end - from, StandardCharsets.ISO_8859_1);
    }

    private static byte[] joined(byte[] a, byte[] b) {
        byte[] both = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, both, a.length, b.length);
        return both;
    }

    private static boolean isZero(byte[] bytes) {
        for (byte b : bytes) {
            if (b != 0) {
                return false;
            }
        }
        return true;
    }

    @Override
    public String top() {
        return names.top();
    }

    @Override
    public void close() throws IOException {
        tar.close();
        bytes.close();
    }

    /** The bytes of one file within the tar. */
    private final class Slice extends InputStream {
        private final long octets;
        private long left;

        Slice(long octets) {
            this.octets = octets;
            this.left = octets;
        }

        @Override
        public int read() throws IOException {
            var one = new byte[1];
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
        }

        @Override
        public int read(byte[] to, int from, int count) throws IOException {
            if (left == 0) {
                return -1;
            }
            int n = tar.read(to, from, (int) Math.min(count, left));
            if (n < 0) {
                throw Stop.unreadable("ends in the middle of a file, " + left + " bytes before that file's end");
            }
            left -= n;
            return n;
        }
    }
}
