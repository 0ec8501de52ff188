package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;

/** A program that writes bags of one large file, to be killed, or to be held to its memory. */
final class Bagging {
    private Bagging() {}

    /** {@code OCTETS SENT OUT…}: of the file, how many come before the rest is waited for, and the bags, one after another. */
    public static void main(String[] args) {
        long octets = Long.parseLong(args[0]);
        long sent = Long.parseLong(args[1]);
        SortedMap<String, Payload> payload = new TreeMap<>();
        payload.put("record.run", new Noise(octets, sent));
        for (String out : List.of(args).subList(2, args.length)) {
            BagForm form = BagForm.of(Path.of(out));
            BagWriter.write(Path.of(out), form, "TD-0107", "shiftstand 0.1.0", payload, new TreeMap<>(), true);
        }
        System.out.println("written");
    }

    /** Packed quickly, and not so well that an archive would be refused as a bomb. */
    private record Noise(long octets, long sent) implements Payload {
        @Override
        public InputStream open() {
            byte[] noise = new byte[1 << 20];
            new Random(7).nextBytes(noise);
            for (int i = 0; i < noise.length; i++) {
                noise[i] = i % 65_536 < 1024 ? noise[i] : noise[i - 1024];
            }
            return new InputStream() {
                private long at;

                @Override
                public int read() throws IOException {
                    byte[] one = new byte[1];
                    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
                }

                @Override
                public int read(byte[] bytes, int from, int count) throws IOException {
                    if (at >= octets) {
                        return -1;
                    }
                    if (at >= sent) {
                        waitForEver();
                    }
                    int place = (int) (at % noise.length);
                    int n = (int) Math.min(Math.min(count, noise.length - place), Math.min(octets, sent) - at);
                    System.arraycopy(noise, place, bytes, from, n);
                    bytes[from] ^= (byte) (at >> 20); // no two stretches alike
                    at += n;
                    return n;
                }
            };
        }

        private static void waitForEver() {
            try {
                while (true) {
                    TimeUnit.HOURS.sleep(1);
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }

    /** Starts it in a Java machine of its own. */
    static Process start(List<String> javaOptions, String... arguments) throws IOException {
        Path out = Files.createTempFile("bagging", ".out");
        List<String> command = new java.util.ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(javaOptions);
        command.addAll(List.of("-cp", System.getProperty("java.class.path"), Bagging.class.getName()));
        command.addAll(Arrays.asList(arguments));
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(out.toFile())
                .start();
        process.onExit().thenRun(() -> print(out));
        return process;
    }

    /** What it said, for whoever reads why a test failed. */
    private static void print(Path out) {
        try {
            System.out.print(new String(Files.readAllBytes(out), StandardCharsets.UTF_8));
            Files.delete(out);
        } catch (IOException e) {
            System.out.println("what the program said cannot be read: " + e.getMessage());
        }
    }
}
