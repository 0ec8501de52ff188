package org.shiftstand.archive.sign;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.AlgorithmParameters;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.PrivateKey;
import java.security.SecureRandom;
import java.security.Signature;
import java.security.interfaces.EdECPrivateKey;
import java.security.spec.NamedParameterSpec;
import java.security.spec.PKCS8EncodedKeySpec;
import java.util.EnumSet;
import java.util.Set;
import javax.crypto.Cipher;
import javax.crypto.EncryptedPrivateKeyInfo;
import javax.crypto.SecretKey;
import javax.crypto.SecretKeyFactory;
import javax.crypto.spec.IvParameterSpec;
import javax.crypto.spec.PBEKeySpec;
import javax.crypto.spec.PBEParameterSpec;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.Problem;

/**
 * A private key of Ed25519 (RFC 8032) with its public half.
 *
 * <p>On disk it is PKCS#8 (RFC 5958) under a passphrase, as PEM (RFC 7468): PBES2 with PBKDF2, HMAC-SHA-256, and AES-256-CBC
 * (RFC 8018). Only its owner may read the file.
 */
public final class SigningKey {
    /** What a passphrase guess costs. Common practice for PBKDF2 with HMAC-SHA-256, no published standard. */
    private static final int ITERATIONS = 600_000;

    private static final int FEWEST_ITERATIONS = 1_000; // RFC 8018, 4.2
    private static final int MOST_ITERATIONS = 10_000_000;
    private static final String NOT_OPENED =
            "cannot be opened: the passphrase is wrong, or the file is damaged. Try again; where it is damaged, take a copy of it or make a new key";
    private static final String SCHEME = "PBEWithHmacSHA256AndAES_256";
    private static final Set<PosixFilePermission> OTHERS = EnumSet.of(
            PosixFilePermission.GROUP_READ,
            PosixFilePermission.GROUP_WRITE,
            PosixFilePermission.GROUP_EXECUTE,
            PosixFilePermission.OTHERS_READ,
            PosixFilePermission.OTHERS_WRITE,
            PosixFilePermission.OTHERS_EXECUTE);

    private final PrivateKey secret;
    private final PublicId id;

    private SigningKey(PrivateKey secret, PublicId id) {
        this.secret = secret;
        this.id = id;
    }

    /** A new key. */
    public static SigningKey generate(SecureRandom random) {
        return pair(random);
    }

    private static SigningKey pair(SecureRandom random) {
        try {
            KeyPairGenerator generator = KeyPairGenerator.getInstance("Ed25519");
            generator.initialize(NamedParameterSpec.ED25519, random);
            KeyPair pair = generator.generateKeyPair();
            return new SigningKey(pair.getPrivate(), PublicId.of(pair.getPublic()));
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("every Java from 15 on has Ed25519", e);
        }
    }

    /** Its public half. */
    public PublicId id() {
        return id;
    }

    /** 64 bytes. */
    byte[] sign(byte[] message) {
        try {
            Signature signature = Signature.getInstance("Ed25519");
            signature.initSign(secret);
            signature.update(message);
            return signature.sign();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("a key of our own cannot sign", e);
        }
    }

    /**
     * Writes the private key, for its owner only, and the public key beside it; nothing is overwritten.
     *
     * @throws BadInput where a file is there already or cannot be written
     */
    public void write(Path secretFile, Path publicFile, char[] passphrase, SecureRandom random) {
        String pem = Pem.text(Pem.ENCRYPTED, encrypted(passphrase, random));
        create(secretFile, pem, "rw-------");
        try {
            create(publicFile, Pem.text(Pem.PUBLIC, id.key().getEncoded()), "rw-r--r--");
        } catch (BadInput e) {
            delete(secretFile); // it was made just now, and half a pair is of no use
            throw e;
        }
    }

