package org.shiftstand.archive;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.cli.Cli;
import org.shiftstand.cli.Commands;
import org.shiftstand.document.BadInput;

/** Bags under other names, changed by several at once, with no room left, and unpacked where they are not sound. */
@Timeout(60)
class BagChangeTest {
    @TempDir
    Path dir;

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void a_bag_named_by_a_link_is_read_and_signed_where_it_lies(String name) throws IOException {
        Path real = Files.createDirectory(dir.resolve("shelf")).resolve(name);
        Bags.write(real);
        Path link = Files.createSymbolicLink(dir.resolve("latest"), real);

        assertThat(Bag.isNamedBy(link)).isTrue();
        assertThat(Bags.findings(link)).isEmpty();
        try (Bag bag = Bag.open(link)) {
            bag.add(Bags.SIGNATURE, Bags.utf8("{}\n"));
        }

        assertThat(link).isSymbolicLink();
        assertThat(Bags.namesIn(dir)).containsExactly("latest", "shelf");
        assertThat(Bags.check(real).below("signatures/")).containsOnlyKeys(Bags.SIGNATURE);
        assertThat(Bags.tree(Bag.open(link).extract(dir.resolve("out")))).containsKey(Bags.SIGNATURE);
    }

    /** Each knows of those before it, as signatures do; whoever comes too late looks again. */
    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void those_who_sign_at_the_same_moment_all_get_in(String name) throws Exception {
        Path out = dir.resolve(name);
        Bags.write(out);
        int signers = 6;
        ExecutorService pool = Executors.newFixedThreadPool(signers);
        List<Future<String>> all = new ArrayList<>();
        for (int i = 0; i < signers; i++) {
            String role = "role-" + i;
            all.add(pool.submit(() -> signed(out, role)));
        }
        List<String> paths = new ArrayList<>();
        for (Future<String> one : all) {
            paths.add(one.get());
        }
        pool.shutdown();

        Collections.sort(paths);
        assertThat(paths).extracting(path -> path.substring(0, 14)).doesNotHaveDuplicates();
        assertThat(Bags.findings(out)).isEmpty();
        assertThat(Bags.check(out).below("signatures/").keySet()).containsExactlyElementsOf(paths);
        assertThat(Bags.namesIn(dir)).containsExactly(name);
    }

    private static String signed(Path out, String role) {
        try (Bag bag = Bag.open(out)) {
            for (; ; ) {
                SortedMap<String, byte[]> earlier = bag.check().below("signatures/");
                String path = String.format(Locale.ROOT, "signatures/%03d-%s.json", earlier.size() + 1, role);
                SortedMap<String, byte[]> files = new TreeMap<>();
                files.put(path, Bags.utf8("{\"role\":\"" + role + "\"}\n"));
                files.put(path.replace("signatures/", "names/"), Bags.utf8("{}\n"));
                if (bag.addAfter(earlier, files)) {
                    return path;
                }
            }
        }
    }

    /** The program itself, while somebody else has the bag and signs it: it waits, and then signs after them. */
    @Test
    @EnabledOnOs(OS.LINUX)
    void who_comes_while_another_program_signs_waits_and_signs_after_it() throws Exception {
        Path bag = Files.createDirectory(dir.resolve("in")).resolve("bag");
        SortedMap<String, Payload> payload = new TreeMap<>();
        payload.put("result.json", Payload.of(Bags.utf8("""
                {"format":1,"unit":"TD-0107","verdict":"pass","spec":{"name":"s","version":1,"sha256":"%s"}}
                """.formatted("a".repeat(64)))));
        write(bag, payload);
        Path passphrase = Files.writeString(dir.resolve("passphrase"), "marsh and moor\n");
        Files.setPosixFilePermissions(passphrase, PosixFilePermissions.fromString("rw-------"));
        Cli cli = Cli.in(dir);
        assertThat(Commands.run(
                                "key",
                                "new",
                                "fell",
                                "--out",
                                dir.toString(),
                                "--passphrase-file",
                                passphrase.toString())
                        .exitCode())
                .isZero();
        String[] sign = {
            "sign",
            "in/bag",
            "--key",
            "fell.key.pem",
            "--passphrase-file",
            "passphrase",
            "--role",
            "tested-by",
            "--name",
            "R"
        };

        Cli.Result result;
        BagLock alone = BagLock.take(bag.toRealPath());
        try (Cli.Running running = cli.start(sign)) {
            try (alone) {
                await().atMost(Duration.ofSeconds(30)).until(() -> {
                    assertThat(running.alive()).as(running.err()).isTrue();
                    return hasOpen(running.pid(), ".bag.lock");
                });
                new FolderChange(bag).add("signatures/001-approved-by.json", Bags.utf8("{}\n"));
            }
            result = running.result();
        }

        assertThat(result.out()).contains("Signed in/bag, unit TD-0107, verdict pass: signatures/002-tested-by.json");
        assertThat(Bags.namesIn(dir.resolve("in"))).containsExactly("bag");
    }

