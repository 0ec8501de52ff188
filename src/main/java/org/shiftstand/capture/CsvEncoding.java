package org.shiftstand.capture;

import java.nio.charset.StandardCharsets;
import org.shiftstand.document.BadInput;

/** Refuses what is no UTF-8 text, by its first bytes; steps over a UTF-8 byte-order mark. */
final class CsvEncoding {
    private CsvEncoding() {}

    static void check(Bytes bytes, CsvProblems problems) {
        byte[] b = bytes.buffer;
        int n = bytes.limit;
        if (n >= 2 && ((b[0] == (byte) 0xff && b[1] == (byte) 0xfe) || (b[0] == (byte) 0xfe && b[1] == (byte) 0xff))) {
            throw utf16(problems);
        }
        if (n >= 3 && b[0] == (byte) 0xef && b[1] == (byte) 0xbb && b[2] == (byte) 0xbf) {
            bytes.position = 3;
        }
        if (n >= 4 && ((b[0] == 0) != (b[1] == 0)) && (b[0] == 0) == (b[2] == 0) && (b[1] == 0) == (b[3] == 0)) {
            throw utf16(problems);
        }
        if (n >= 4 && b[0] == 'P' && b[1] == 'K' && b[2] == 3 && b[3] == 4) {
            throw problems.fatal(1, 1, "this is a zip archive; expected a CSV capture, plain or .gz. Unpack it first.");
        }
        if (n >= 16 && new String(b, 0, 15, StandardCharsets.US_ASCII).equals("SQLite format 3")) {
            throw problems.fatal(1, 1, "this is an SQLite file; expected a CSV capture, plain or .gz.");
        }
    }

    private static BadInput utf16(CsvProblems problems) {
        return problems.fatal(
                1, 1, "the file is encoded in UTF-16; expected UTF-8. Nothing was measured. Save it as UTF-8.");
    }
}
