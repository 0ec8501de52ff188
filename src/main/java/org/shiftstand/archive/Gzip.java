package org.shiftstand.archive;

import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Arrays;
import java.util.zip.CRC32;
import java.util.zip.DataFormatException;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.Inflater;

/**
 * One gzip member (RFC 1952) with a header that has neither name nor time, and nothing after it.
 *
 * <p>The JDK's own reader takes any header, and more members after the first; a changed byte there must be found.
 */
final class Gzip {
    /** Magic, deflate, no flags, no time, no extra flags, system unknown: RFC 1952, 2.3. */
    private static final byte[] HEADER = {0x1f, (byte) 0x8b, 8, 0, 0, 0, 0, 0, 0, (byte) 255};

    private static final int TRAILER = 8;

    private Gzip() {}

    /** What unpacks to more than a bag may. */
    static final class Bomb extends IOException {
        Bomb(String text) {
            super(text);
        }
    }

    /** A file that is no such member, with what is wrong. */
    static final class Broken extends IOException {
        Broken(String text) {
            super(text);
        }
    }

    /** Packs; closing it writes the trailer and closes {@code out}. */
    static OutputStream packing(OutputStream out) throws IOException {
        out.write(HEADER);
        return new DeflaterOutputStream(out, new Deflater(Deflater.DEFAULT_COMPRESSION, true), 1 << 16) {
            private final CRC32 crc = new CRC32();
            private long length;

            @Override
            public void write(byte[] b, int off, int len) throws IOException {
                super.write(b, off, len);
                crc.update(b, off, len);
                length += len;
            }

            @Override
            public void close() throws IOException {
                finish();
                little(crc.getValue());
                little(length);
                def.end();
                out.close();
            }

            private void little(long value) throws IOException {
                for (int shift = 0; shift < 32; shift += 8) {
                    out.write((int) (value >>> shift) & 0xff);
                }
            }
        };
    }

    /** Unpacks; at its end the trailer has been checked, and that nothing follows. */
    static InputStream unpacking(InputStream in, BagLimits limits) throws IOException {
        if (!Arrays.equals(in.readNBytes(HEADER.length), HEADER)) {
            throw new Broken("its first ten bytes are not those of a packed bag");
        }
        return new Unpacking(in, limits);
    }

    private static final class Unpacking extends FilterInputStream {
        private final BagLimits limits;
        private final Inflater inflater = new Inflater(true);
        private final CRC32 crc = new CRC32();
        private final byte[] packed = new byte[1 << 16];
        private final byte[] one = new byte[1];
        private int got;
        private boolean ended;

        Unpacking(InputStream in, BagLimits limits) {
            super(in);
            this.limits = limits;
        }

        @Override
        public int read() throws IOException {
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
        }

        @Override
        public int read(byte[] b, int off, int len) throws IOException {
            if (ended || len == 0) {
                return ended ? -1 : 0;
            }
            try {
                return inflate(b, off, len);
            } catch (DataFormatException e) {
                throw new Broken("its deflated bytes are damaged");
            }
        }

        private int inflate(byte[] b, int off, int len) throws IOException, DataFormatException {
            int n = inflater.inflate(b, off, len);
            while (n == 0 && !inflater.finished()) {
                if (inflater.needsDictionary()) {
                    throw new Broken("its deflated bytes are damaged");
                }
                got = in.read(packed);
                if (got < 0) {
                    throw new EOFException("it ends in the middle");
                }
                inflater.setInput(packed, 0, got);
                n = inflater.inflate(b, off, len);
            }
            crc.update(b, off, n);
            if (inflater.getBytesWritten() > limits.freeOctets()
                    && inflater.getBytesWritten() / limits.ratio() > inflater.getBytesRead()) {
                throw new Bomb("unpacks to more than " + limits.ratio() + " times its size");
            }
            if (n == 0) {
                checkEnd();
                return -1;
            }
            return n;
        }

        private void checkEnd() throws IOException {
            ended = true;
            int left = inflater.getRemaining();
            byte[] tail = Arrays.copyOf(Arrays.copyOfRange(packed, got - left, got), Math.max(TRAILER, left));
            if (left < TRAILER && in.readNBytes(tail, left, TRAILER - left) < TRAILER - left) {
                throw new EOFException("it ends in the middle");
            }
            long length = inflater.getBytesWritten();
            if (little(tail, 0) != crc.getValue() || little(tail, 4) != (length & 0xffffffffL)) {
                throw new Broken("its check sum or length does not hold");
            }
            if (tail.length > TRAILER || in.read() >= 0) {
                throw new Broken("something follows where it should end");
            }
        }

        private static long little(byte[] bytes, int at) {
            long value = 0;
            for (int i = 3; i >= 0; i--) {
                value = value << 8 | bytes[at + i] & 0xff;
            }
            return value;
        }

        @Override
        public long skip(long n) throws IOException {
            return Math.max(0, read(new byte[(int) Math.min(n, 1 << 13)]));
        }

        @Override
        public boolean markSupported() {
            return false;
        }

        @Override
        public void close() throws IOException {
            inflater.end();
            super.close();
        }
    }
}
