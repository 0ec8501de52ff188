package org.shiftstand.archive;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.List;

/** The directory at the end of a ZIP, compared with the entries that were read. */
final class ZipEnd {
    private static final int MODE_AT = 38;
    private static final int TYPE = 0170000;
    private static final int REGULAR = 0100000;

    private final ArchiveBytes bytes;
    private final FindingList findings;
    private final List<ZipRecords.Entry> entries;
    private final long offset;

    /** @param offset of the directory, whose first four bytes are already taken */
    ZipEnd(ArchiveBytes bytes, FindingList findings, List<ZipRecords.Entry> entries, long offset) {
        this.bytes = bytes;
        this.findings = findings;
        this.entries = entries;
        this.offset = offset;
    }

    void compare() throws IOException {
        long size = 0;
        boolean first = true;
        boolean same = true;
        for (ZipRecords.Entry entry : entries) {
            byte[] expected = ZipRecords.central(entry);
            int from = first ? 4 : 0;
            byte[] read = bytes.take(expected.length - from);
            same &= same(entry, Arrays.copyOfRange(expected, from, expected.length), read, from);
            first = false;
            size += expected.length;
        }
        byte[] end = ZipRecords.end(entries.size(), size, offset);
        if (!Arrays.equals(bytes.take(end.length), end) && same) {
            findings.container(Finding.Kind.CHANGED, "has an end of directory that does not fit its entries");
        }
        if (!bytes.atEnd()) {
            findings.container(Finding.Kind.EXTRA, "has data behind its end, at byte " + bytes.position());
        }
    }

    private boolean same(ZipRecords.Entry entry, byte[] expected, byte[] read, int from) {
        if (Arrays.equals(expected, read)) {
            return true;
        }
        int modeAt = MODE_AT - from;
        if (read.length >= modeAt + 4) {
            int type = ByteBuffer.wrap(read).order(ByteOrder.LITTLE_ENDIAN).getInt(modeAt) >>> 16 & TYPE;
            if (type != REGULAR && type != 0) {
                findings.add(
                        entry.name(),
                        Finding.Kind.LINK,
                        "is a link, folder or device in the archive's directory; only regular files are taken");
                return false;
            }
        }
        findings.add(
                entry.name(),
                Finding.Kind.CHANGED,
                "has an entry in the archive's directory other than the one that was written");
        return false;
    }
}
