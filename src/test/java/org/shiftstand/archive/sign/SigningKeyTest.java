package org.shiftstand.archive.sign;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.BadInput;

class SigningKeyTest {
    private static final Path KEYS = Path.of("src/test/resources/keys");

    @TempDir
    Path folder;

    private static char[] passphrase() throws IOException {
        return Files.readAllLines(KEYS.resolve("passphrase.txt")).get(0).toCharArray();
    }

    private Path secret(String name) throws IOException {
        Path copy = Files.copy(KEYS.resolve(name), folder.resolve(name));
        return Files.setPosixFilePermissions(copy, PosixFilePermissions.fromString("rw-------"));
    }

    @Test
    void a_new_key_is_read_back_by_its_passphrase_and_by_its_owner_only() throws IOException {
        SigningKey made = SigningKey.generate(new SecureRandom());
        Path secretFile = folder.resolve("r-fell.key.pem");
        Path publicFile = folder.resolve("r-fell.pub.pem");

        made.write(secretFile, publicFile, "marsh and moor".toCharArray(), new SecureRandom());

        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(secretFile)))
                .isEqualTo("rw-------");
        assertThat(SigningKey.read(secretFile, "marsh and moor".toCharArray()).id())
                .isEqualTo(made.id());
        assertThat(PublicId.read(publicFile)).isEqualTo(made.id());
        assertThatThrownBy(() -> SigningKey.read(secretFile, "marsh and moo".toCharArray()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("the passphrase is wrong, or the file is damaged");
        assertThatThrownBy(() -> made.write(secretFile, publicFile, "another one".toCharArray(), new SecureRandom()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("no key is ever overwritten");
    }

    @Test
    void a_key_made_by_openssl_is_read_and_has_the_public_half_that_openssl_says() throws IOException {
        SigningKey read = SigningKey.read(secret("openssl.key.pem"), passphrase());

        assertThat(read.id()).isEqualTo(PublicId.read(KEYS.resolve("openssl.pub.pem")));
    }

    @Test
    void a_secret_that_others_may_read_is_refused_with_what_to_do() throws IOException {
        Path key = secret("openssl.key.pem");
        Files.setPosixFilePermissions(key, PosixFilePermissions.fromString("rw-r-----"));

        assertThatThrownBy(() -> SigningKey.read(key, passphrase()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("rw-r-----")
                .hasMessageContaining("chmod 600");
    }

    @Test
    void keys_that_are_unencrypted_or_of_another_kind_are_refused() throws IOException {
        Path unencrypted = secret("unencrypted.key.pem");
        Path ed448 = secret("ed448.key.pem");
        Path rsa = secret("rsa.key.pem");
        Path publicKey = secret("openssl.pub.pem");

        assertThatThrownBy(() -> SigningKey.read(unencrypted, passphrase()))
                .hasMessageContaining("without a passphrase")
                .hasMessageContaining("openssl pkcs8");
        assertThatThrownBy(() -> SigningKey.read(ed448, passphrase())).hasMessageContaining("no Ed25519 key");
        assertThatThrownBy(() -> SigningKey.read(rsa, passphrase())).hasMessageContaining("no Ed25519 key");
        assertThatThrownBy(() -> SigningKey.read(publicKey, passphrase())).hasMessageContaining("PUBLIC KEY");
        assertThatThrownBy(() -> SigningKey.read(folder.resolve("none.pem"), passphrase()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("no such file");
    }

    @Test
    void every_changed_byte_of_a_key_file_is_refused_in_words_or_leaves_the_key_as_it_was() throws IOException {
        Path key = secret("openssl.key.pem");
        Files.copy(KEYS.resolve("openssl.pub.pem"), folder.resolve("openssl.pub.pem"));
        PublicId good = PublicId.read(KEYS.resolve("openssl.pub.pem"));
        byte[] bytes = Files.readAllBytes(key);
        for (int i = 0; i < bytes.length; i++) {
            byte[] changed = bytes.clone();
            changed[i] ^= 0x01;
            Files.write(key, changed);
            Optional<PublicId> read = Optional.empty();
            try {
                read = Optional.of(SigningKey.read(key, passphrase()).id());
            } catch (BadInput e) {
                assertThat(e.problems()).as("byte %d", i).isNotEmpty();
            }
            assertThat(read.filter(id -> !id.equals(good))).as("byte %d", i).isEmpty();
        }
    }

    /** Of 256 wrong passphrases one decrypts to what could be the end of a key (RFC 8018, 6.1.1: padding); it is as wrong. */
    @Test
    void every_wrong_passphrase_is_told_to_be_one() throws IOException {
        Path key = secret("openssl.key.pem");

        for (int i = 0; i < 1000; i++) {
            char[] wrong = ("wrong-" + i).toCharArray();
            assertThatThrownBy(() -> SigningKey.read(key, wrong))
                    .as("wrong-%d", i)
                    .isInstanceOf(BadInput.class)
                    .hasMessageContaining("the passphrase is wrong, or the file is damaged");
        }
    }

    @Test
    void no_key_replaces_another_and_a_half_that_is_there_keeps_the_other_from_being_made() throws IOException {
        SigningKey made = SigningKey.generate(new SecureRandom());
        Path secretFile = folder.resolve("h-moss.key.pem");
        Path publicFile = Files.writeString(folder.resolve("h-moss.pub.pem"), "somebody's");

        assertThatThrownBy(() -> made.write(secretFile, publicFile, "marsh and moor".toCharArray(), new SecureRandom()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("h-moss.pub.pem")
                .hasMessageContaining("exists already");

        assertThat(publicFile).hasContent("somebody's");
        assertThat(secretFile).doesNotExist();
    }
}