    private byte[] encrypted(char[] passphrase, SecureRandom random) {
        byte[] salt = new byte[16];
        byte[] start = new byte[16];
        random.nextBytes(salt);
        random.nextBytes(start);
        try {
            Cipher cipher = Cipher.getInstance(SCHEME);
            cipher.init(
                    Cipher.ENCRYPT_MODE,
                    secret(SCHEME, passphrase),
                    new PBEParameterSpec(salt, ITERATIONS, new IvParameterSpec(start)));
            byte[] sealed = cipher.doFinal(this.secret.getEncoded());
            // the scheme's own name has no object identifier in JDK 17; PBES2, which it is one case of, has
            AlgorithmParameters parameters = AlgorithmParameters.getInstance("PBES2");
            parameters.init(cipher.getParameters().getEncoded());
            return new EncryptedPrivateKeyInfo(parameters, sealed).getEncoded();
        } catch (GeneralSecurityException | IOException e) {
            throw new IllegalStateException("every Java has " + SCHEME, e);
        }
    }

    private static SecretKey secret(String scheme, char[] passphrase) throws GeneralSecurityException {
        PBEKeySpec spec = new PBEKeySpec(passphrase);
        try {
            return SecretKeyFactory.getInstance(scheme).generateSecret(spec);
        } finally {
            spec.clearPassword();
        }
    }

