package org.shiftstand.archive;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.zip.GZIPOutputStream;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveOutputStream;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;

class HostileBagTest {
    @TempDir
    Path dir;

    @Nested
    class A_folder {
        private Path bag;

        @BeforeEach
        void write() {
            bag = Bags.signed(dir.resolve("bag"));
        }

        @Test
        void tells_all_that_is_wrong_at_once() throws IOException {
            Files.writeString(bag.resolve("data/result.json"), "{\"verdict\":\"fail\"}\n");
            Files.delete(bag.resolve("data/shifts.csv"));
            Files.writeString(bag.resolve("data/more.csv"), "x");
            Files.writeString(bag.resolve("notes.txt"), "x");
            Files.createDirectory(bag.resolve("data/void"));

            assertThat(Bags.kinds(bag))
                    .containsExactlyInAnyOrder(
                            "CHANGED data/result.json",
                            "MISSING data/shifts.csv",
                            "EXTRA data/more.csv",
                            "EXTRA notes.txt",
                            "EXTRA data/void",
                            "FORM bag-info.txt");
            assertThat(Bags.findings(bag))
                    .contains(new Finding(
                            "data/result.json",
                            Finding.Kind.CHANGED,
                            "has changed: its SHA-256 is not the one in manifest-sha256.txt"));
        }

        @Test
        void names_links_and_follows_none() throws IOException {
            Path secret = Files.writeString(dir.resolve("secret"), "x");
            Files.delete(bag.resolve("data/result.json"));
            Files.createSymbolicLink(bag.resolve("data/result.json"), secret);
            Files.createSymbolicLink(bag.resolve("signatures/002-approved-by.json"), secret);
            Files.createSymbolicLink(bag.resolve("data/loop"), bag);

            assertThat(Bags.kinds(bag))
                    .contains("LINK data/result.json", "LINK signatures/002-approved-by.json", "LINK data/loop");
            try (Bag open = Bag.open(bag, BagLimits.DEFAULT)) {
                assertThatThrownBy(() -> open.payload("data/result.json")).isInstanceOf(BadInput.class);
                assertThatThrownBy(() -> open.payload("data/loop/bagit.txt")).isInstanceOf(BadInput.class);
                assertThatThrownBy(() -> open.extract(dir.resolve("out"))).isInstanceOf(BadInput.class);
            }
            assertThat(dir.resolve("out")).doesNotExist();
        }

        @Test
        void does_not_write_a_signature_through_a_link() throws IOException {
            Path elsewhere = Files.createDirectory(dir.resolve("elsewhere"));
            Files.delete(bag.resolve(Bags.SIGNATURE));
            Files.delete(bag.resolve("signatures"));
            Files.createSymbolicLink(bag.resolve("signatures"), elsewhere);

            assertThatThrownBy(() -> {
                        try (Bag open = Bag.open(bag, BagLimits.DEFAULT)) {
                            open.add(Bags.SIGNATURE, new byte[1]);
                        }
                    })
                    .hasMessageContaining("is a link or file");
            assertThat(elsewhere).isEmptyDirectory();
        }

        @Test
        @Timeout(60) // a reader that opens a pipe waits for ever
        void names_a_pipe_and_does_not_open_it() throws Exception {
            assertThat(new ProcessBuilder("mkfifo", bag.resolve("data/pipe").toString())
                            .start()
                            .waitFor())
                    .isZero();

            assertThat(Bags.kinds(bag)).containsExactly("LINK data/pipe");
        }

        @ParameterizedTest
        @CsvSource({
            "fetch.txt, EXTRA",
            "manifest-md5.txt, EXTRA",
            "tagmanifest-sha512.txt, EXTRA",
            "signatures/first.json, EXTRA",
            "signatures/001-TESTED.json, EXTRA",
            "signatures/001-tested-by.json.bak, EXTRA",
            "names/a b.json, EXTRA",
            ".hidden, EXTRA",
            "data/RECORD.run, EXTRA"
        })
        void names_a_file_that_does_not_belong(String file, String kind) throws IOException {
            Files.writeString(bag.resolve(file), "x");

            assertThat(Bags.kinds(bag)).contains(kind + " " + file);
        }

