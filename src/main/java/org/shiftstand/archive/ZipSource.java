package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Reads a {@code .zip}, strictly and from front to back: every record around the files must be the one that {@link ZipSink}
 * makes of the same files. What the compressed data looks like is free. The directory at the end is compared, never followed.
 */
final class ZipSource implements Source {
    private static final int MOST_FIELD = 1024;

    private final ArchiveBytes bytes;
    private final Budget budget;
    private final FindingList findings;
    private final EntryNames names;
    private final List<ZipRecords.Entry> entries = new ArrayList<>();
    private @Nullable Open current;

    private record Open(String name, boolean large, long offset, Inflated content) {}

    ZipSource(InputStream in, BagLimits limits, Budget budget, FindingList findings) {
        this.bytes = new ArchiveBytes(in);
        this.budget = budget;
        this.findings = findings;
        this.names = new EntryNames(findings, limits);
    }

    @Override
    public Optional<Member> next() throws IOException {
        while (true) {
            finishCurrent();
            long offset = bytes.position();
            byte[] signature = bytes.take(4);
            if (is(signature, ZipRecords.CENTRAL) && !entries.isEmpty()) {
                new ZipEnd(bytes, findings, entries, offset).compare();
                return Optional.empty();
            }
            if (!is(signature, ZipRecords.LOCAL)) {
                throw Stop.unreadable(
                        offset == 0
                                ? "does not begin with a ZIP entry; something stands in front, or this is no ZIP"
                                : "has neither an entry nor the directory at byte " + offset
                                        + ", where one must stand");
            }
            Optional<Member> member = member(offset);
            if (member.isPresent()) {
                return member;
            }
        }
    }

    private Optional<Member> member(long offset) throws IOException {
        byte[] rest = exactly(ZipRecords.LOCAL_OCTETS - 4);
        ByteBuffer fields = ByteBuffer.wrap(rest).order(ByteOrder.LITTLE_ENDIAN);
        int method = fields.getShort(4);
        int nameOctets = fields.getShort(22) & 0xFFFF;
        int extraOctets = fields.getShort(24) & 0xFFFF;
        if (nameOctets > MOST_FIELD) {
            throw Stop.unreadable("holds a name of " + nameOctets + " bytes, at byte " + offset);
        }
        byte[] nameBytes = exactly(nameOctets);
        byte[] extra = exactly(extraOctets);
        String name = new String(nameBytes, StandardCharsets.ISO_8859_1);
        boolean large = extraOctets > 0;
        Optional<String> path = names.take(name);
        if (method != 8) {
            throw Stop.unreadable("holds " + MemberPath.shown(name) + " in a way of compression (" + method
                    + ") that is not written; unpack it and check the folder");
        }
        compare(name, large, rest, nameBytes, extra);
        var content = new Inflated(bytes, budget);
        current = new Open(name, large, offset, content);
        return path.map(p -> new Member(p, -1, large, content));
    }

    private void compare(String name, boolean large, byte[] rest, byte[] nameBytes, byte[] extra) {
        ByteBuffer read = ZipRecords.buffer(ZipRecords.LOCAL_OCTETS + nameBytes.length + extra.length);
        read.putInt(ZipRecords.LOCAL).put(rest).put(nameBytes).put(extra);
        if (!Arrays.equals(read.array(), ZipRecords.local(name, large))) {
            findings.add(
                    name,
                    Finding.Kind.CHANGED,
                    "has a header in the archive (time, flags, version, extra fields) other than the one that was written");
        }
    }

    private void finishCurrent() throws IOException {
        if (current == null) {
            return;
        }
        Inflated content = current.content();
        content.drain();
        var entry = new ZipRecords.Entry(
                current.name(),
                current.large(),
                content.crc(),
                content.compressedOctets(),
                content.octets(),
                current.offset());
        entries.add(entry);
        current = null;
        byte[] expected = ZipRecords.descriptor(entry);
        if (!Arrays.equals(bytes.take(expected.length), expected)
                || entry.large() != entry.octets() >= ZipRecords.LARGE) {
            findings.add(
                    entry.name(),
                    Finding.Kind.CHANGED,
                    "has a checksum or size in the archive that does not fit its content");
        }
    }

    private byte[] exactly(int count) throws IOException {
        byte[] read = bytes.take(count);
        if (read.length < count) {
            throw Stop.unreadable("ends in the middle of an entry's header, at byte " + bytes.position());
        }
        return read;
    }

    private static boolean is(byte[] read, int signature) {
        return read.length == 4
                && ByteBuffer.wrap(read).order(ByteOrder.LITTLE_ENDIAN).getInt() == signature;
    }

    @Override
    public String top() {
        return names.top();
    }

    @Override
    public void close() throws IOException {
        if (current != null) {
            current.content().close();
        }
        bytes.close();
    }
}
