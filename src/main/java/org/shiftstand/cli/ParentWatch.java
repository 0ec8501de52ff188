package org.shiftstand.cli;

import java.io.IOException;
import java.io.InputStream;

/**
 * Ends this process in order when the one that started it is gone, however it went: its end of our standard input closes. What
 * happens then is what Ctrl-C does; a running check cuts the supply first.
 */
final class ParentWatch {
    /** Set by a parent that keeps standard input open as long as it lives. */
    static final String ASKED = "shiftstand.stop-with-parent";

    private ParentWatch() {}

    static void startWhereAskedFor() {
        if (Boolean.getBoolean(ASKED)) {
            Thread thread = new Thread(() -> watch(System.in), "parent-watch");
            thread.setDaemon(true);
            thread.start();
        }
    }

    private static void watch(InputStream in) {
        byte[] unread = new byte[64];
        try {
            while (in.read(unread) >= 0) {
                // nobody speaks to us there
            }
        } catch (IOException e) {
            // gone all the same
        }
        System.exit(ExitCode.STOPPED); // runs the hooks: the safe stop is one of them
    }
}