        @Test
        void with_weaker_manifests_alone_is_refused() throws IOException {
            Files.writeString(bag.resolve("manifest-md5.txt"), "d41d8cd98f00b204e9800998ecf8427e  data/empty.txt\n");
            Files.delete(bag.resolve(Manifest.PAYLOAD));
            Files.delete(bag.resolve(Manifest.TAG));

            assertThat(Bags.kinds(bag))
                    .containsExactlyInAnyOrder(
                            "EXTRA manifest-md5.txt", "MISSING manifest-sha256.txt", "MISSING tagmanifest-sha256.txt");
            assertThat(Bags.check(bag).digest()).isEmpty();
        }

        @Test
        void that_holds_no_bag_is_said_to_be_none() throws IOException {
            Path folder = Files.createDirectory(dir.resolve("folder"));
            Files.writeString(folder.resolve("a.txt"), "x");

            assertThatThrownBy(() -> Bags.check(folder))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(folder + ": is no bag: it holds neither bagit.txt nor a SHA-256 manifest; expected what"
                            + " 'shiftstand archive' writes");
        }

        @Test
        void with_too_many_files_is_not_read_to_its_end() {
            try (Bag open = Bag.open(bag, new BagLimits(5, 1 << 20, 1 << 20, 200))) {
                assertThat(open.check().findings()).extracting(Finding::kind).contains(Finding.Kind.BOMB);
            }
        }
    }

    /** Whoever changes a manifest can make the tag manifest fit; what then still is refused. */
    @Nested
    class A_manifest {
        private Path bag;

        @BeforeEach
        void write() {
            bag = Bags.signed(dir.resolve("bag"));
        }

        @ParameterizedTest
        @ValueSource(
                strings = {
                    "../secret",
                    "data/../../secret",
                    "/etc/passwd",
                    "data/./x",
                    "data\\..\\x",
                    "C:/x",
                    "c:x",
                    "data/%2e%2e/x",
                    "data/x\0.csv",
                    "data//x",
                    "data/con.txt",
                    "~root/x",
                    "data/\u202e.csv"
                })
        void may_name_nothing_that_leads_out(String name) throws IOException {
            append(Manifest.PAYLOAD, "0".repeat(64) + "  " + name + "\n");

            assertThat(Bags.findings(bag)).anyMatch(f -> f.kind() == Finding.Kind.ESCAPE);
            assertThat(Bags.findings(bag)).allMatch(f -> f.toString().chars().allMatch(c -> c >= ' ' && c < 0x7f));
        }

        @Test
        void may_list_nothing_twice() throws IOException {
            append(Manifest.PAYLOAD, "0".repeat(64) + "  data/shifts.csv\n");

            assertThat(Bags.kinds(bag)).contains("FORM data/shifts.csv");
        }

        @Test
        void may_list_tag_files_only_where_they_belong() throws IOException {
            append(Manifest.PAYLOAD, "0".repeat(64) + "  bagit.txt\n");
            append(Manifest.TAG, "0".repeat(64) + "  data/shifts.csv\n");

            assertThat(Bags.kinds(bag)).contains("ESCAPE bagit.txt", "FORM data/shifts.csv");
        }

        @ParameterizedTest
        @ValueSource(
                strings = {"upper", "crlf", "reversed", "one space", "binary", "blank line", "no last line feed", "bom"
                })
        void is_written_in_one_way_only(String change) throws IOException {
            Path file = bag.resolve(Manifest.PAYLOAD);
            String text = Files.readString(file);
            List<String> lines = new java.util.ArrayList<>(text.lines().toList());
            java.util.Collections.reverse(lines);
            Files.writeString(
                    file,
                    switch (change) {
                        case "upper" ->
                            text.replace('a', 'A').replace("dAtA", "data").replace("yAml", "yaml");
                        case "crlf" -> text.replace("\n", "\r\n");
                        case "reversed" -> String.join("\n", lines) + "\n";
                        case "one space" -> text.replace("  ", " ");
                        case "binary" -> text.replace("  ", " *");
                        case "blank line" -> text + "\n";
                        case "no last line feed" -> text.strip();
                        case "bom" -> "\ufeff" + text;
                        default -> throw new IllegalArgumentException(change);
                    });
            fit();

            assertThat(Bags.kinds(bag)).contains("FORM manifest-sha256.txt");
        }

        @ParameterizedTest
        @ValueSource(
                strings = {
                    "BagIt-Version: 0.97\nTag-File-Character-Encoding: UTF-8\n",
                    "BagIt-Version: 1.0\r\nTag-File-Character-Encoding: UTF-8\r\n",
                    "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-16\n",
                    ""
                })
        void a_declaration_is_the_two_lines(String text) throws IOException {
            Files.writeString(bag.resolve("bagit.txt"), text);
            fit();

            assertThat(Bags.kinds(bag)).containsExactly("FORM bagit.txt");
        }