    private static void create(Path file, String text, String mode) {
        try {
            Path parent = file.toAbsolutePath().getParent();
            if (parent != null) {
                Files.createDirectories(parent);
            }
            Files.createFile(file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(mode)));
        } catch (FileAlreadyExistsException e) {
            throw bad(file, "exists already, and no key is ever overwritten; choose another name");
        } catch (IOException e) {
            throw bad(
                    file,
                    "cannot be written (" + FileTrouble.words(e) + "); choose a folder you may write to with --out");
        }
        try {
            Files.writeString(file, text, StandardCharsets.US_ASCII);
        } catch (IOException e) {
            delete(file);
            throw bad(
                    file,
                    "cannot be written (" + FileTrouble.words(e) + "); choose a folder you may write to with --out");
        }
    }

    private static void delete(Path file) {
        try {
            Files.deleteIfExists(file);
        } catch (IOException e) {
            throw bad(file, "is half a key, and cannot be deleted (" + FileTrouble.words(e) + "); delete it by hand");
        }
    }

    /**
     * Refuses a file with a secret that others than its owner may read.
     *
     * @throws BadInput with the command that puts it right
     */
    public static void refuseReadableByOthers(Path file) {
        try {
            Set<PosixFilePermission> others = EnumSet.copyOf(OTHERS);
            others.retainAll(Files.getPosixFilePermissions(file));
            if (!others.isEmpty()) {
                throw bad(
                        file,
                        "may be read or written by others (mode "
                                + PosixFilePermissions.toString(Files.getPosixFilePermissions(file))
                                + "), so it is no secret any more; if nobody did, 'chmod 600' it, else make a new one");
            }
        } catch (UnsupportedOperationException e) {
            // a file system without modes: nothing can be checked there
        } catch (IOException e) {
            throw bad(
                    file,
                    Files.exists(file)
                            ? "cannot be read (" + FileTrouble.words(e) + "); check its rights"
                            : "no such file; check its name and folder");
        }
    }

    /**
     * Reads a private key and proves it by a signature. Where its public key lies beside it ({@code NAME.pub.pem} beside
     * {@code NAME.key.pem}), the two must fit: the encryption of such files does not tell a changed byte by itself.
     *
     * @throws BadInput where others may read it, it is not encrypted, the passphrase is wrong, or it is no Ed25519 key
     */
    public static SigningKey read(Path file, char[] passphrase) {
        refuseReadableByOthers(file);
        Pem pem = Pem.read(file);
        if (pem.label().equals(Pem.PLAIN)) {
            throw bad(
                    file,
                    "is a private key without a passphrase; expected one under a passphrase."
                            + " 'openssl pkcs8 -topk8 -v2 aes-256-cbc -v2prf hmacWithSHA256 -iter 600000 -in … -out …' adds it");
        }
        if (!pem.label().equals(Pem.ENCRYPTED)) {
            throw bad(file, "is a '" + pem.label() + "'; expected an '" + Pem.ENCRYPTED + "', as 'key new' makes it");
        }
        SigningKey key = of(file, decrypted(file, pem.der(), passphrase));
        Path beside = file.resolveSibling(
                String.valueOf(file.getFileName()).replaceFirst("(\\.key)?\\.pem$", "") + ".pub.pem");
        if (Files.exists(beside) && !PublicId.read(beside).equals(key.id())) {
            throw bad(
                    file,
                    "does not belong to the public key beside it, " + beside
                            + ": one of the two was changed or damaged. Put the two that were made together beside each other, or make a new key");
        }
        return key;
    }

    private static byte[] decrypted(Path file, byte[] der, char[] passphrase) {
        try {
            EncryptedPrivateKeyInfo sealed = new EncryptedPrivateKeyInfo(der);
            AlgorithmParameters parameters = sealed.getAlgParameters();
            PBEParameterSpec spec = parameters.getParameterSpec(PBEParameterSpec.class);
            if (spec.getIterationCount() < FEWEST_ITERATIONS || spec.getIterationCount() > MOST_ITERATIONS) {
                throw bad(
                        file,
                        "asks for " + spec.getIterationCount() + " iterations of its passphrase; expected "
                                + FEWEST_ITERATIONS + " to " + MOST_ITERATIONS);
            }
            // the parameters of PBES2 name the scheme that they are of
            String scheme = parameters.toString();
            Cipher cipher = Cipher.getInstance(scheme);
            cipher.init(Cipher.DECRYPT_MODE, secret(scheme, passphrase), parameters);
            return cipher.doFinal(sealed.getEncryptedData());
        } catch (GeneralSecurityException | IOException | RuntimeException e) {
            if (e instanceof BadInput known) {
                throw known;
            }
            throw bad(file, NOT_OPENED);
        }
    }

    /** The public half is in no PKCS#8 file of the first version: the seed makes the pair again. */
    private static SigningKey of(Path file, byte[] pkcs8) {
        try {
            PrivateKey read = KeyFactory.getInstance("Ed25519").generatePrivate(new PKCS8EncodedKeySpec(pkcs8));
            byte[] seed = ((EdECPrivateKey) read).getBytes().orElseThrow();
            SigningKey key = pair(new Seeded(seed));
            if (java.util.Arrays.equals(key.secret.getEncoded(), read.getEncoded()) && key.proved()) {
                return key;
            }
            throw bad(
                    file,
                    "is a key whose two halves do not fit each other, so it was damaged; take a copy of it or make a new key");
        } catch (GeneralSecurityException | ClassCastException e) {
            throw bad(file, isKey(pkcs8) ? "is no Ed25519 key; expected one as 'key new' makes it" : NOT_OPENED);
        } finally {
            java.util.Arrays.fill(pkcs8, (byte) 0);
        }
    }

    /**
     * Whether it begins as PKCS#8 does (RFC 5958, 2), a sequence of the length it has, with a version in front: one wrong
     * passphrase in 256 gives bytes that end as if they were decrypted, and no key.
     */
    private static boolean isKey(byte[] der) {
        ByteBuffer in = ByteBuffer.wrap(der);
        if (der.length < 8 || in.get() != 0x30) {
            return false;
        }
        int length = in.get() & 0xff;
        if (length > 0x80 && length <= 0x82) {
            length = length == 0x81 ? in.get() & 0xff : in.getShort() & 0xffff;
        }
        return length == in.remaining() && in.get() == 0x02 && in.get() == 0x01;
    }

    private boolean proved() throws GeneralSecurityException {
        byte[] message = "shiftstand".getBytes(StandardCharsets.US_ASCII);
        Signature verifier = Signature.getInstance("Ed25519");
        verifier.initVerify(id.key());
        verifier.update(message);
        return verifier.verify(sign(message));
    }

    /** Gives a seed where a key pair asks for randomness. */
    private static final class Seeded extends SecureRandom {
        private final transient byte[] seed;

        Seeded(byte[] seed) {
            this.seed = seed;
        }

        @Override
        public void nextBytes(byte[] bytes) {
            System.arraycopy(seed, 0, bytes, 0, bytes.length);
        }
    }

    private static BadInput bad(Path file, String what) {
        return new BadInput(new Problem(file.toString(), 0, 0, what));
    }
}
