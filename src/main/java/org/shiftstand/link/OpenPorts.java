package org.shiftstand.link;

import com.fazecast.jSerialComm.SerialPort;

/**
 * Keeps open ports open while the process ends: jSerialComm's own shutdown hook closes every port, and hooks run side by
 * side, so that without this a Ctrl-C could take the port away before the cut is sent, and the unit would stay powered
 * until the rig's watchdog acts.
 *
 * <p>Thread-safe. Waits at most {@value #PATIENCE_MS} ms for the owners to close their ports; a cut and a stop without any
 * answer take 1.2 s.
 */
final class OpenPorts {
    private static final long PATIENCE_MS = 5000;

    private static final OpenPorts ALL = new OpenPorts();

    private int open;
    private boolean hooked;

    private OpenPorts() {}

    static void opened() {
        ALL.more();
    }

    static void closed() {
        ALL.fewer();
    }

    private synchronized void more() {
        open++;
        if (!hooked) {
            hooked = true;
            // the library runs these, and waits for them, before it closes its ports
            SerialPort.addShutdownHook(new Thread(this::awaitNone, "ports-in-use"));
        }
    }

    private synchronized void fewer() {
        open--;
        notifyAll();
    }

    private synchronized void awaitNone() {
        long until = System.nanoTime() + PATIENCE_MS * 1_000_000;
        try {
            while (open > 0) {
                long leftMs = (until - System.nanoTime()) / 1_000_000;
                if (leftMs <= 0) {
                    return;
                }
                wait(leftMs);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