        @ParameterizedTest
        @CsvSource({
            "386.5, 387.5, states a Payload-Oxum of 387.5",
            "386.5, 386.6, states a Payload-Oxum of 386.6",
            "386.5, 0386.5, is not the four lines",
            "386.5, 99999999999999999999999.5, is not the four lines",
            "Format: 1, Format: 2, states bag format 2; this program knows format 1",
            "External-Identifier, external-identifier, is not the four lines"
        })
        void bag_info_is_the_four_lines_and_true(String from, String to, String said) throws IOException {
            Path file = bag.resolve("bag-info.txt");
            Files.writeString(file, Files.readString(file).replace(from, to));
            fit();

            assertThat(Bags.findings(bag)).hasSize(1);
            assertThat(Bags.findings(bag).get(0).toString()).startsWith("bag-info.txt: " + said);
        }

        @Test
        void of_junk_gives_a_bounded_number_of_findings() throws IOException {
            append(Manifest.PAYLOAD, "junk\n".repeat(100_000));

            assertThat(Bags.findings(bag)).hasSizeBetween(1000, 1001);
            assertThat(Bags.findings(bag).toString()).contains("more findings like these");
        }

        private void append(String manifest, String line) throws IOException {
            Files.writeString(bag.resolve(manifest), line, StandardOpenOption.APPEND);
            if (manifest.equals(Manifest.PAYLOAD)) {
                fit();
            }
        }

