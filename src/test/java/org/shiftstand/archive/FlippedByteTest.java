package org.shiftstand.archive;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.BitSet;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.zip.GZIPInputStream;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipFile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.BadInput;

/**
 * Every byte of a small bag, changed in three ways. Either the check says no, or what it unpacks to is the same to the byte and
 * the changed one is within compressed data: deflate can say one thing in several ways, and leaves up to 7 bits at its end.
 */
class FlippedByteTest {
    private static final int[] CHANGES = {0x01, 0x80, 0xff};

    @TempDir
    Path dir;

    @Test
    void no_byte_of_a_folder_can_change_unseen() throws IOException {
        Path bag = Bags.signed(dir.resolve("bag"));
        int changed = 0;

        for (String file : Bags.tree(bag).keySet()) {
            // their content is the signatures' check's
            if (MemberPath.added(file)) {
                continue;
            }
            byte[] good = Bags.bytes(bag.resolve(file));
            for (int at = 0; at < good.length; at++) {
                for (int change : CHANGES) {
                    Files.write(bag.resolve(file), flipped(good, at, change));
                    List<String> named =
                            Bags.findings(bag).stream().map(Finding::file).toList();
                    assertThat(named).as("%s byte %d xor %x", file, at, change).isNotEmpty();
                    if (!file.equals(Manifest.TAG)) { // nothing tells whether it or what it lists has changed
                        assertThat(named).as("byte %d xor %x", at, change).contains(file);
                    }
                    changed++;
                }
            }
            Files.write(bag.resolve(file), good);
        }
        assertThat(changed).isGreaterThan(3 * 1000);
        assertThat(Bags.findings(bag)).isEmpty();
    }

    @Test
    void no_byte_of_a_tar_gz_can_change_unseen_but_how_deflate_says_the_same() throws IOException {
        Path bag = Bags.signed(dir.resolve("bag.tar.gz"));
        byte[] good = Bags.bytes(bag);
        byte[] tar = gunzip(good);
        var within = new BitSet();
        within.set(10, good.length - 8);

        int unseen = flipAll(
                bag, good, within, changed -> assertThat(gunzip(changed)).isEqualTo(tar));

        assertThat(unseen).isLessThan(good.length / 100);
    }

    @Test
    void no_byte_of_a_zip_can_change_unseen_but_how_deflate_says_the_same() throws IOException {
        Path bag = Bags.signed(dir.resolve("bag.zip"));
        byte[] good = Bags.bytes(bag);
        var within = new BitSet();
        Map<String, String> content = unzip(bag, within);

        int unseen = flipAll(
                bag,
                good,
                within,
                changed -> assertThat(unzip(bag, new BitSet())).isEqualTo(content));

        assertThat(unseen).isLessThan(good.length / 100);
    }

    /** @return how many changes went unseen, each proved harmless */
    private static int flipAll(Path bag, byte[] good, BitSet within, Proof proof) throws IOException {
        int unseen = 0;
        for (int at = 0; at < good.length; at++) {
            for (int change : CHANGES) {
                byte[] changed = flipped(good, at, change);
                Files.write(bag, changed);
                if (!refused(bag)) {
                    assertThat(within.get(at))
                            .as("byte %d xor %x is compressed data", at, change)
                            .isTrue();
                    proof.of(changed);
                    unseen++;
                }
            }
        }
        return unseen;
    }

    private static boolean refused(Path bag) {
        try {
            return !Bags.findings(bag).isEmpty();
        } catch (BadInput e) {
            return true; // no bag at all any more
        }
    }

    @FunctionalInterface
    private interface Proof {
        void of(byte[] changed) throws IOException;
    }

    private static byte[] flipped(byte[] good, int at, int change) {
        byte[] changed = good.clone();
        changed[at] ^= (byte) change;
        return changed;
    }

    private static byte[] gunzip(byte[] bytes) throws IOException {
        try (var in = new GZIPInputStream(new ByteArrayInputStream(bytes))) {
            return in.readAllBytes();
        }
    }

    /** Content by name as another reader sees it, and which bytes are compressed data. */
    private static Map<String, String> unzip(Path file, BitSet within) throws IOException {
        var content = new TreeMap<String, String>();
        try (ZipFile zip = ZipFile.builder().setPath(file).get()) {
            for (ZipArchiveEntry entry : java.util.Collections.list(zip.getEntries())) {
                var out = new ByteArrayOutputStream();
                zip.getInputStream(entry).transferTo(out);
                content.put(entry.getName(), Copy.sha256(out.toByteArray()));
                within.set((int) entry.getDataOffset(), (int) (entry.getDataOffset() + entry.getCompressedSize()));
            }
        }
        return content;
    }
}