    private static boolean hasOpen(long pid, String name) throws IOException {
        try (Stream<Path> open = Files.list(Path.of("/proc/" + pid + "/fd"))) {
            return open.anyMatch(
                    fd -> String.valueOf(pointsTo(fd).getFileName()).equals(name));
        }
    }

    private static Path pointsTo(Path fd) {
        try {
            return Files.readSymbolicLink(fd);
        } catch (IOException e) {
            return Path.of("gone"); // closed meanwhile
        }
    }

    @Test
    void a_lock_that_a_killed_program_left_holds_nobody_up() throws IOException {
        Bags.write(dir.resolve("bag"));
        Files.writeString(dir.resolve(".bag.lock"), "left");

        try (Bag bag = Bag.open(dir.resolve("bag"))) {
            bag.add(Bags.SIGNATURE, Bags.utf8("{}\n"));
        }

        assertThat(Bags.namesIn(dir)).containsExactly("bag");
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void a_bag_with_no_room_for_a_signature_says_so_and_stays_sound(String name) {
        Path out = dir.resolve(name);
        Bags.write(out);
        BagLimits full = new BagLimits(10, 1 << 20, 1 << 20, 200); // 5 of payload, 4 tag files, a name

        try (Bag bag = Bag.open(out, full)) {
            assertThat(bag.check().findings()).isEmpty();
            assertThatThrownBy(() -> bag.add(Bags.SIGNATURE, Bags.utf8("{}\n")))
                    .hasMessage(out + ": holds 10 of the 10 files that a bag may have: no room for " + Bags.SIGNATURE
                            + ". Nothing was added; archive the run anew with fewer files");
            assertThat(bag.check().findings()).isEmpty();
        }
    }

    @Test
    void the_fullest_bag_that_is_written_has_room_for_all_its_signatures() {
        Payload one = Payload.of(new byte[0]);
        SortedMap<String, Payload> payload = new TreeMap<>();
        for (int i = 0; i < 9_799; i++) {
            payload.put("p" + i, one);
        }
        assertThatThrownBy(() -> write(dir.resolve("bag.tar.gz"), payload))
                .hasMessage(dir.resolve("bag.tar.gz") + ": would hold 9799 payload files; 1 to 9798 with the names are"
                        + " expected, so that signatures have room");
        payload.remove("p0");
        write(dir.resolve("bag.tar.gz"), payload);
        SortedMap<String, byte[]> added = new TreeMap<>();
        for (int i = 1; i <= 99; i++) {
            String name = String.format(Locale.ROOT, "/%03d-tested-by.json", i);
            added.put("signatures" + name, Bags.utf8("{}\n"));
            added.put("names" + name, Bags.utf8("{}\n"));
        }

        assertThat(Bag.open(dir.resolve("bag.tar.gz")).addAfter(new TreeMap<>(), added))
                .isTrue();

        assertThat(Bags.findings(dir.resolve("bag.tar.gz"))).isEmpty();
    }

    private static void write(Path out, SortedMap<String, Payload> payload) {
        BagWriter.write(out, BagForm.of(out), "TD-0107", "shiftstand 0.1.0", payload, new TreeMap<>(), false);
    }

    /** What is no part of the bag is left out in silence nowhere. */
    @ParameterizedTest
    @ValueSource(strings = {"link", "empty folder", "other file"})
    void a_folder_that_is_not_sound_is_not_unpacked_and_leaves_no_folders(String sort) throws IOException {
        Path bag = dir.resolve("bag");
        Bags.write(bag);
        switch (sort) {
            case "link" -> Files.createSymbolicLink(bag.resolve("data/loop"), bag);
            case "empty folder" -> Files.createDirectory(bag.resolve("data/void"));
            default -> Files.writeString(bag.resolve("data/a b"), "x");
        }

        assertThatThrownBy(() -> Bag.open(bag).extract(dir.resolve("some/where/out")))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining(bag + ": data/");
        assertThat(Bags.namesIn(dir)).containsExactly("bag");
    }

    @Test
    void a_packed_bag_that_is_not_sound_leaves_no_folders_either() throws IOException {
        Path bag = dir.resolve("bag.zip");
        Bags.write(bag);
        Files.write(bag, new byte[] {0}, java.nio.file.StandardOpenOption.APPEND);

        assertThatThrownBy(() -> Bag.open(bag).extract(dir.resolve("some/where/out")))
                .isInstanceOf(BadInput.class);
        assertThat(Bags.namesIn(dir)).containsExactly("bag.zip");
    }

    @Test
    void folders_that_were_there_before_stay() throws IOException {
        Path bag = dir.resolve("bag");
        Bags.write(bag);
        Files.createSymbolicLink(bag.resolve("data/loop"), bag);
        Files.createDirectory(dir.resolve("some"));

        assertThatThrownBy(() -> Bag.open(bag).extract(dir.resolve("some/where/out")))
                .isInstanceOf(BadInput.class);
        assertThat(dir.resolve("some")).isEmptyDirectory();
    }
}