        /** What somebody does who knows the format and has no key. */
        private void fit() {
            SortedMap<String, String> digests = new TreeMap<>();
            for (String file : List.of("bag-info.txt", "bagit.txt", Manifest.PAYLOAD)) {
                digests.put(file, Copy.sha256(Bags.bytes(bag.resolve(file))));
            }
            try {
                Files.write(bag.resolve(Manifest.TAG), Manifest.bytes(digests));
            } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
            }
        }
    }

    @Nested
    class A_tar_gz {
        private final Path bag() {
            return dir.resolve("bag.tar.gz");
        }

        @ParameterizedTest
        @ValueSource(
                strings = {"bag/../../secret", "/etc/cron.d/x", "bag/data\\x", "bag/%2e%2e/x", "c:/x", "bag//x", ".."})
        void may_name_nothing_that_leads_out(String name) throws IOException {
            tar(tar -> file(tar, entry(name, '0'), new byte[3]));

            assertThat(Bags.findings(bag())).anyMatch(f -> f.kind() == Finding.Kind.ESCAPE);
            unpacksNothing();
        }

        @ParameterizedTest
        @ValueSource(chars = {'1', '2', '3', '4', '6'})
        void may_hold_no_links_and_devices(char type) throws IOException {
            tar(tar -> {
                TarArchiveEntry link = entry("bag/data/result.json", type);
                link.setLinkName("/etc/passwd");
                file(tar, link, new byte[0]);
            });

            assertThat(Bags.kinds(bag())).contains("LINK bag/data/result.json");
            unpacksNothing();
        }

        @Test
        void may_hold_one_file_only_once_and_in_one_folder() throws IOException {
            tar(tar -> {
                file(tar, entry("bag/bagit.txt", '0'), BagInfo.declaration());
                file(tar, entry("bag/data/a", '0'), new byte[1]);
                file(tar, entry("bag/data/a", '0'), new byte[2]);
                file(tar, entry("bag/data/A", '0'), new byte[2]);
                file(tar, entry("nested/bagit.txt", '0'), new byte[2]);
                file(tar, entry("bagit.txt", '0'), new byte[2]);
            });

            assertThat(Bags.kinds(bag()))
                    .contains(
                            "EXTRA data/a",
                            "EXTRA data/A",
                            "EXTRA nested/bagit.txt",
                            "EXTRA bagit.txt",
                            "FORM bag/data/A");
        }

        /** 1 GiB of zeros in 1 MiB, of which the header of the tar declares all, and bag-info.txt 10 bytes. */
        @Test
        void that_expands_to_more_than_it_declares_is_not_read_to_its_end() throws IOException {
            tar(tar -> {
                byte[] info = new BagInfo("TD-0107", "shiftstand", 10, 1).bytes();
                file(tar, entry("bag/bag-info.txt", '0'), info);
                zeros(tar, entry("bag/data/record.run", '0'), 1L << 30);
            });
            assertThat(Files.size(bag())).isLessThan(2 << 20);

            assertThat(Bags.findings(bag())).hasSize(1);
            assertThat(Bags.findings(bag()).get(0).toString())
                    .isEqualTo(
                            "container: expands to more than the 10 bytes of payload that bag-info.txt states; reading stopped"
                                    + " there");
            unpacksNothing();
        }

        @Test
        void that_expands_more_than_two_hundred_to_one_is_not_read_to_its_end() throws IOException {
            tar(tar -> zeros(tar, entry("bag/data/record.run", '0'), 1L << 28));

            assertThat(Bags.findings(bag())).hasSize(1);
            assertThat(Bags.findings(bag()).get(0).toString()).startsWith("container: expands more than 200 to one");
        }

        @Test
        void with_too_many_files_is_not_read_to_its_end() throws IOException {
            tar(tar -> {
                for (int i = 0; i < 10_001; i++) {
                    file(tar, entry("bag/data/" + i, '0'), new byte[0]);
                }
            });

            assertThat(Bags.findings(bag()).toString()).contains("holds more than 10000 files");
        }

        @Test
        void with_a_second_gzip_member_or_anything_behind_it_is_refused() throws IOException {
            Bags.write(bag());
            byte[] good = Bags.bytes(bag());
            Files.write(bag(), good, StandardOpenOption.APPEND);

            assertThat(Bags.kinds(bag())).containsExactly("EXTRA container");
        }

        @Test
        void with_data_behind_the_end_of_the_tar_is_refused() throws IOException {
            Bags.write(bag());
            byte[] tar;
            try (var in = new java.util.zip.GZIPInputStream(Files.newInputStream(bag()))) {
                tar = in.readAllBytes();
            }
            var sink = new ByteArrayOutputStream();
            sink.write(GzipFrame.header());
            var deflated = new java.util.zip.DeflaterOutputStream(sink, new java.util.zip.Deflater(-1, true));
            byte[] longer = Arrays.copyOf(tar, tar.length + 512);
            deflated.write(longer);
            deflated.finish();
            var crc = new java.util.zip.CRC32();
            crc.update(longer);
            sink.write(GzipFrame.trailer(crc.getValue(), longer.length));
            Files.write(bag(), sink.toByteArray());

            assertThat(Bags.findings(bag()))
                    .containsExactly(
                            new Finding("container", Finding.Kind.EXTRA, "has data behind the end of the tar"));
        }

        @Test
        void with_a_name_of_gigabytes_takes_no_memory_for_it() throws IOException {
            tar(tar -> zeros(tar, entry("././@LongLink", 'L'), 1L << 30));

            assertThat(Bags.findings(bag()).toString()).contains("holds a name of 1073741824 bytes");
        }

        @Test
        void packed_by_another_program_is_told_so() throws Exception {
            Bags.write(dir.resolve("bag"));
            assertThat(new ProcessBuilder("tar", "czf", "bag.tar.gz", "bag")
                            .directory(dir.toFile())
                            .start()
                            .waitFor())
                    .isZero();

            assertThat(Bags.findings(bag())).isNotEmpty();
            assertThat(Bags.findings(bag())).noneMatch(f -> f.kind() == Finding.Kind.BOMB);
        }

        private void unpacksNothing() throws IOException {
            Path out = dir.resolve("deep/deeper/out");
            assertThatThrownBy(() -> {
                        try (Bag open = Bag.open(bag(), BagLimits.DEFAULT)) {
                            open.extract(out);
                        }
                    })
                    .isInstanceOf(BadInput.class);
            assertThat(Bags.tree(dir).keySet()).containsExactly("bag.tar.gz");
        }

        private void tar(Content content) throws IOException {
            try (OutputStream out = Files.newOutputStream(bag());
                    OutputStream gzip = new GZIPOutputStream(out);
                    TarArchiveOutputStream tar = TarHeader.stream(gzip)) {
                content.to(tar);
                tar.finish();
            }
        }

        private TarArchiveEntry entry(String name, char type) {
            var entry = new TarArchiveEntry(name, (byte) type, true); // keeps slashes and dots
            entry.setLastModifiedTime(TarHeader.entry("x", 0).getLastModifiedTime());
            entry.setMode(0644);
            entry.setIds(0, 0);
            entry.setNames("", "");
            return entry;
        }

        private void file(TarArchiveOutputStream tar, TarArchiveEntry entry, byte[] content) throws IOException {
            entry.setSize(content.length);
            tar.putArchiveEntry(entry);
            tar.write(content);
            tar.closeArchiveEntry();
        }

        private void zeros(TarArchiveOutputStream tar, TarArchiveEntry entry, long octets) throws IOException {
            entry.setSize(octets);
            tar.putArchiveEntry(entry);
            var block = new byte[1 << 20];
            for (long left = octets; left > 0; left -= block.length) {
                tar.write(block);
            }
            tar.closeArchiveEntry();
        }
    }

    @FunctionalInterface
    private interface Content {
        void to(TarArchiveOutputStream tar) throws IOException;
    }

    @Nested
    class A_zip {
        private Path bag() {
            return dir.resolve("bag.zip");
        }

        @ParameterizedTest
        @ValueSource(
                strings = {
                    "bag/../../secret",
                    "/etc/cron.d/x",
                    "bag/data\\x",
                    "bag/%2e%2e/x",
                    "c:/x",
                    "bag//x",
                    "bag/\0"
                })
        void may_name_nothing_that_leads_out(String name) throws IOException {
            try (Sink sink = new ZipSink(Files.newOutputStream(bag()), "bag")) {
                sink.put(Member.of("bagit.txt", 0, java.io.InputStream.nullInputStream()));
                sink.finish();
            }
            byte[] bytes = Bags.bytes(bag());
            String patched = new String(bytes, StandardCharsets.ISO_8859_1)
                    .replace("bag/bagit.txt", (name + "xxxxxxxxxxxxx").substring(0, 13));
            Files.write(bag(), patched.getBytes(StandardCharsets.ISO_8859_1));

            assertThat(Bags.findings(bag())).anyMatch(f -> f.kind() == Finding.Kind.ESCAPE);
        }

        @Test
        void may_hold_no_symbolic_links() throws IOException {
            try (var zip = new ZipArchiveOutputStream(Files.newOutputStream(bag()))) {
                var link = new ZipArchiveEntry("bag/data/result.json");
                link.setUnixMode(0120777);
                zip.putArchiveEntry(link);
                zip.write(Bags.utf8("/etc/passwd"));
                zip.closeArchiveEntry();
            }

            assertThat(Bags.kinds(bag())).contains("LINK bag/data/result.json");
        }

        /** Only the directory at the end says that it is one. */
        @Test
        void may_call_no_file_a_link_in_its_directory_alone() throws IOException {
            Bags.write(bag());
            byte[] bytes = Bags.bytes(bag());
            int directory = indexOf(bytes, new byte[] {'P', 'K', 1, 2});
            bytes[directory + 41] = (byte) 0xa1;
            Files.write(bag(), bytes);

            assertThat(Bags.kinds(bag())).containsExactly("LINK bag/bag-info.txt");
        }

        @Test
        void that_expands_more_than_two_hundred_to_one_is_not_read_to_its_end() throws IOException {
            try (Sink sink = new ZipSink(Files.newOutputStream(bag()), "bag")) {
                sink.put(Member.of("data/record.run", 1 << 28, zeros(1 << 28)));
                sink.finish();
            }

            assertThat(Bags.findings(bag())).hasSize(1);
            assertThat(Bags.findings(bag()).get(0).toString()).startsWith("container: expands more than 200 to one");
        }

        /** One kernel of compressed zeros, and a directory of many files that all lie in it. */
        @Test
        void whose_files_overlap_is_refused() throws IOException {
            var out = new ByteArrayOutputStream();
            try (Sink sink = new ZipSink(out, "bag")) {
                sink.put(Member.of("bagit.txt", 0, zeros(0)));
                sink.put(Member.of("data/0", 1 << 20, zeros(1 << 20)));
            }
            int directory = out.size();
            var crc = new java.util.zip.CRC32();
            crc.update(new byte[1 << 20]);
            for (int i = 0; i < 5000; i++) {
                out.write(ZipRecords.central(
                        new ZipRecords.Entry("bag/data/" + i, false, crc.getValue(), 1040, 1 << 20, 61)));
            }
            out.write(ZipRecords.end(5000, out.size() - directory, directory));
            Files.write(bag(), out.toByteArray());

            BagCheck check = Bags.check(bag());

            assertThat(check.octets()).isEqualTo(1 << 20);
            assertThat(check.findings()).anyMatch(f -> f.file().equals("container"));
        }

        @Test
        void with_anything_in_front_of_it_is_refused() throws IOException {
            Bags.write(bag());
            byte[] good = Bags.bytes(bag());
            Files.write(bag(), Bags.utf8("#!/bin/sh\n"));
            Files.write(bag(), good, StandardOpenOption.APPEND);

            assertThat(Bags.findings(bag()).get(0).toString()).startsWith("container: does not begin with a ZIP entry");
        }

        @Test
        void with_anything_behind_it_is_refused() throws IOException {
            Bags.write(bag());
            Files.writeString(bag(), "x", StandardOpenOption.APPEND);

            assertThat(Bags.kinds(bag())).containsExactly("EXTRA container");
        }

        private java.io.InputStream zeros(int octets) {
            return new java.io.ByteArrayInputStream(new byte[octets]);
        }

        private int indexOf(byte[] bytes, byte[] part) {
            return new String(bytes, StandardCharsets.ISO_8859_1)
                    .indexOf(new String(part, StandardCharsets.ISO_8859_1));
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag.tar.gz", "bag.zip"})
    void an_archive_cut_anywhere_is_refused(String name) throws IOException {
        Path bag = Bags.signed(dir.resolve(name));
        byte[] good = Bags.bytes(bag);

        for (int length = 0; length < good.length; length += 3) {
            Files.write(bag, Arrays.copyOf(good, length));
            assertThat(findingsOrNoBag(bag))
                    .as("cut at %d of %d", length, good.length)
                    .isNotEmpty();
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag.tar.gz", "bag.zip"})
    void an_archive_damaged_at_random_is_refused_and_breaks_nothing(String name) throws IOException {
        Path bag = Bags.signed(dir.resolve(name));
        byte[] good = Bags.bytes(bag);
        SortedMap<String, String> content = Bags.tree(extracted(bag, "good"));

        for (int seed = 0; seed < 500; seed++) {
            Files.write(bag, damaged(good, new Random(seed)));
            if (findingsOrNoBag(bag).isEmpty()) { // deflate said the same in another way
                assertThat(Bags.tree(extracted(bag, "seed" + seed)))
                        .as("seed %d", seed)
                        .isEqualTo(content);
            }
        }
    }

    /** Behind gzip's checksum, where random damage does not get. */
    @Test
    void a_tar_damaged_at_random_within_its_gzip_is_refused_and_breaks_nothing() throws IOException {
        Path bag = Bags.signed(dir.resolve("bag.tar.gz"));
        byte[] tar;
        try (var in = new java.util.zip.GZIPInputStream(Files.newInputStream(bag))) {
            tar = in.readAllBytes();
        }
        String added = added(bag);
        for (int seed = 0; seed < 500; seed++) {
            byte[] changed = damaged(tar, new Random(seed));
            try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(bag))) {
                out.write(changed);
            }
            if (!Arrays.equals(changed, tar)) {
                // the content of signatures and names is the only thing that is not this check's
                assertThat(!findingsOrNoBag(bag).isEmpty() || !added(bag).equals(added))
                        .as("seed %d", seed)
                        .isTrue();
            }
        }
    }

    private static String added(Path bag) {
        var text = new StringBuilder();
        Bags.check(bag).small().forEach((file, bytes) -> {
            if (MemberPath.added(file)) {
                text.append(file).append(Copy.sha256(bytes));
            }
        });
        return text.toString();
    }

    private Path extracted(Path bag, String name) {
        try (Bag open = Bag.open(bag, BagLimits.DEFAULT)) {
            return open.extract(dir.resolve(name));
        }
    }

    private static List<String> findingsOrNoBag(Path bag) {
        try {
            return Bags.kinds(bag);
        } catch (BadInput e) {
            return List.of(e.getMessage());
        }
    }

    private static byte[] damaged(byte[] good, Random random) {
        byte[] bytes = good.clone();
        switch (random.nextInt(4)) {
            case 0 -> { // some bytes anew
                for (int i = random.nextInt(8); i >= 0; i--) {
                    bytes[random.nextInt(bytes.length)] = (byte) random.nextInt();
                }
            }
            case 1 -> { // a stretch copied elsewhere
                int length = 1 + random.nextInt(bytes.length / 2);
                System.arraycopy(
                        bytes,
                        random.nextInt(bytes.length - length + 1),
                        bytes,
                        random.nextInt(bytes.length - length + 1),
                        length);
            }
            case 2 -> Arrays.fill(bytes, random.nextInt(bytes.length), bytes.length, (byte) 0);
            default -> bytes = Arrays.copyOf(bytes, bytes.length + 1 + random.nextInt(600)); // zeros behind it
        }
        return bytes;
    }
}
